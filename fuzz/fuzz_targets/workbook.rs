//! The reader of tallies, on workbooks: the seeds are some of every kind.

#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| kerfmark_fuzz::read_all(bytes));
