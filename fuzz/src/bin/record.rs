//! The fuzzer's program of one target.

#![no_main]

libfuzzer_sys::fuzz_target!(
    |bytes: &[u8]| trammel_fuzz::targets::RECORD.feed(bytes, &mut trammel_fuzz::targets::Told::not())
);
