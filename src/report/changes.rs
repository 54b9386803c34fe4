//! What a change of the files changed: every figure and every flag that differs, by name.

use super::words;
use crate::figures::catalogue::{Entry, FigureId, Value, of_job, of_slot};
use crate::figures::{CutStatus, Figures, SlotView, Standing};
use crate::finding::Flag;
use crate::journal::Inputs;
use crate::measure::LengthFormat;

/// The named values of a slot, or of the job as a whole. Names are unique: where two things have one
/// name, the second is told by its number.
struct NamedValues(Vec<(String, Value)>);

impl NamedValues {
    fn of(entries: Vec<Entry>, name: impl Fn(FigureId) -> String) -> Self {
        let mut named: Vec<(String, Value)> = Vec::with_capacity(entries.len());
        for entry in entries.into_iter().filter(|entry| !entry.follows) {
            let plain = name(entry.id);
            let mut unique = plain.clone();
            let mut count = 1;
            while named.iter().any(|(known, _)| *known == unique) {
                count += 1;
                unique = format!("{plain} ({count})");
            }
            named.push((unique, entry.value));
        }
        Self(named)
    }

    fn get(&self, name: &str) -> Option<&Value> {
        let found = self.0.iter().find(|(known, _)| known == name);
        found.map(|(_, value)| value)
    }

    /// What differs from these to those, each with `of` before it.
    fn against(&self, now: &Self, of: &str, format: LengthFormat, changes: &mut Vec<String>) {
        for (name, value) in &now.0 {
            if let Some(change) = words::change(self.get(name), value, format) {
                let colon = if matches!(value, Value::Lengths(_)) {
                    ":"
                } else {
                    ""
                };
                changes.push(format!("{of}{name}{colon} {change}"));
            }
        }
        for (name, _) in &self.0 {
            if now.get(name).is_none() {
                changes.push(format!("{of}{name} removed"));
            }
        }
    }
}

fn views(inputs: &Inputs) -> Vec<SlotView<'_>> {
    SlotView::all(&inputs.job, &inputs.tallies).collect()
}

/// What became of a slot's signatures: a release come or gone, and how many do not stand.
fn signatures(then: &Standing, now: &Standing, of: &str, changes: &mut Vec<String>) {
    // A release that another status took away is named by that status.
    let is_clear = now.status == CutStatus::Clear;
    if is_clear && then.release.is_some() != now.release.is_some() {
        changes.push(format!("{of}{}", words::cut_state(now)));
    }
    if now.fallen != then.fallen {
        let text = words::fallen(now.fallen);
        let text = text.unwrap_or_else(|| words::NONE_FALLEN.to_owned());
        changes.push(format!("{of}{text}"));
    }
}

/// Every figure and flag that differs between two states of the files.
pub fn changes(
    format: LengthFormat,
    before: (&Inputs, &Figures),
    now: (&Inputs, &Figures),
) -> Vec<String> {
    let mut changes = Vec::new();
    let (was, is) = (views(before.0), views(now.0));
    for view in &is {
        let name = &view.slot.name;
        let of = format!("{name}: ");
        let Some(old) = was.iter().find(|old| old.slot.name == *name) else {
            changes.push(format!("{of}new slot"));
            continue;
        };
        if let (Some(figures_then), Some(figures_now)) =
            (before.1.slots.get(old.index), now.1.slots.get(view.index))
        {
            let status = |all: &Figures, at: usize| {
                let standing = all.standings.get(at);
                standing.map_or(CutStatus::Stop, |standing| standing.status)
            };
            if let (Some(then), Some(now)) = (
                before.1.standings.get(old.index),
                now.1.standings.get(view.index),
            ) {
                signatures(then, now, &of, &mut changes);
            }
            let status_then = status(before.1, old.index);
            let status_now = status(now.1, view.index);
            let then = NamedValues::of(of_slot(*old, figures_then, status_then), |id| {
                words::figure_name(*old, figures_then, id)
            });
            let now = NamedValues::of(of_slot(*view, figures_now, status_now), |id| {
                words::figure_name(*view, figures_now, id)
            });
            then.against(&now, &of, format, &mut changes);
            flags(
                format,
                &figures_then.flags,
                &figures_now.flags,
                &of,
                &mut changes,
            );
        }
    }
    for old in &was {
        if !is.iter().any(|view| view.slot.name == old.slot.name) {
            changes.push(format!("{}: slot removed", old.slot.name));
        }
    }
    let of_job = |(inputs, figures): (&Inputs, &Figures)| {
        NamedValues::of(of_job(&inputs.job, figures), |id| {
            words::plain_name(id).to_owned()
        })
    };
    of_job(before).against(&of_job(now), "", format, &mut changes);
    flags(format, &before.1.flags, &now.1.flags, "", &mut changes);
    changes
}

/// Flags that were raised or cleared, or say something else now.
fn flags(format: LengthFormat, before: &[Flag], now: &[Flag], of: &str, changes: &mut Vec<String>) {
    let find = |flags: &'_ [Flag], flag: &Flag| flags.iter().position(|it| it.code == flag.code);
    for flag in now {
        let what = match find(before, flag).and_then(|at| before.get(at)) {
            None => "raised",
            Some(was) if was != flag => "now says",
            Some(_) => continue,
        };
        changes.push(format!(
            "{of}flag {} {} {what}: {}",
            flag.severity.word(),
            flag.code,
            words::flag(flag, format)
        ));
    }
    for flag in before {
        if find(now, flag).is_none() {
            changes.push(format!("{of}flag {} cleared", flag.code));
        }
    }
}
