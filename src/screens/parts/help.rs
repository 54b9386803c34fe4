//! Help: what the screen in front shows, the terms that it uses, and the keys that work here.

use super::pen::StyledLine;
use crate::screens::commands::commands;
use crate::screens::overlay::Overlay;
use crate::screens::screen::Screen;
use crate::screens::state::State;
use crate::screens::theme::Role;

const OVERVIEW: &str = "A row a slot: how far it has come, its figures, and in its status whether it may be cut. Left and right choose a figure, Enter opens how it came about; on the slot's \
    name or its joints Enter goes to the tally. Below stand the flags, the worst first; Enter \
    on one leads to its place. Elevations are heights above the sea datum.";
const TALLY: &str = "The joints of one string beside a drawing of it, the top up or the shoe (o). Enter opens the joint's lower make-up \
    plane. Marks say where the shoulder, the cut, keep-outs and accessories lie. Lines not read as \
    joints stand at the end, each with the reason.";
const RECONCILE: &str = "All lists of one string side by side, the tally of record first. Of each joint on which they do not all agree there is a row for \
    its length, and one for its loss, its presence, the joint that it stands on or its number where lists differ. Digits that differ from \
    what stands are marked; an effective length stands in brackets. What most lists say stands until someone decides; what is open stands \
    as the tally of record has it. Left and right choose a list, and what taking it would move is said. Each decision is shown once more before \
    Enter writes it, as an entry of the journal. w writes the tally of record that follows, T adopts it. No source file is ever changed.";

const PROFILE: &str = "All conductors to scale, upright: the sea datum, the mudline, the deck and the rotary table \
    at each hull position run across. Up and down move the cursor, which reads elevation; f and F go from one thing to the next. \
    Enter shows the cut from near: its kerf above the line, and beside it how far off the line may be that the nearest mark finds (U). \
    While something stops the slot no distance is read.";
const CUT: &str = "The sheet by which the cutter works. Whether it may be cut stands first, and what is flagged; then the \
    target, each with its second way. The marks are \
    grouped by the readings that they rest on, each with how well it finds the cut (U); marks of one group do not check each other. \
    Numbers go from the nearest on, in the drawing beside it too. Enter \
    on a line opens how it came about.";
const FLOOR: &str = "Large figures for the rotary: the next joint, its serial, its overall length, and what is still to lower or the stick-up to see. \
    How many joints are run comes from the journal; where nothing is entered it is not known, and up and down, or + and -, count by hand. \
    Enter opens the stick-up.";

const LEVELS: &str = "All readings of heights together: RT, stick-ups, tallies, benches, finished tops, readings.csv and what was entered. \
    Of each stands what was read and what all the other readings say of it, with how well they do (U). What disagrees by more than chance \
    allows stands first: read it again. What nothing checks could be wrong unseen. Left and right go from the readings to the points; each line \
    between two points is a reading, broken where nothing checks it. Nothing is left out by itself: all figures are of all readings.";

const DECK: &str = "How the rigid deck sits on its tops, as cut or as they shall be: a plan to scale with the tops that bear, the centre of gravity (+) and an \
    arrow that points to the low side. The gap over a top that does not bear is the shim that it needs; its bar is to scale, the limit a mark \
    in it. Trims are the least that bring all tops within the limit: a conductor can only get shorter. Where the deck rocks, left and right \
    show one rest and the other.";

const RECORD: &str = "Every entry of the journal, the last at the foot; below it all that the entry says. Nothing is ever \
    taken out: an entry that was wrong is struck (x) with a reason, and stays. Entries name each other by their \
    hashes, so that a changed line is seen.";

const VERDICTS: &[(&str, &str)] = &[
    (
        "within",
        "proven: the deviation and its U together stay inside the tolerance",
    ),
    (
        "unproven",
        "neither proven: nearer to the limit than the measurement can tell, or U is not stated",
    ),
    (
        "outside",
        "proven: beyond the tolerance by more than U, or beyond it with U not stated",
    ),
    (
        "stop",
        "going on would do harm, or a final figure is not acceptable",
    ),
    ("check", "someone must look"),
    ("note", "good to know"),
    (
        "planned",
        "the string is not run and landed yet: not for cutting",
    ),
    (
        "clear",
        "nothing speaks against marking the cut; that is no permission to cut",
    ),
    ("rule", "U = 2 u (k = 2); ISO 14253-1:2017, JCGM 106:2012"),
];

const STRING: &[(&str, &str)] = &[
    (
        "basis",
        "what fixes the elevations: a stick-up that was read, a plan, or none",
    ),
    ("overall", "length from pin nose to box face"),
    ("make-up loss", "length of the pin that goes into the box"),
    (
        "effective",
        "overall less make-up loss: what the joint adds to the string",
    ),
    (
        "running",
        "sum of effective lengths from the shoe up to the top of this joint",
    ),
    ("make-up plane", "where two joints meet when made up"),
    ("RT", "top of the rotary table, at one hull position"),
    (
        "spider",
        "the surface from which stick-ups are measured, its height above RT given in the job",
    ),
    (
        "stick-up",
        "height of the top of the string above the spider",
    ),
    ("shoulder", "the landing shoulder on the running joint"),
    ("shoe", "the lower end of the string"),
    ("keep-out", "elevations in which no connection may lie"),
];

const CUTTING: &[(&str, &str)] = &[
    ("finished top", "the lower edge of the kerf: what stays"),
    ("kerf", "width of material that the cut removes"),
    (
        "off-cut",
        "the piece above the cut: what the crane must lift",
    ),
    ("U", "expanded uncertainty, twice the standard one"),
    (
        "clearance",
        "distance of the cut from a connection or the shoulder",
    ),
    (
        "spread",
        "highest less lowest of the cuts' deviations from their targets",
    ),
];

fn terms(lines: &mut Vec<StyledLine>, terms: &[(&str, &str)]) {
    for (term, meaning) in terms {
        lines.push(StyledLine::of(format!("  {term:<14}"), Role::Title).and(*meaning, Role::Plain));
    }
}

/// Every line of the help for the screen in front.
pub fn lines(state: &State) -> Vec<StyledLine> {
    let text = match state.screen {
        Screen::Overview => OVERVIEW,
        Screen::Tally => TALLY,
        Screen::Reconcile => RECONCILE,
        Screen::Profile => PROFILE,
        Screen::Cut => CUT,
        Screen::Floor => FLOOR,
        Screen::Levels => LEVELS,
        Screen::Deck => DECK,
        Screen::Record => RECORD,
    };
    let mut lines = vec![StyledLine::of(
        format!("Help: {}", state.screen.name()),
        Role::Title,
    )];
    lines.push(StyledLine::of(text, Role::Plain));
    lines.push(StyledLine::of("Keys", Role::Title));
    // As if help were closed: these are the keys of the screen behind it.
    for command in commands().filter(|command| (command.available)(state, &Overlay::None)) {
        lines.push(
            StyledLine::of(format!("  {:<14}", command.hint), Role::Key)
                .and(command.help, Role::Plain),
        );
    }
    lines.push(StyledLine::of("Terms", Role::Title));
    if state.screen == Screen::Cut {
        terms(&mut lines, CUTTING);
        terms(&mut lines, STRING);
    } else {
        terms(&mut lines, STRING);
        terms(&mut lines, CUTTING);
    }
    lines.push(StyledLine::of("Words for states and flags", Role::Title));
    terms(&mut lines, VERDICTS);
    let width = usize::from(state.size.0).saturating_sub(2);
    let indent = |line: &StyledLine| if line.0.len() > 1 { 16 } else { 0 };
    lines
        .into_iter()
        .flat_map(|line| {
            let indent = indent(&line);
            line.wrapped(width, indent)
        })
        .collect()
}
