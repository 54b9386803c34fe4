//! Which commands are named by what is typed.

use crate::screens::commands::{KeyCommand, commands};
use crate::screens::overlay::Palette;
use crate::screens::state::State;

/// How well a command is named by what is typed, the best first; `None` where it is not.
fn rank(command: &KeyCommand, typed: &str) -> Option<usize> {
    let name = command.name();
    let help = command.help.to_lowercase();
    let words: Vec<&str> = typed.split_whitespace().collect();
    let begin_words = || {
        let mut of_name = name.split(' ');
        words
            .iter()
            .all(|word| of_name.any(|own| own.starts_with(word)))
    };
    let in_order = || {
        let mut letters = name.chars();
        let mut typed = typed.chars().filter(|letter| *letter != ' ');
        typed.all(|letter| letters.any(|own| own == letter))
    };
    [
        name.starts_with(typed),
        begin_words(),
        name.contains(typed),
        words.iter().all(|word| help.contains(word)),
        in_order(),
    ]
    .into_iter()
    .position(|is_named| is_named)
}

/// The commands that work under it and are named by what is typed, the best first.
pub fn named(state: &State, palette: &Palette) -> Vec<&'static KeyCommand> {
    let typed = palette.text.trim().to_lowercase();
    let works = |command: &&KeyCommand| {
        command.id != "palette" && (command.available)(state, &palette.under)
    };
    let mut named: Vec<(usize, &KeyCommand)> = commands()
        .filter(works)
        .filter_map(|command| Some((rank(command, &typed)?, command)))
        .collect();
    named.sort_by_key(|(rank, _)| *rank);
    named.into_iter().map(|(_, command)| command).collect()
}
