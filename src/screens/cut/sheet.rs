//! The lines of the sheet, from top to bottom.

use super::LineId;
use crate::figures::catalogue::Subject;
use crate::figures::{
    Basis, CutPlace, CutStatus, Mark, Reading, SlotFigures, SlotView, Standing, Verdict,
};
use crate::finding::{Flag, Severity};
use crate::job::Elevations;
use crate::measure::Length;
use crate::report::{CAUTION, PROOF, SCRIBE, words};
use crate::screens::identity::{FigureKey, FlagId};
use crate::screens::parts::flags::flag_lines;
use crate::screens::parts::list::ListItem;
use crate::screens::parts::pen::{StyledLine, width};
use crate::screens::parts::surface::surface_words;
use crate::screens::state::State;
use crate::screens::theme::Role;
use crate::tally::Tally;

/// What a line is, and the figure that it opens.
pub type Opens = (LineId, Option<Subject>);

type SheetLines = Vec<ListItem<Opens>>;

struct SheetWriter<'a> {
    state: &'a State,
    slot: usize,
    view: SlotView<'a>,
    tally: &'a Tally,
    figures: &'a SlotFigures,
    width: usize,
    items: SheetLines,
}

impl SheetWriter<'_> {
    /// `label: value`, broken under the value where it is long.
    fn add(&mut self, label: &str, value: StyledLine, opens: Option<Subject>) {
        // A label that is longer than the column of labels still ends before its value.
        let between = if width(label) < 16 { "" } else { "  " };
        let mut line = StyledLine::of(format!("{label:<16}{between}"), Role::Label);
        line.0.extend(value.0);
        let lines = line.wrapped(self.width, 16);
        let figure = opens.and_then(|subject| {
            let (inputs, figures) = (&self.state.inputs, &self.state.figures);
            FigureKey::of(inputs, figures, self.slot, subject)
        });
        // Lines of one label and figure are distinguished by how many are above.
        let is_alike = |line: &LineId| matches!(line, LineId::Figure(of, open, _) if *of == label && *open == figure);
        let above = self.items.iter().filter(|it| is_alike(&it.opens.0)).count();
        let opens = (LineId::Figure(label.to_owned(), figure, above), opens);
        self.items.push(ListItem { lines, opens });
    }

    fn text(&mut self, about: &'static str, text: &str, role: Role) {
        let lines = StyledLine::of(text, role).wrapped(self.width, 0);
        let opens = (LineId::Text(about), None);
        self.items.push(ListItem { lines, opens });
    }

    /// In the unit in use and in the other system.
    fn both(&self, length: Length) -> StyledLine {
        let [own, other] = words::both(self.state.show, length);
        StyledLine::of(format!("{own:>9}"), Role::Figure).and(format!(" = {other}"), Role::Plain)
    }

    fn number(&self, piece: usize) -> &str {
        self.figures.chain.number(self.tally, piece)
    }

    /// A flag of the slot or of the job.
    fn flag(&mut self, slot: Option<usize>, flag: &Flag) {
        let lines = flag_lines(self.state, slot, flag, self.width + 2);
        let id = FlagId::of(&self.state.inputs, &self.state.figures, slot, flag);
        let opens = (LineId::Flag(id), None);
        self.items.push(ListItem { lines, opens });
    }
}

/// What may not be overlooked first: whether it may be cut, and what is flagged.
fn head(sheet: &mut SheetWriter<'_>, standing: &Standing) {
    let (state, figures) = (sheet.state, sheet.figures);
    let (role, words) = if state.old.is_some() {
        (Role::Old, words::OLD_STATE.to_owned())
    } else {
        let status = standing.status;
        (Role::of_status(status), words::cut_state(standing))
    };
    // The same code as on the printed slip, as long as nothing changed since.
    let slip = words::slip_code(&state.inputs, &state.figures, sheet.slot);
    let mut lines = vec![
        StyledLine::of(format!("Slot {}  ", sheet.view.slot.name), Role::Title)
            .and(format!(" {words} "), role)
            .and(format!("  slip {slip}"), Role::Label),
    ];
    lines.extend(words::fallen(standing.fallen).map(|text| StyledLine::of(text, Role::Check)));
    sheet.items.push(ListItem {
        lines,
        opens: (
            LineId::Head,
            figures.cut.as_cut.is_some().then_some(Subject::AsCut),
        ),
    });
    // What is flagged comes before anything that could be set out with a tape.
    for flag in words::head_flags(figures, standing) {
        let own = figures.flags.contains(flag);
        sheet.flag(own.then_some(sheet.slot), flag);
    }
}

pub fn items(state: &State) -> SheetLines {
    let Some(((_, tally, figures), view)) = state.current().zip(state.view()) else {
        return Vec::new();
    };
    let Some(standing) = state.figures.standings.get(state.slot_index()) else {
        return Vec::new();
    };
    let job = &state.inputs.job;
    let mut sheet = SheetWriter {
        state,
        slot: state.slot_index(),
        view,
        tally,
        figures,
        width: usize::from(state.size.0).saturating_sub(2),
        items: Vec::new(),
    };
    head(&mut sheet, standing);
    as_cut(&mut sheet);
    let cut = &figures.cut;
    let ways = &state.figures.second_ways;
    let target = sheet
        .both(cut.target.height())
        .and(format!("  above {}", job.sea_datum), Role::Label);
    sheet.add("Cut target", target, Some(Subject::CutTarget));
    let second = words::second_of_deck(ways, state.show);
    let deck = sheet
        .both(job.deck.elevation.height())
        .and(format!("  {second}"), Role::Label);
    sheet.add("  deck", deck, Some(Subject::CutTarget));
    let slot = sheet.slot;
    if !view.slot.cut_offset.is_zero() {
        let offset = words::moves_target(view.slot.cut_offset, state.show);
        let line = StyledLine::of(offset, Role::Plain)
            .and(format!("  {}", words::ONE_READING), Role::Label);
        sheet.add("  + slot's offset", line, Some(Subject::CutTarget));
    }
    for allowance in job.allowances.iter().filter(|it| it.slots.has(slot)) {
        let value = words::moves_target(allowance.value, state.show);
        let line =
            StyledLine::of(value, Role::Plain).and(format!("  {}", allowance.why), Role::Label);
        sheet.add("  + allowance", line, Some(Subject::CutTarget));
    }
    let old = state.old.as_ref().map(|_| words::OLD_MARKS.to_owned());
    let no_marks = old.or_else(|| words::no_marks(figures, standing, state.show));
    // Below RT is a mark too: where none may be set out it is not given.
    if no_marks.is_none() {
        let hull = &job.cut.hull.name;
        let below = sheet
            .both(cut.below_rotary.downward())
            .and(format!("  at hull position {hull}"), Role::Label);
        sheet.add("Below RT", below, Some(Subject::CutBelowRotary));
    }
    let second = words::second_of_rotary(ways, &job.cut.hull, state.show);
    let second = if figures.chain.elevations() == Elevations::Adjusted {
        words::rotary_as_stated(job.cut.hull.rotary, &second, state.show)
    } else {
        second
    };
    let rotary = sheet
        .both(figures.chain.cut_rotary.height())
        .and(format!("  {second}"), Role::Label);
    sheet.add("  RT", rotary, Some(Subject::CutBelowRotary));
    match (&no_marks, &cut.place) {
        (None, Some(place)) => marks(&mut sheet, place),
        (why, _) => {
            let is_cut = standing.status == CutStatus::Cut;
            let role = if is_cut { Role::Plain } else { Role::Outside };
            let line = StyledLine::of("NO MARKS:", role)
                .and(" ", Role::Plain)
                .and(why.clone().unwrap_or_default(), Role::Plain);
            sheet.add("Marks", line, None);
        }
    }
    if let Some(place) = &cut.place {
        placed(&mut sheet, place, no_marks.is_none());
    }
    limits(&mut sheet);
    chain(&mut sheet);
    let notes = figures.flags.iter();
    for flag in notes.filter(|flag| flag.severity == Severity::Note) {
        sheet.flag(Some(sheet.slot), flag);
    }
    sheet.text("scribed line", SCRIBE, Role::Plain);
    sheet.text("proof", PROOF, Role::Plain);
    sheet.text(
        "corrections",
        &words::corrections_held(job, &state.figures),
        Role::Plain,
    );
    sheet.text("caution", CAUTION, Role::Plain);
    sheet.items
}

/// What was cut, and what that proves of its height; how level it is, is compared without its U.
fn as_cut(sheet: &mut SheetWriter<'_>) {
    let show = sheet.state.show;
    let limits = &sheet.state.inputs.job.cut;
    let Some(cut) = &sheet.figures.cut.as_cut else {
        return;
    };
    let word = |verdict: Option<Verdict>, without| {
        StyledLine::of(
            verdict.map_or(without, Verdict::word),
            verdict.map_or(Role::Plain, Role::of_verdict),
        )
    };
    let line = word(cut.verdict, "no tolerance given");
    let mean = sheet.both(cut.mean.value.rounded());
    let line = line.and("  ", Role::Plain).with(mean).and(
        format!("  mean of {}", words::counted(cut.readings, "reading")),
        Role::Plain,
    );
    sheet.add("Finished top", line, Some(Subject::AsCut));
    let height = words::height_verdict(cut, limits.tolerance, show);
    let line = word(cut.height, "not judged").and(format!("  {height}"), Role::Plain);
    sheet.add("  its height", line, Some(Subject::AsCut));
    let level = words::level_words(cut, limits.level, show);
    let line = word(cut.level, "not judged").and(format!("  {level}"), Role::Plain);
    sheet.add("  its level", line, Some(Subject::AsCut));
    if let Some(rim) = words::rim_words(cut, show) {
        sheet.add(
            "  its rim",
            StyledLine::of(rim, Role::Plain),
            Some(Subject::AsCut),
        );
    }
}

/// The tolerances of the cut, and the kerf that the blade needs above the line.
fn limits(sheet: &mut SheetWriter<'_>) {
    let show = sheet.state.show;
    let limits = &sheet.state.inputs.job.cut;
    let line = StyledLine::of(words::limits(limits, show), Role::Plain);
    sheet.add("Tolerances", line, None);
}

/// The marks, nearest first, and the readings that they rest on.
fn marks(sheet: &mut SheetWriter<'_>, place: &CutPlace) {
    let marks = words::marks_to_set_out(sheet.figures, place);
    let readings = readings(&marks);
    let letters = |mark: &Mark| {
        let rests = mark.rests_on();
        let places = rests
            .iter()
            .filter_map(|rest| readings.iter().position(|it| it == rest));
        places.map(letter).collect::<Vec<_>>().join(" ")
    };
    for (position, mark) in marks.into_iter().enumerate() {
        let label = if position == 0 {
            "Mark, nearest"
        } else {
            "  or mark"
        };
        let way = words::direction(sheet.view, sheet.figures, mark);
        let line = sheet
            .both(mark.distance.value.abs())
            .and(format!("  {way}"), Role::Plain)
            .and(
                format!(
                    "  U {}  on {}",
                    words::known(sheet.state.show, &mark.distance),
                    letters(mark)
                ),
                Role::Plain,
            );
        sheet.add(label, line, Some(Subject::Mark(mark.from)));
    }
    let mut rests = StyledLine::default();
    for (place, reading) in readings.iter().enumerate() {
        let reading = words::reading(sheet.view, sheet.figures, reading, sheet.state.show);
        let between = if place == 0 { "" } else { "   " };
        let reading = format!("{between}{} {reading}", letter(place));
        rests = rests.and(reading, Role::Label);
    }
    sheet.add("  resting on", rests, None);
    if let Some(used) = words::elevations_used(sheet.view, sheet.figures, sheet.state.show) {
        sheet.text("elevations", &used, Role::Plain);
    }
    if let Some(shared) = words::not_independent(sheet.view, sheet.figures, place, sheet.state.show)
    {
        sheet.text("not independent", &shared, Role::Plain);
    }
}

fn placed(sheet: &mut SheetWriter<'_>, place: &CutPlace, is_marked: bool) {
    let job = &sheet.state.inputs.job;
    let show = sheet.state.show;
    let piece = sheet.figures.chain.string.pieces.get(place.piece);
    let serial = piece
        .and_then(|piece| sheet.tally.joints.get(piece.joint)?.serial.as_deref())
        .map_or_else(String::new, |serial| format!(", serial {serial}"));
    let mut line = StyledLine::of(
        format!("{}{serial}", sheet.number(place.piece)),
        Role::Figure,
    );
    if is_marked {
        let above = format!(
            "  {} above the {}",
            show.text(place.above_lower_plane),
            words::counted_from(&sheet.figures.chain, sheet.tally, place.piece)
        );
        line = line.and(above, Role::Plain);
    }
    sheet.add("In joint", line, Some(Subject::CutPlace));
    let asked = job.cut.clearance;
    let role = match asked {
        None => Role::Plain,
        Some(asked) if place.is_clear(asked) => Role::Within,
        Some(_) => Role::Outside,
    };
    let line = StyledLine::of(words::clearance_word(place, asked), role).and(
        format!(
            "  {}",
            words::clearances(place.to_connection, place.to_shoulder, asked, show)
        ),
        Role::Plain,
    );
    sheet.add("Clearance", line, Some(Subject::CutPlace));
    let line = sheet.both(place.offcut_length).and(
        format!(
            "  {}: {}",
            words::lift_word(sheet.figures),
            words::offcut_mass(place)
        ),
        Role::Plain,
    );
    sheet.add("Off-cut", line, Some(Subject::Offcut));
    let rough = job.cut.rough_above.zip(sheet.figures.cut.rough);
    if let Some((above, at)) = rough.filter(|_| is_marked) {
        let rough = words::rough_cut(above, &show.text(at.height()), show);
        sheet.add("Rough cut first", StyledLine::of(rough, Role::Plain), None);
    }
    if is_marked {
        let text = words::cutting_time(&sheet.view.slot.pipe);
        sheet.add("Cutting takes", StyledLine::of(text, Role::Plain), None);
    }
}

/// The chain that the marks rest on, so that each of its figures can be opened here too.
fn chain(sheet: &mut SheetWriter<'_>) {
    let figures = sheet.figures;
    let word = figures.chain.basis.word();
    let by = words::elevations_by(&figures.chain);
    let line = sheet.both(figures.chain.string.length);
    sheet.add("String length", line, Some(Subject::StringLength));
    // The top that the marks rest on is no longer there once the conductor is cut.
    let top = if figures.cut.is_cut() {
        "Top as landed, before the cut"
    } else {
        "Top"
    };
    let heights = [
        (top, figures.chain.top, Subject::Top),
        (
            "Shoulder",
            figures.chain.shoulder.and_then(|it| it.elevation),
            Subject::Shoulder,
        ),
        ("Shoe", figures.chain.shoe, Subject::Shoe),
    ];
    for (label, elevation, subject) in heights {
        if let Some(elevation) = elevation {
            let line = sheet
                .both(elevation.height())
                .and(format!("  {by}"), Role::Label);
            sheet.add(label, line, Some(subject));
        }
    }
    if let Some(stick_up) = figures.chain.stick_up {
        let words = surface_words(sheet.state, stick_up);
        let landing = figures.chain.string.landing_length;
        let on = if landing.is_zero() {
            String::new()
        } else {
            format!(", {}", words::to_landing_top(landing, sheet.state.show))
        };
        let second = match figures.chain.basis {
            Basis::Read => {
                let plan = figures.chain.plan(sheet.view.slot);
                format!("; {}", words::second_of_stick_up(plan, sheet.state.show))
            }
            Basis::Planned | Basis::None => String::new(),
        };
        let line = sheet
            .both(stick_up.abs())
            .and(format!("  {words}, {word}{on}{second}"), Role::Label);
        sheet.add("Stick-up", line, Some(Subject::StickUp));
    }
    let frame = sheet.state.figures.frame.as_ref();
    if let Some((frame, height)) = frame
        .filter(|frame| frame.slot == sheet.slot)
        .and_then(|frame| Some((frame, frame.above_mudline.as_ref()?)))
    {
        let verdict = frame.verdict;
        let line = sheet
            .both(height.value)
            .and("  above the mudline, ", Role::Label)
            .and(
                verdict.map_or("no window given", Verdict::word),
                verdict.map_or(Role::Plain, Role::of_verdict),
            )
            .and(
                format!(", U {}", words::known(sheet.state.show, height)),
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
                        format!(
                            "  above the {}",
                            words::counted_from(&figures.chain, sheet.tally, piece)
                        ),
                        Role::Plain,
                    )
                    .and(touches, Role::Check)
            }
            None => StyledLine::of("not on the string", Role::Check),
        };
        let line =
            StyledLine::of(format!("{}, lower edge ", accessory.name), Role::Accessory).with(line);
        sheet.add("Fit", line, Some(Subject::Accessory(index)));
    }
}

/// The readings that the marks rest on, each once, in the order of the marks.
fn readings(marks: &[&Mark]) -> Vec<Reading> {
    let mut readings: Vec<Reading> = Vec::new();
    for reading in marks.iter().flat_map(|mark| mark.rests_on()) {
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
