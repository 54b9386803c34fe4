//! The reader of job files.

#![no_main]

use kerfmark::job::parse;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    match parse(text) {
        Ok(job) => {
            assert!(!job.hulls.is_empty() && !job.slots.is_empty());
            assert!(job.cut.hull < job.hulls.len());
            for slot in &job.slots {
                assert!(slot.pipe < job.pipes.len() && slot.hull < job.hulls.len());
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
