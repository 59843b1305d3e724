//! What takes bytes from outside, for the fuzzer's programs; and, built for the browser, a module that a script feeds.

pub mod targets;

/// The module: bytes are pushed one by one, then fed to a target by its place; what came of it is the first half of its SHA-256.
#[cfg(target_arch = "wasm32")]
mod module {
    use std::sync::Mutex;

    use trammel::record::Digest;

    use crate::targets::{TARGETS, Told};

    static BYTES: Mutex<Vec<u8>> = Mutex::new(Vec::new());

    /// One byte more.
    #[unsafe(no_mangle)]
    extern "C" fn push(byte: u32) {
        if let (Ok(mut bytes), Ok(byte)) = (BYTES.lock(), u8::try_from(byte)) {
            bytes.push(byte);
        }
    }

    /// Feeds what was pushed, and forgets it. A panic stops the module, which the script sees.
    #[unsafe(no_mangle)]
    extern "C" fn feed(target: u32) -> u64 {
        let bytes = BYTES.lock().map(|mut bytes| std::mem::take(&mut *bytes)).unwrap_or_default();
        let mut told = Told::all();
        TARGETS[target as usize].feed(&bytes, &mut told);
        let digest = Digest::of(told.text().as_bytes());
        digest.bytes().iter().take(8).fold(0, |number, byte| number << 8 | u64::from(*byte))
    }
}
