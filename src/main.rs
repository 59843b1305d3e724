//! Mounts the app. On any other target than a browser this binary only says how to get one.

#[cfg(target_arch = "wasm32")]
fn main() {
    trammel::app::mount();
}

#[cfg(not(target_arch = "wasm32"))]
fn main() {
    std::process::exit(trammel_needs_a_browser());
}

#[cfg(not(target_arch = "wasm32"))]
fn trammel_needs_a_browser() -> i32 {
    use std::io::Write as _;
    let _ =
        writeln!(std::io::stderr(), "Trammel is a web app. Run `cargo xtask serve` and open the address it prints.");
    2
}
