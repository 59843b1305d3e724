//! Versions that must agree with each other.

use std::path::Path;

fn read(file: &str) -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    std::fs::read_to_string(root.join(file)).unwrap()
}

/// The version that Cargo.lock has for a package.
fn locked(lock: &str, package: &str) -> String {
    let head = format!("name = \"{package}\"\nversion = \"");
    let start = lock.find(&head).unwrap_or_else(|| panic!("{package} is not in Cargo.lock")) + head.len();
    lock[start..].split('"').next().unwrap().to_owned()
}

// wasm-bindgen's own rule: the crate and the tool that reads its sections must be of one version.
#[test]
fn the_binder_is_of_the_version_of_what_it_binds() {
    let lock = read("Cargo.lock");
    let version = locked(&lock, "wasm-bindgen");
    assert_eq!(locked(&lock, "wasm-bindgen-cli-support"), version);
    for manifest in ["Cargo.toml", "xtask/Cargo.toml"] {
        assert!(read(manifest).contains(&format!("\"={version}\"")), "{manifest} does not pin {version}");
    }
}
