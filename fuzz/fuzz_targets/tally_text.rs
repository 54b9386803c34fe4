//! The reader of tallies, on text: the seeds are lists in many layouts.

#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| kerfmark_fuzz::read_all(bytes));
