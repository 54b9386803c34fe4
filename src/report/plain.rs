//! What each screen shows, as plain lines: `label: value`, one record a line, no boxes; for scripts and for screen
//! readers. Levels, lists, the deck and the cut have texts of their own.

use std::fmt::Write as _;

use super::scene::{Scene, ZoneKind};
use super::words;
use crate::figures::{
    Basis, CutStatus, Figures, SlotFigures, SlotState, SlotView, Verdict, entered_step,
    pieces_to_run, run_step,
};
use crate::finding::Flag;
use crate::journal::Inputs;
use crate::measure::{Elevation, Length, LengthFormat};
use crate::tally::Piece;

/// Writes lines.
struct Plain<'a> {
    inputs: &'a Inputs,
    figures: &'a Figures,
    show: LengthFormat,
    text: String,
}

impl<'a> Plain<'a> {
    fn of(inputs: &'a Inputs, figures: &'a Figures) -> Self {
        Self {
            inputs,
            figures,
            show: LengthFormat::new(inputs.job.units),
            text: String::new(),
        }
    }

    fn line(&mut self, label: &str, value: &str) {
        // Writing into memory cannot fail.
        let _ = writeln!(self.text, "{label}: {value}");
    }

    fn elevation(&mut self, label: &str, at: Option<Elevation>) {
        let value = at.map(|at| self.show.text(at.height()));
        self.line(label, value.as_deref().unwrap_or("none"));
    }

    fn space(&mut self) {
        if !self.text.is_empty() {
            self.text.push('\n');
        }
    }

    fn flag(&mut self, slot: &str, flag: &Flag) {
        let said = words::flag(flag, self.show);
        let text = format!("{slot}, {}: {said}", flag.code);
        self.line(flag.severity.word(), &text);
    }

    fn views(&self) -> Vec<(SlotView<'a>, &'a SlotFigures)> {
        let (inputs, figures) = (self.inputs, self.figures);
        let views = SlotView::all(&inputs.job, &inputs.tallies);
        views.zip(&figures.slots).collect()
    }
}

/// Overview: a block a slot, then the flags, the worst first.
pub fn overview(inputs: &Inputs, figures: &Figures) -> String {
    let mut plain = Plain::of(inputs, figures);
    let title = inputs.job.title.as_deref().unwrap_or("(no title)");
    plain.line("job", title);
    let cut = figures.slots.iter().filter(|it| it.cut.is_cut()).count();
    plain.line("cut", words::one_of(cut, figures.slots.len()).trim());
    let show = plain.show;
    let spread = &figures.spread;
    if let Some(value) = &spread.value {
        let verdict = spread.verdict.map_or("no limit given", |it| it.word());
        let said = words::spread_of(spread.cuts, value.value, show);
        plain.line("cuts", &format!("{said}{verdict}"));
    }
    let frame = figures.frame.as_ref();
    if let Some((frame, height)) = frame.and_then(|it| Some((it, it.above_mudline.as_ref()?))) {
        let verdict = frame.verdict.map_or("no window given", |it| it.word());
        let base = words::frame_base(height.value, show);
        plain.line("frame", &format!("{base}: {verdict}"));
    }
    for (view, of_slot) in plain.views() {
        plain.space();
        slot(&mut plain, view, of_slot);
    }
    plain.space();
    let mut flags: Vec<(&str, &Flag)> = figures.flags.iter().map(|flag| ("all", flag)).collect();
    for (view, of_slot) in plain.views() {
        let name = view.slot.name.as_str();
        flags.extend(of_slot.flags.iter().map(|flag| (name, flag)));
    }
    flags.sort_by(|(_, a), (_, b)| b.severity.cmp(&a.severity).then(a.code.cmp(&b.code)));
    if flags.is_empty() {
        plain.line("flags", "none");
    }
    for (name, flag) in flags {
        plain.flag(name, flag);
    }
    plain.text
}

fn slot(plain: &mut Plain<'_>, view: SlotView<'_>, of_slot: &SlotFigures) {
    let show = plain.show;
    plain.line("slot", &view.slot.name);
    if let Some(state) = plain.figures.state(view.index) {
        plain.line("state", state.word());
    }
    let standing = plain.figures.standings.get(view.index);
    if let Some(standing) = standing {
        plain.line("status", standing.status.word());
        plain.line("may be cut", &words::cut_state(standing));
        if let Some(fallen) = words::fallen(standing.fallen) {
            plain.line("signatures", &fallen);
        }
    }
    let chain = &of_slot.chain;
    plain.line("joints", &chain.string.pieces.len().to_string());
    plain.line("length", &show.text(chain.string.length));
    plain.elevation("shoe", chain.shoe);
    plain.elevation("shoulder", chain.shoulder_elevation());
    let as_cut = of_slot.cut.as_cut.as_ref();
    match as_cut {
        Some(as_cut) => {
            let mean = as_cut.mean.value.rounded();
            plain.elevation("finished top", Some(Elevation::above_datum(mean)));
            let verdict = as_cut.verdict.map(Verdict::word);
            plain.line("verdict", verdict.unwrap_or("no tolerance given"));
        }
        None => plain.elevation("top", chain.top),
    }
    plain.elevation("cut target", Some(of_slot.cut.target));
    let why = standing.and_then(|it| words::no_marks(of_slot, it, show));
    match (&of_slot.cut.place, why) {
        (Some(place), None) => {
            if let Some(mark) = words::marks_to_set_out(of_slot, place).first() {
                let distance = show.text(mark.distance.value.abs());
                let way = words::direction(view, of_slot, mark);
                let u = words::known(show, &mark.distance);
                let text = words::nearest_mark(&distance, &way, &u);
                plain.line(words::NEAREST_MARK, &text);
            }
        }
        (_, why) => plain.line("marks", why.as_deref().unwrap_or("none")),
    }
    if let Some(place) = &of_slot.cut.place {
        let mass = words::offcut_mass(place);
        let text = format!("{}, {mass}", show.text(place.offcut_length));
        plain.line(words::OFF_CUT, &text);
    }
}

/// Tally: a line a joint, the top of the string first, and the lines not read as joints.
pub fn tally(inputs: &Inputs, figures: &Figures) -> String {
    let mut plain = Plain::of(inputs, figures);
    let show = plain.show;
    for (view, of_slot) in plain.views() {
        plain.space();
        plain.line("slot", &view.slot.name);
        plain.line("file", &words::tally_file(view.slot, view.tally));
        let chain = &of_slot.chain;
        for (index, joint) in view.tally.joints.iter().enumerate().rev() {
            let mut text = joint.number.to_string();
            let mut add = |label: &str, value: Option<String>| {
                if let Some(value) = value {
                    let _ = write!(text, "; {label} {value}");
                }
            };
            let length = |length: Option<Length>| length.map(|it| show.text(it));
            let piece = chain.string.pieces.get(index);
            add("kind", joint.kind.map(|it| it.name().to_owned()));
            add("serial", joint.serial.as_ref().map(ToString::to_string));
            add("overall", length(joint.overall()));
            add("loss", length(joint.makeup_loss));
            add("effective", length(piece.map(|it| it.effective)));
            add("running", length(piece.map(Piece::upper)));
            let lower = chain.lower_plane(index);
            add("lower plane", lower.map(|it| show.text(it.height())));
            let below = lower.map(|it| chain.rotary.depth_of(it).downward());
            add("below RT", length(below));
            let is_cut = of_slot
                .cut
                .place
                .as_ref()
                .is_some_and(|it| it.piece == index);
            add("mark", is_cut.then(|| words::CUT.to_owned()));
            let is_shoulder = chain.shoulder.is_some_and(|it| it.piece == index);
            add("mark", is_shoulder.then(|| words::SHOULDER.to_owned()));
            let fit = of_slot.accessories.iter();
            for place in fit.filter(|it| it.piece == Some(index)) {
                let accessory = inputs.job.accessories.get(place.accessory);
                add("fit", accessory.map(|it| it.name.clone()));
            }
            plain.line("joint", &text);
        }
        for skipped in &view.tally.skipped {
            let why = words::skip_reason(skipped.why);
            let text = format!("line {}: {why}: {}", skipped.line, skipped.text.trim());
            plain.line("not a joint", &text);
        }
    }
    plain.text
}

/// Profile: what lies on each conductor and what all are seen against, from the top.
pub fn profile(inputs: &Inputs, figures: &Figures) -> String {
    let mut plain = Plain::of(inputs, figures);
    let show = plain.show;
    let scene = Scene::of(inputs, figures, show, None);
    let mut levels: Vec<(Elevation, &str)> = scene
        .levels
        .iter()
        .map(|it| (it.at, it.name.as_str()))
        .chain(scene.bars.iter().map(|it| (it.at, it.name.as_str())))
        .collect();
    levels.sort_by_key(|it| std::cmp::Reverse(it.0));
    for (at, name) in levels {
        plain.elevation(name, Some(at));
    }
    for lane in &scene.lanes {
        plain.space();
        plain.line("slot", &lane.name);
        let mut points: Vec<(Elevation, String)> = lane
            .features
            .iter()
            .map(|it| (it.at, it.word.clone()))
            .collect();
        let keep_outs = lane.zones.iter().filter(|it| it.kind == ZoneKind::KeepOut);
        points.extend(keep_outs.flat_map(|it| {
            let (upper, lower) = (words::upper_end(&it.word), words::lower_end(&it.word));
            [(it.to, upper), (it.from, lower)]
        }));
        points.sort_by_key(|it| std::cmp::Reverse(it.0));
        for (at, word) in points {
            plain.elevation(&word, Some(at));
        }
    }
    plain.text
}

/// Floor: which joint is next by the journal, what to fit on it, and what is still to lower.
pub fn floor(inputs: &Inputs, figures: &Figures) -> String {
    let mut plain = Plain::of(inputs, figures);
    for (view, of_slot) in plain.views() {
        plain.space();
        plain.line("slot", &view.slot.name);
        floor_of(&mut plain, view, of_slot);
    }
    plain.text
}

fn floor_of(plain: &mut Plain<'_>, view: SlotView<'_>, of_slot: &SlotFigures) {
    let show = plain.show;
    let all = pieces_to_run(of_slot);
    let running = plain.figures.running.get(view.index);
    let entered = running.filter(|it| it.joints_run > 0);
    let is_landed = of_slot.chain.basis == Basis::Read;
    let standing = plain.figures.standings.get(view.index);
    if let Some(standing) = standing.filter(|it| it.status != CutStatus::Clear) {
        plain.line("status", standing.status.word());
    }
    let step = match entered {
        Some(running) => entered_step(&view.slot.hull, of_slot, running),
        None if is_landed => run_step(&view.slot.hull, of_slot, all),
        None => {
            let [not_known, ..] = words::COUNT_NOT_KNOWN;
            plain.line("joints run", not_known);
            return;
        }
    };
    plain.line("joints run", words::one_of(step.pieces_in, all).trim());
    if let Some(joint) = step.next.and_then(|at| view.tally.joints.get(at)) {
        plain.line("next joint", &joint.number);
        if let Some(serial) = &joint.serial {
            plain.line("its serial", serial);
        }
        if let Some(length) = joint.length {
            plain.line("its length", &show.text(length));
        }
        for place in &step.fit {
            let accessory = plain.inputs.job.accessories.get(place.accessory);
            if let Some((accessory, height)) = accessory.zip(place.above_lower_plane) {
                let at = (
                    &of_slot.chain,
                    view.tally,
                    step.next.unwrap_or(step.pieces_in),
                );
                let touches = place.clear == Some(false);
                let text = words::fit(&accessory.name, height, touches, at, show);
                plain.line("fit", &text);
            }
        }
    }
    plain.line("string so far", &show.text(step.length));
    if let Some(stick_up) = step.stick_up_at_place {
        let surface = view.slot.hull.surface_name();
        let value = show.text(stick_up.abs());
        if stick_up.is_negative() && step.next.is_some() {
            plain.line("still to lower", &value);
        } else {
            let side = words::side_of_surface(stick_up);
            let label = if is_landed && step.next.is_none() {
                "stick-up, as read"
            } else {
                "stick-up at landing"
            };
            plain.line(label, &format!("{value} {side} {surface}"));
        }
    }
    if step.stick_up_at_place.is_some() {
        let is_landed = is_landed && step.next.is_none();
        let landed = of_slot.chain.shoe.filter(|_| is_landed);
        let depth = landed.map_or(step.shoe_below_rotary, |shoe| {
            of_slot.chain.rotary.depth_of(shoe)
        });
        plain.line("shoe", &words::from_rt(depth.downward(), show));
    }
    let is_run = plain.figures.state(view.index) == Some(SlotState::Running);
    if let Some(running) = entered.filter(|_| is_run) {
        plain.line("load", &words::hook_load(running.hook_load.as_ref()));
    }
    for found in plain
        .figures
        .misclosures
        .get(view.index)
        .into_iter()
        .flatten()
    {
        for text in words::misclosure_on_floor(found, show) {
            plain.line("check", &text);
        }
    }
}

/// Record: a line an entry.
pub fn record(inputs: &Inputs) -> String {
    let mut text = String::new();
    if inputs.journal.entries.is_empty() {
        return format!("{}\n", words::NO_ENTRIES);
    }
    for entry in &inputs.journal.entries {
        let struck = inputs.journal.entries.iter();
        let struck = struck.filter_map(|it| match it.event {
            crate::journal::Event::Strike { strikes, .. } if strikes == entry.seq => Some(it.seq),
            _ => None,
        });
        let struck = struck.map(words::struck_by).next();
        let struck = struck.map_or_else(String::new, |it| format!(" ({it})"));
        let _ = writeln!(
            text,
            "entry {}: {} by {}, slot {}, {}: {}{struck}",
            entry.seq,
            entry.at,
            entry.by,
            entry.event.slot().unwrap_or("-"),
            entry.name,
            words::entry(entry)
        );
    }
    text
}
