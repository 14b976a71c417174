//! Any bytes as a quantity of every kind.
#![no_main]

#[path = "../checks.rs"]
#[allow(dead_code)]
mod checks;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| checks::quantity(bytes));
