//! Of the sheet: the joint that is cut, what comes off, the tolerances, what the target is made of, and the chain that
//! the marks rest on.

use super::writer::SheetWriter;
use crate::figures::catalogue::Subject;
use crate::figures::{Basis, CutPlace, Verdict};
use crate::job::Elevations;
use crate::report::words;
use crate::screens::parts::pen::StyledLine;
use crate::screens::parts::surface::surface_words;
use crate::screens::theme::Role;

/// The tolerances of the cut, and the kerf that the blade needs above the line.
pub(super) fn limits(sheet: &mut SheetWriter<'_>) {
    let show = sheet.state.show;
    let limits = &sheet.state.inputs.job.cut;
    let line = StyledLine::of(words::limits(limits, show), Role::Plain);
    sheet.add("Tolerances", line, None);
}

/// Where the cut lies, and what comes off.
pub(super) fn placed(sheet: &mut SheetWriter<'_>, place: &CutPlace, is_marked: bool) {
    let job = &sheet.state.inputs.job;
    let show = sheet.state.show;
    let string = &sheet.figures.chain.string;
    let serial = string
        .joint(sheet.tally, place.piece)
        .and_then(|joint| joint.serial.as_deref())
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
pub(super) fn chain(sheet: &mut SheetWriter<'_>) {
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

/// What the target is made of, and how far below RT it is.
pub(super) fn target(sheet: &mut SheetWriter<'_>, is_marked: bool) {
    let job = &sheet.state.inputs.job;
    let (cut, ways) = (&sheet.figures.cut, &sheet.state.figures.second_ways);
    let show = sheet.state.show;
    let target = sheet
        .both(cut.target.height())
        .and(format!("  above {}", job.sea_datum), Role::Label);
    sheet.add("Cut target", target, Some(Subject::CutTarget));
    let second = words::second_of_deck(ways, show);
    let deck = sheet
        .both(job.deck.elevation.height())
        .and(format!("  {second}"), Role::Label);
    sheet.add("  deck", deck, Some(Subject::CutTarget));
    let slot = sheet.slot;
    if !sheet.view.slot.cut_offset.is_zero() {
        let offset = words::moves_target(sheet.view.slot.cut_offset, show);
        let line = StyledLine::of(offset, Role::Plain)
            .and(format!("  {}", words::ONE_READING), Role::Label);
        sheet.add("  + slot's offset", line, Some(Subject::CutTarget));
    }
    for allowance in job.allowances.iter().filter(|it| it.slots.has(slot)) {
        let value = words::moves_target(allowance.value, show);
        let line =
            StyledLine::of(value, Role::Plain).and(format!("  {}", allowance.why), Role::Label);
        sheet.add("  + allowance", line, Some(Subject::CutTarget));
    }
    // Below RT is a mark too: where none may be set out it is not given.
    if is_marked {
        let hull = &job.cut.hull.name;
        let below = sheet
            .both(cut.below_rotary.downward())
            .and(format!("  at hull position {hull}"), Role::Label);
        sheet.add("Below RT", below, Some(Subject::CutBelowRotary));
    }
    let second = words::second_of_rotary(ways, &job.cut.hull, show);
    let second = if sheet.figures.chain.elevations() == Elevations::Adjusted {
        words::rotary_as_stated(job.cut.hull.rotary, &second, show)
    } else {
        second
    };
    let rotary = sheet
        .both(sheet.figures.chain.cut_rotary.height())
        .and(format!("  {second}"), Role::Label);
    sheet.add("  RT", rotary, Some(Subject::CutBelowRotary));
}
