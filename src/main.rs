//! The `boreband` command: calls the library's command line and exits with its code.

/// A check takes and gives back many small pieces of memory for each drawing, which cost a sixth of its time with the
/// allocator of the system, and large ones, which that gives back to the system each time.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> std::process::ExitCode {
    boreband::cli::main()
}
