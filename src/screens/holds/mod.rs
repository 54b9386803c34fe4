//! The next hold point of the slot in front: what it lacks, each line leading to where that is entered.

use crate::figures::CutStatus;
use crate::finding::Code;
use crate::report::words;
use crate::screens::entry;
use crate::screens::overlay::{HoldLine, Leads, Overlay};
use crate::screens::parts::list::{ListItem, list};
use crate::screens::parts::pen::{Pen, StyledLine};
use crate::screens::screen::Screen;
use crate::screens::signing;
use crate::screens::state::State;
use crate::screens::theme::Role;
use crate::signing::{Missing, missing, next_hold, verify};

/// Opens the list for the slot in front.
pub fn open(state: &mut State) {
    let lines = lines(state);
    let leads = lines.iter().position(|it| it.leads != Leads::Nowhere);
    state.overlay = Overlay::Hold {
        lines,
        at: leads.unwrap_or(0),
    };
}

/// What the next hold point lacks by now.
fn lines(state: &State) -> Vec<HoldLine> {
    let (inputs, figures, slot) = (&state.inputs, &state.figures, state.slot_index());
    let plain = |text: String| HoldLine {
        text,
        leads: Leads::Nowhere,
    };
    let verified = verify(inputs);
    let Some(next) = next_hold(inputs, &verified, slot) else {
        let is_used = !inputs.job.people.hold_points().is_empty();
        let text = if is_used {
            words::ALL_PASSED
        } else {
            words::NO_ROLES
        };
        return vec![plain(text.to_owned())];
    };
    let lacks = missing(inputs, figures, &verified, (slot, next.hold), (None, None));
    let mut lines: Vec<HoldLine> = lacks
        .iter()
        .map(|lack| HoldLine {
            text: words::missing(lack),
            leads: leads(lack),
        })
        .collect();
    let is_ready = lines.is_empty();
    for role in &next.roles {
        let holders = inputs.job.people.holders(*role);
        lines.push(HoldLine {
            text: words::to_sign(*role, &holders),
            leads: if is_ready {
                Leads::Sign(next.hold, *role)
            } else {
                Leads::Nowhere
            },
        });
    }
    lines.insert(
        0,
        plain(words::next_hold_is(&state.slot, next.hold, is_ready)),
    );
    let of_slot = verified.iter().filter(|it| it.slot == state.slot);
    let fallen = of_slot.filter(|it| !it.state.stands());
    for of in fallen {
        lines.push(HoldLine {
            text: words::stands_no_more(of),
            leads: Leads::Screen(Screen::Record),
        });
    }
    lines
}

/// Where something that is missing is entered.
fn leads(lack: &Missing) -> Leads {
    match lack {
        Missing::NoScribe
        | Missing::NoTwoMarks
        | Missing::CheckedByFirst(_)
        | Missing::MarkUnknown(_) => Leads::Form("scribe", None),
        Missing::NoAsCut => Leads::Form("as-cut", None),
        Missing::NoStickUp | Missing::Planned | Missing::NoStickUpAfter(_) => {
            Leads::Form("stick-up", None)
        }
        Missing::Checks(codes) | Missing::Unproven(codes) => match codes.first() {
            Some(code) => Leads::Form("waiver", Some(code.name())),
            None => Leads::Nowhere,
        },
        Missing::Stops(codes) if codes.contains(&Code::HullMoving) => {
            Leads::Form("hull-position", None)
        }
        Missing::Stops(codes) if codes.contains(&Code::AsRunDiffers) => {
            Leads::Screen(Screen::Reconcile)
        }
        Missing::Stops(_) | Missing::Outside | Missing::CutAlready => Leads::Screen(Screen::Cut),
        Missing::JournalBroken => Leads::Screen(Screen::Record),
        _ => Leads::Nowhere,
    }
}

/// Goes where the line under the cursor leads.
pub fn follow(state: &mut State) {
    let Overlay::Hold { lines, at } = &state.overlay else {
        return;
    };
    let Some(leads) = lines.get(*at).map(|line| line.leads.clone()) else {
        return;
    };
    match leads {
        Leads::Nowhere => {}
        Leads::Screen(screen) => {
            state.overlay = Overlay::None;
            state.screen = screen;
        }
        Leads::Sign(hold, role) => signing::open(state, hold, role),
        Leads::Form(event, flag) => {
            entry::open(state, event);
            if let (Overlay::Form(form), Some(flag)) = (&mut state.overlay, flag) {
                **form = entry::Form::clone(form).with("flag", flag).from("why");
            }
        }
    }
}

/// Draws the list.
pub fn draw(state: &State, pen: &mut Pen<'_>, lines: &[HoldLine], at: usize) {
    let standing = state.figures.standings.get(state.slot_index());
    let role = standing.map_or(Role::Plain, |it| Role::of_status(it.status));
    let (words, role) = match standing {
        _ if state.old.is_some() => (words::OLD_STATE.to_owned(), Role::Old),
        Some(standing) => (words::cut_state(standing), role),
        None => (String::new(), role),
    };
    let is_cut = standing.is_some_and(|it| it.status == CutStatus::Cut);
    let title = StyledLine::of(format!("Slot {}  ", state.slot), Role::Title).and(
        format!(" {words} "),
        if is_cut { Role::Title } else { role },
    );
    pen.line(1, 0, &title);
    let width = usize::from(pen.area.width).saturating_sub(4);
    let items: Vec<ListItem<()>> = lines
        .iter()
        .map(|line| {
            let sign = if matches!(line.leads, Leads::Nowhere) {
                "  "
            } else {
                "> "
            };
            let text = StyledLine::of(format!("{sign}{}", line.text), Role::Plain);
            ListItem {
                lines: text.wrapped(width, 4),
                opens: (),
            }
        })
        .collect();
    let (wide, high) = (pen.area.width, pen.area.height.saturating_sub(2));
    list(&mut pen.part(0, 2, wide, high), &items, Some(at), 0);
}
