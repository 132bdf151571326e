//! The `boreband` command: calls the library's command line and exits with its code.

/// A check makes many small things that live for one drawing: a sixth of its time went into the system's allocator.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> std::process::ExitCode {
    boreband::cli::main()
}
