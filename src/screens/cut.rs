//! Cut: the sheet by which the cutter works. Whether it is cut already is said first.

use super::overview::flag_lines;
use super::pen::{Item, Line, Pen, list};
use super::state::State;
use super::theme::Role;
use super::update::show_how;
use crate::figures::{
    Basis, CutPlace, Mark, MarkFrom, SlotFigures, Variance, Verdict, how::Subject, steel,
};
use crate::flag::Code;
use crate::measure::{Length, Show, Unit};
use crate::report::{CAUTION, NO_CORRECTION, SCRIBE, cut_state, probability, unjudged};

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
    let items = items(state);
    let (width, height) = (pen.area.width, pen.area.height);
    list(
        &mut pen.part(0, 0, width, height.saturating_sub(1)),
        &items,
        state.place().cut,
    );
    pen.text(1, height.saturating_sub(1), SHORT_CAUTION, Role::Title);
}

/// Whether it may be cut.
fn heading(figures: &SlotFigures) -> (&'static str, Role) {
    let may = !figures.cut.is_cut() && figures.basis == Basis::Read;
    (
        cut_state(figures),
        if may { Role::Title } else { Role::Stop },
    )
}

struct Writer<'a> {
    state: &'a State,
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
        let show = self.state.show;
        let other = Show::new(if show.unit() == Unit::Metre {
            Unit::FootInch
        } else {
            Unit::Metre
        });
        Line::of(format!("{:>9}", show.text(length)), Role::Figure)
            .and(format!(" = {}", other.text(length)), Role::Plain)
    }

    fn stated(&self, variance: Option<Variance>) -> String {
        variance.map_or_else(
            || "not stated".to_owned(),
            |variance| self.state.show.small(variance.expanded()),
        )
    }

    fn joint(&self, piece: usize) -> &str {
        let piece = self.figures.string.pieces.get(piece);
        piece.map_or("", |piece| self.state.number(self.state.slot, piece.joint))
    }
}

fn items(state: &State) -> Sheet {
    let Some((slot, _, figures)) = state.current() else {
        return Vec::new();
    };
    let job = &state.folder.job;
    let mut sheet = Writer {
        state,
        figures,
        width: usize::from(state.size.0).saturating_sub(2),
        items: Vec::new(),
    };
    let (words, role) = heading(figures);
    sheet.items.push(Item {
        lines: vec![
            Line::of(format!("Slot {}  ", slot.name), Role::Title).and(format!(" {words} "), role),
        ],
        opens: figures.cut.as_cut.is_some().then_some(Subject::AsCut),
    });
    as_cut(&mut sheet);
    let cut = &figures.cut;
    let target = sheet
        .both(cut.target.height())
        .and(format!("  above {}", job.sea_datum), Role::Label);
    sheet.add("Finished top", target, Some(Subject::CutTarget));
    for allowance in job.allowances.iter().filter(|it| it.slots.has(state.slot)) {
        let line = Line::of(state.show.small_signed(allowance.value), Role::Plain)
            .and(format!("  {}", allowance.why), Role::Label);
        sheet.add("  + allowance", line, Some(Subject::CutTarget));
    }
    let hull = job.hulls.get(job.cut.hull).map_or("", |hull| &hull.name);
    let below = sheet
        .both(cut.below_rotary.downward())
        .and(format!("  at hull position {hull}"), Role::Label);
    sheet.add("Below RT", below, Some(Subject::CutBelowRotary));
    if let Some(place) = &cut.place {
        placed(&mut sheet, place);
    } else {
        let why = figures.flags.iter().find(|flag| {
            [Code::TooShort, Code::CutBelowShoe, Code::NoStickUp].contains(&flag.code)
        });
        let why = why.map_or("its place on the string is not known", |flag| {
            flag.text.as_str()
        });
        let line = Line::of("NO CUT TO MARK: ", Role::Outside).and(why, Role::Plain);
        sheet.add("Marks", line, None);
    }
    chain(&mut sheet);
    for flag in &figures.flags {
        let lines = flag_lines(state, Some(state.slot), flag, sheet.width + 2);
        sheet.items.push(Item { lines, opens: None });
    }
    sheet.text(SCRIBE, Role::Plain);
    sheet.text(NO_CORRECTION, Role::Plain);
    sheet.text(CAUTION, Role::Plain);
    sheet.items
}

/// What was cut and what that proves; or what will be asked of the cut.
fn as_cut(sheet: &mut Writer<'_>) {
    let show = sheet.state.show;
    let limits = &sheet.state.folder.job.cut;
    let tolerance = limits.tolerance.map_or_else(
        || "no tolerance given".to_owned(),
        |tolerance| format!("tolerance +/- {}", show.small(tolerance)),
    );
    if let Some(line) = unjudged(sheet.figures) {
        sheet.add("As cut", Line::of(line, Role::Stop), None);
        return;
    }
    let Some(cut) = &sheet.figures.cut.as_cut else {
        // One line less where nothing is cut: the heading takes it.
        if let Some(line) = sheet
            .items
            .first_mut()
            .and_then(|item| item.lines.first_mut())
        {
            let text = format!("  no verdict yet, {tolerance}");
            line.0.push((text, Role::Label));
        }
        return;
    };
    let verdict = cut.verdict.map_or("no tolerance given", Verdict::word);
    let chance = cut.probability.map_or_else(String::new, |chance| {
        format!(", probability of conformity {}", probability(chance))
    });
    let line = Line::of(verdict, cut.verdict.map_or(Role::Plain, Role::of_verdict)).and(
        format!(
            "  {} from target, U {}, {tolerance}{chance}",
            show.small_signed(cut.deviation.rounded()),
            sheet.stated(cut.variance)
        ),
        Role::Plain,
    );
    sheet.add("Verdict", line, Some(Subject::AsCut));
    let level = cut.out_of_level.map_or_else(
        || "not known (under 3 readings)".to_owned(),
        |level| show.small(level),
    );
    let limit = limits.level.map_or_else(String::new, |limit| {
        format!(" (allowed {})", show.small(limit))
    });
    let line = sheet.both(cut.mean.rounded()).and(
        format!(
            "  mean of {} readings, out of level {level}{limit}",
            cut.readings
        ),
        Role::Plain,
    );
    sheet.add("As cut", line, Some(Subject::AsCut));
}

/// The marks, nearest first, and the readings that they rest on.
fn marks(sheet: &mut Writer<'_>, place: &CutPlace) {
    let mut marks: Vec<(usize, &Mark)> = place.marks.iter().enumerate().collect();
    marks.sort_by_key(|(_, mark)| mark.distance.abs());
    let readings = readings(&marks);
    let letters = |mark: &Mark| {
        let rests = mark.rests_on.iter();
        let places = rests.filter_map(|rest| readings.iter().position(|reading| *reading == rest));
        places.map(letter).collect::<Vec<_>>().join(" ")
    };
    for (position, (index, mark)) in marks.iter().enumerate() {
        let label = if position == 0 {
            "Mark, nearest"
        } else {
            "  or mark"
        };
        let way = direction(sheet, mark, place.piece);
        let line = sheet
            .both(mark.distance.abs())
            .and(format!("  {way}"), Role::Plain)
            .and(
                format!("  U {}  on {}", sheet.stated(mark.variance), letters(mark)),
                Role::Plain,
            );
        sheet.add(label, line, Some(Subject::Mark(*index)));
    }
    let mut rests = Line::default();
    for (place, reading) in readings.iter().enumerate() {
        rests = rests.and(format!("{} {reading}   ", letter(place)), Role::Label);
    }
    sheet.add("  resting on", rests, None);
    let shared = |reading: &String| {
        let on_it = marks
            .iter()
            .filter(|(_, mark)| mark.rests_on.contains(reading));
        on_it.count() > 1
    };
    if readings.iter().any(|reading| shared(reading)) {
        sheet.text(
            "Marks that rest on the same reading agree whether it is right or wrong.",
            Role::Check,
        );
    }
}

fn placed(sheet: &mut Writer<'_>, place: &CutPlace) {
    let job = &sheet.state.folder.job;
    let show = sheet.state.show;
    marks(sheet, place);
    let serial = sheet
        .figures
        .string
        .pieces
        .get(place.piece)
        .and_then(|piece| {
            let tally = sheet.state.folder.tallies.get(sheet.state.slot)?;
            tally.joints.get(piece.joint)?.serial.as_deref()
        });
    let serial = serial.map_or_else(String::new, |serial| format!(", serial {serial}"));
    let line = Line::of(
        format!("{}{serial}", sheet.joint(place.piece)),
        Role::Figure,
    )
    .and(
        format!(
            "  {} above its lower make-up plane",
            show.text(place.above_lower_plane)
        ),
        Role::Plain,
    );
    sheet.add("In joint", line, Some(Subject::CutPlace));
    let distance =
        |length: Option<Length>| length.map_or_else(|| "none".to_owned(), |it| show.text(it));
    let asked = job.cut.clearance;
    let close = |length: Option<Length>| {
        length
            .zip(asked)
            .is_some_and(|(length, asked)| length < asked)
    };
    let (word, role) = if close(place.to_connection) || close(place.to_shoulder) {
        ("TOO CLOSE  ", Role::Outside)
    } else if asked.is_some() {
        ("clear  ", Role::Within)
    } else {
        ("", Role::Plain)
    };
    let line = Line::of(word, role).and(
        format!(
            "connection {}, shoulder {}, least {}",
            distance(place.to_connection),
            distance(place.to_shoulder),
            distance(asked)
        ),
        Role::Plain,
    );
    sheet.add("Clearance", line, Some(Subject::CutPlace));
    let line = sheet.both(place.offcut_length).and(
        format!(
            "  {:.0} kg to lift, {} connections in it",
            place.offcut_mass, place.offcut_connections
        ),
        Role::Plain,
    );
    sheet.add("Off-cut", line, Some(Subject::Offcut));
    if let Some(rough) = sheet.figures.cut.rough {
        let line = sheet.both(rough.height());
        sheet.add("Rough cut first", line, None);
    }
    let pipe = sheet.state.folder.job.slots.get(sheet.state.slot);
    if let Some(pipe) = pipe.and_then(|slot| job.pipes.get(slot.pipe)) {
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
        let line = sheet
            .both(stick_up.abs())
            .and(format!("  {words}, {word}"), Role::Label);
        sheet.add("Stick-up", line, Some(Subject::StickUp));
    }
    for (index, place) in figures.accessories.iter().enumerate() {
        let Some(accessory) = sheet.state.folder.job.accessories.get(place.accessory) else {
            continue;
        };
        let line = match place.piece.zip(place.above_lower_plane) {
            Some((piece, height)) => sheet.both(height).and(
                format!("  above the lower make-up plane of {}", sheet.joint(piece)),
                Role::Plain,
            ),
            None => Line::of("not on the string", Role::Check),
        };
        let label: String = accessory.name.chars().take(14).collect();
        sheet.add(&label, line, Some(Subject::Accessory(index)));
    }
}

/// `DOWN from ...` or `UP from ...`, the true way whatever the sign.
fn direction(sheet: &Writer<'_>, mark: &Mark, piece: usize) -> String {
    let job = &sheet.state.folder.job;
    let wide = sheet.width >= 100;
    let upward = (mark.from == MarkFrom::LowerPlane) != mark.distance.is_negative();
    let way = if upward { "UP from" } else { "DOWN from" };
    let from = match mark.from {
        MarkFrom::Rotary => "RT".to_owned(),
        MarkFrom::LowerPlane if piece == 0 => format!("the lower end of {}", sheet.joint(piece)),
        MarkFrom::LowerPlane if wide => {
            format!("the lower make-up plane of {}", sheet.joint(piece))
        }
        MarkFrom::UpperPlane if wide => {
            format!("the upper make-up plane of {}", sheet.joint(piece))
        }
        MarkFrom::LowerPlane => format!("{} lower plane", sheet.joint(piece)),
        MarkFrom::UpperPlane => format!("{} upper plane", sheet.joint(piece)),
        MarkFrom::Top => "the present top".to_owned(),
        MarkFrom::Bench(index) => format!(
            "bench {}",
            job.benches.get(index).map_or("", |bench| &bench.name)
        ),
    };
    format!("{way} {from}")
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
