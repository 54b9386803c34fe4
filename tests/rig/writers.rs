//! Many who enter at once.

use std::collections::BTreeSet;
use std::thread;

use kerfmark::journal::Journal;

use super::place::{Place, kerfmark, text};

#[test]
fn twenty_writers_at_once_lose_nothing_and_enter_nothing_twice() {
    const WRITERS: usize = 20;
    const EACH: usize = 50;
    let place = Place::new();
    let path = place.root().to_string_lossy().into_owned();
    let confirmed: Vec<String> = thread::scope(|scope| {
        let writers: Vec<_> = (0..WRITERS)
            .map(|writer| {
                let path = &path;
                scope.spawn(move || {
                    let events: Vec<String> = (0..EACH)
                        .map(|number| {
                            format!("{{\"event\":\"note\",\"text\":\"{writer} {number}\"}}")
                        })
                        .collect();
                    let events = events.join("\n");
                    let output = kerfmark(&["enter", path, "--by", "NK"], &events);
                    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
                    text(&output.stdout)
                })
            })
            .collect();
        let outputs = writers.into_iter().map(|it| it.join().expect("a writer"));
        outputs
            .flat_map(|it| it.lines().map(str::to_owned).collect::<Vec<_>>())
            .collect()
    });
    let journal = Journal::read(place.read("journal.jsonl").as_bytes());
    assert!(journal.broken.is_none() && journal.torn.is_none());
    assert_eq!(journal.entries.len(), WRITERS * EACH);
    let texts: BTreeSet<&str> = journal.entries.iter().map(|it| it.own.as_str()).collect();
    assert_eq!(texts.len(), WRITERS * EACH);
    let confirmed: BTreeSet<String> = confirmed.into_iter().collect();
    assert_eq!(confirmed.len(), WRITERS * EACH);
}
