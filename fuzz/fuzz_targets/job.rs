//! The reader of job files.

#![no_main]

use std::sync::Arc;

use kerfmark::job::parse;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    match parse(text) {
        Ok(job) => {
            assert!(!job.hulls.is_empty() && !job.slots.is_empty());
            let is_of_the_job = |hull| job.hulls.iter().any(|it| Arc::ptr_eq(it, hull));
            assert!(is_of_the_job(&job.cut.hull));
            for slot in &job.slots {
                assert!(job.pipes.iter().any(|pipe| Arc::ptr_eq(pipe, &slot.pipe)));
                assert!(is_of_the_job(&slot.hull));
                assert!(slot.tally.is_relative() && slot.tally.file_name().is_some());
            }
        }
        Err(problems) => {
            assert!(!problems.is_empty(), "refused without a reason");
            let mut before = (0, 0);
            for problem in &problems {
                let place = (problem.line, problem.column);
                assert!(place >= before, "in the order of the file");
                before = place;
                assert!(problem.line <= text.matches('\n').count() + 1);
            }
            // The last one is as long as any.
            assert!(
                problems
                    .iter()
                    .take(50)
                    .all(|it| !it.to_string().is_empty())
            );
        }
    }
});
