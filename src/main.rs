//! The `boreband` command: calls the library's command line and exits with its code.

fn main() -> std::process::ExitCode {
    boreband::cli::main()
}
