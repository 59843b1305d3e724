//! The fuzzer's program of one target.

#![no_main]

libfuzzer_sys::fuzz_target!(
    |bytes: &[u8]| trammel_fuzz::targets::CSV.feed(bytes, &mut trammel_fuzz::targets::Told::not())
);
