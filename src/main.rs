//! Arguments in, exit status out.

fn main() -> std::process::ExitCode {
    hecatomb::commands::main(std::env::args_os())
}
