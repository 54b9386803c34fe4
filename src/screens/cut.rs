//! Cut: the sheet by which the cutter works. Whether it is cut already is said first.

use super::overview::flag_lines;
use super::pen::{Item, Line, Pen, list};
use super::state::State;
use super::theme::Role;
use super::update::show_how;
use crate::figures::{CutPlace, Mark, SlotFigures, Verdict, how::Subject, steel};
use crate::finding::{Flag, Severity};
use crate::measure::Length;
use crate::report::{CAUTION, NO_CORRECTION, SCRIBE, words};
use crate::tally::Tally;

/// The caution in one line, always in sight; the whole of it stands at the end of the sheet.
const SHORT_CAUTION: &str =
    "CAUTION: computed, not authorised. Verify independently; no cut can be undone.";

type Sheet = Vec<Item<Option<Subject>>>;

/// How many lines can be gone through.
pub(super) fn count(state: &State) -> usize {
    items(state).len()
}

pub(super) fn open(state: &mut State) {
    let at = state.place().cut;
    let subject = items(state).get(at).and_then(|item| item.opens);
    show_how(state, subject);
}

pub(super) fn draw(state: &State, pen: &mut Pen<'_>) {
    let mut items = items(state);
    let (width, height) = (pen.area.width, pen.area.height);
    // Whose sheet it is, and whether it may be cut, stay in sight however far one scrolls.
    let at = state.place().cut;
    if let Some(head) = items.first_mut() {
        for line in std::mem::take(&mut head.lines) {
            pen.line(1, 0, &line);
        }
        if at == 0 {
            pen.select(0, 0, width);
        }
    }
    list(
        &mut pen.part(0, 1, width, height.saturating_sub(2)),
        &items,
        Some(at),
    );
    pen.text(1, height.saturating_sub(1), SHORT_CAUTION, Role::Title);
}

struct Writer<'a> {
    state: &'a State,
    tally: &'a Tally,
    figures: &'a SlotFigures,
    width: usize,
    items: Sheet,
}

impl Writer<'_> {
    /// `label: value`, broken under the value where it is long.
    fn add(&mut self, label: &str, value: Line, opens: Option<Subject>) {
        let mut line = Line::of(format!("{label:<16}"), Role::Label);
        line.0.extend(value.0);
        let lines = line.wrapped(self.width, 16);
        self.items.push(Item { lines, opens });
    }

    fn text(&mut self, text: &str, role: Role) {
        let lines = Line::of(text, role).wrapped(self.width, 0);
        self.items.push(Item { lines, opens: None });
    }

    /// In the unit in use and in the other system.
    fn both(&self, length: Length) -> Line {
        let [own, other] = words::both(self.state.show, length);
        Line::of(format!("{own:>9}"), Role::Figure).and(format!(" = {other}"), Role::Plain)
    }

    fn number(&self, piece: usize) -> &str {
        self.figures.number(self.tally, piece)
    }

    /// A flag of the slot or of the job.
    fn flag(&mut self, slot: Option<usize>, flag: &Flag) {
        let lines = flag_lines(self.state, slot, flag, self.width + 2);
        self.items.push(Item { lines, opens: None });
    }
}

fn items(state: &State) -> Sheet {
    let Some((slot, tally, figures)) = state.current() else {
        return Vec::new();
    };
    let job = &state.inputs.job;
    let mut sheet = Writer {
        state,
        tally,
        figures,
        width: usize::from(state.size.0).saturating_sub(2),
        items: Vec::new(),
    };
    let role = if words::may_be_cut(figures) {
        Role::Title
    } else {
        Role::Stop
    };
    let words = words::cut_state(figures);
    sheet.items.push(Item {
        lines: vec![
            Line::of(format!("Slot {}  ", slot.name), Role::Title).and(format!(" {words} "), role),
        ],
        opens: figures.cut.as_cut.is_some().then_some(Subject::AsCut),
    });
    // What stops the job comes before anything that could be set out with a tape.
    let stops = |flag: &&Flag| flag.severity == Severity::Stop;
    for flag in words::stops(figures) {
        sheet.flag(Some(state.slot), flag);
    }
    for flag in state.figures.flags.iter().filter(stops) {
        sheet.flag(None, flag);
    }
    as_cut(&mut sheet);
    let cut = &figures.cut;
    let target = sheet
        .both(cut.target.height())
        .and(format!("  above {}", job.sea_datum), Role::Label);
    sheet.add("Cut target", target, Some(Subject::CutTarget));
    for allowance in job.allowances.iter().filter(|it| it.slots.has(state.slot)) {
        let line = Line::of(state.show.small_signed(allowance.value), Role::Plain)
            .and(format!("  {}", allowance.why), Role::Label);
        sheet.add("  + allowance", line, Some(Subject::CutTarget));
    }
    let hull = &job.cut.hull.name;
    let below = sheet
        .both(cut.below_rotary.downward())
        .and(format!("  at hull position {hull}"), Role::Label);
    sheet.add("Below RT", below, Some(Subject::CutBelowRotary));
    if let Some(place) = &cut.place {
        placed(&mut sheet, place);
    } else {
        let line = Line::of("NO CUT TO MARK: ", Role::Outside)
            .and(words::no_place(figures, state.show), Role::Plain);
        sheet.add("Marks", line, None);
    }
    limits(&mut sheet);
    chain(&mut sheet);
    for flag in figures.flags.iter().filter(|flag| !stops(flag)) {
        sheet.flag(Some(state.slot), flag);
    }
    if let Some(zero) = words::counted_as_zero(job) {
        sheet.text(&zero, Role::Plain);
    }
    sheet.text(SCRIBE, Role::Plain);
    sheet.text(NO_CORRECTION, Role::Plain);
    sheet.text(CAUTION, Role::Plain);
    sheet.items
}

/// What was cut, and what that proves of its height; how level it is, is compared plainly.
fn as_cut(sheet: &mut Writer<'_>) {
    let show = sheet.state.show;
    let limits = &sheet.state.inputs.job.cut;
    if let Some(line) = words::unjudged(sheet.figures) {
        sheet.add("As cut", Line::of(line, Role::Stop), None);
        return;
    }
    let Some(cut) = &sheet.figures.cut.as_cut else {
        return;
    };
    let line = Line::of(
        cut.verdict.map_or("no tolerance given", Verdict::word),
        cut.verdict.map_or(Role::Plain, Role::of_verdict),
    )
    .and(
        format!("  {}", words::height_verdict(cut, limits.tolerance, show)),
        Role::Plain,
    );
    sheet.add("Height of top", line, Some(Subject::AsCut));
    let too_much = cut.out_of_level > limits.level && limits.level.is_some();
    let role = if too_much { Role::Outside } else { Role::Plain };
    let line = sheet
        .both(cut.mean.rounded())
        .and(
            format!("  mean of {}; ", words::counted(cut.readings, "reading")),
            Role::Plain,
        )
        .and(words::level_words(cut, limits.level, show), role);
    sheet.add("Finished top", line, Some(Subject::AsCut));
}

/// What the cut is held to, and the kerf that the blade needs above the line.
fn limits(sheet: &mut Writer<'_>) {
    let show = sheet.state.show;
    let limits = &sheet.state.inputs.job.cut;
    let or_none = |limit: Option<Length>| {
        limit.map_or_else(|| "none given".to_owned(), |limit| show.small(limit))
    };
    let line = format!(
        "tolerance either way {}, out of level {}; kerf {}",
        or_none(limits.tolerance),
        or_none(limits.level),
        show.small(limits.kerf)
    );
    sheet.add("Held to", Line::of(line, Role::Plain), None);
}

/// The marks, nearest first, and the readings that they rest on.
fn marks(sheet: &mut Writer<'_>, place: &CutPlace) {
    let marks = place.nearest_first();
    let readings = readings(&marks);
    let letters = |mark: &Mark| {
        let rests = mark.rests_on.iter();
        let places = rests.filter_map(|rest| readings.iter().position(|reading| *reading == rest));
        places.map(letter).collect::<Vec<_>>().join(" ")
    };
    if sheet.figures.cut.is_cut() {
        let heading = words::marks_heading(sheet.figures);
        sheet.text(&format!("{heading}:"), Role::Label);
    }
    let job = &sheet.state.inputs.job;
    for (position, (index, mark)) in marks.iter().enumerate() {
        let label = if position == 0 {
            "Mark, nearest"
        } else {
            "  or mark"
        };
        let way = words::direction(job, sheet.tally, sheet.figures, mark);
        let line = sheet
            .both(mark.distance.abs())
            .and(format!("  {way}  "), Role::Plain)
            .and(
                format!(
                    "U {}  on {}",
                    words::stated(sheet.state.show, mark.variance),
                    letters(mark)
                ),
                Role::Plain,
            );
        sheet.add(label, line, Some(Subject::Mark(*index)));
    }
    let mut rests = Line::default();
    for (place, reading) in readings.iter().enumerate() {
        rests = rests.and(format!("{} {reading}   ", letter(place)), Role::Label);
    }
    sheet.add("  resting on", rests, None);
    if let Some(shared) = words::not_independent(place) {
        sheet.text(&shared, Role::Check);
    }
}

fn placed(sheet: &mut Writer<'_>, place: &CutPlace) {
    let job = &sheet.state.inputs.job;
    let show = sheet.state.show;
    marks(sheet, place);
    let piece = sheet.figures.string.pieces.get(place.piece);
    let serial = piece
        .and_then(|piece| sheet.tally.joints.get(piece.joint)?.serial.as_deref())
        .map_or_else(String::new, |serial| format!(", serial {serial}"));
    let line = Line::of(
        format!("{}{serial}", sheet.number(place.piece)),
        Role::Figure,
    )
    .and(
        format!(
            "  {} above the {}",
            show.text(place.above_lower_plane),
            sheet.figures.counted_from(sheet.tally, place.piece)
        ),
        Role::Plain,
    );
    sheet.add("In joint", line, Some(Subject::CutPlace));
    let distance =
        |length: Option<Length>| length.map_or_else(|| "none".to_owned(), |it| show.text(it));
    let asked = job.cut.clearance;
    let role = match asked {
        None => Role::Plain,
        Some(asked) if place.is_clear(asked) => Role::Within,
        Some(_) => Role::Outside,
    };
    let line = Line::of(words::clearance_word(place, asked), role).and(
        format!(
            "  connection {}, shoulder {}, least {}",
            distance(place.to_connection),
            distance(place.to_shoulder),
            distance(asked)
        ),
        Role::Plain,
    );
    sheet.add("Clearance", line, Some(Subject::CutPlace));
    let slot = job.slots.get(sheet.state.slot);
    let pipe = slot.map(|slot| &*slot.pipe);
    let line = sheet.both(place.offcut_length).and(
        format!(
            "  {}: {}",
            words::lift_word(sheet.figures),
            words::offcut_mass(place, pipe)
        ),
        Role::Plain,
    );
    sheet.add("Off-cut", line, Some(Subject::Offcut));
    let is_cut = sheet.figures.cut.is_cut();
    if let Some(rough) = sheet.figures.cut.rough.filter(|_| !is_cut) {
        let line = sheet
            .both(rough.height())
            .and(format!("  above {}", job.sea_datum), Role::Label);
        sheet.add("Rough cut first", line, None);
    }
    if let Some(pipe) = pipe.filter(|_| !is_cut) {
        let text = format!(
            "about {:.0} minutes for a cold cut: a first estimate from common practice",
            steel::cutting_minutes(pipe)
        );
        sheet.add("Cutting takes", Line::of(text, Role::Plain), None);
    }
}

/// The chain that the marks hang on, so that each of its figures can be opened here too.
fn chain(sheet: &mut Writer<'_>) {
    let figures = sheet.figures;
    let word = figures.basis.word();
    let line = sheet.both(figures.string.length);
    sheet.add("String length", line, Some(Subject::StringLength));
    let heights = [
        ("Top", figures.top, Subject::Top),
        (
            "Shoulder",
            figures.shoulder.and_then(|it| it.elevation),
            Subject::Shoulder,
        ),
        ("Shoe", figures.shoe, Subject::Shoe),
    ];
    for (label, elevation, subject) in heights {
        if let Some(elevation) = elevation {
            let line = sheet
                .both(elevation.height())
                .and(format!("  {word}"), Role::Label);
            sheet.add(label, line, Some(subject));
        }
    }
    if let Some(stick_up) = figures.stick_up {
        let words = super::floor::surface_words(sheet.state, stick_up);
        let landing = figures.string.landing_length;
        let on = if landing.is_zero() {
            String::new()
        } else {
            format!(
                ", to the landing string's top, {} above the conductor's",
                sheet.state.show.text(landing)
            )
        };
        let line = sheet
            .both(stick_up.abs())
            .and(format!("  {words}, {word}{on}"), Role::Label);
        sheet.add("Stick-up", line, Some(Subject::StickUp));
    }
    let frame = sheet.state.figures.frame.as_ref();
    if let Some((frame, height)) = frame
        .filter(|frame| frame.slot == sheet.state.slot)
        .and_then(|frame| Some((frame, frame.above_mudline?)))
    {
        let verdict = frame.verdict;
        let line = sheet
            .both(height)
            .and("  above the mudline, ", Role::Label)
            .and(
                verdict.map_or("no window given", Verdict::word),
                verdict.map_or(Role::Plain, Role::of_verdict),
            )
            .and(
                format!(", U {}", words::stated(sheet.state.show, frame.variance)),
                Role::Plain,
            );
        sheet.add("Frame's base", line, Some(Subject::Frame));
    }
    for (index, place) in figures.accessories.iter().enumerate() {
        let Some(accessory) = sheet.state.inputs.job.accessories.get(place.accessory) else {
            continue;
        };
        let line = match place.piece.zip(place.above_lower_plane) {
            Some((piece, height)) => {
                let touches = if place.clear == Some(false) {
                    "  TOUCHES A CONNECTION"
                } else {
                    ""
                };
                sheet
                    .both(height)
                    .and(
                        format!("  above the {}", figures.counted_from(sheet.tally, piece)),
                        Role::Plain,
                    )
                    .and(touches, Role::Check)
            }
            None => Line::of("not on the string", Role::Check),
        };
        let line = Line::of(format!("{}, lower edge ", accessory.name), Role::Accessory).with(line);
        sheet.add("Fit", line, Some(Subject::Accessory(index)));
    }
}

/// The readings that the marks rest on, each once, in the order of the marks.
fn readings<'a>(marks: &[(usize, &'a Mark)]) -> Vec<&'a String> {
    let mut readings: Vec<&String> = Vec::new();
    for reading in marks.iter().flat_map(|(_, mark)| &mark.rests_on) {
        if !readings.contains(&reading) {
            readings.push(reading);
        }
    }
    readings
}

/// The letter by which a reading is named beside the marks.
fn letter(place: usize) -> String {
    let letter = u8::try_from(place).ok().filter(|place| *place < 26);
    letter.map_or_else(
        || place.to_string(),
        |place| char::from(b'a' + place).to_string(),
    )
}
