//! The corrections that a job asks for.

use super::super::bounds;
use super::super::correction::{ALPHA, CorrectedReadings, Correction, CorrectionTerm};
use super::super::problem::What;
use super::super::section::Section;
use super::super::walk::Walk;
use super::list::conflicting;
use super::names::slot_set;
use crate::measure::Length;

/// The kinds, each with the keys that it needs.
const KINDS: [(&str, &[&str]); 5] = [
    ("standard", &["nominal", "actual"]),
    ("temperature", &["at", "standard"]),
    ("pull", &["at", "standard", "area"]),
    ("sag", &["mass_per_metre", "pull", "span"]),
    ("stretch", &["fluid_density"]),
];

/// All keys of some kind or other.
const KEYS: [&str; 10] = [
    "nominal",
    "actual",
    "at",
    "standard",
    "alpha",
    "area",
    "mass_per_metre",
    "pull",
    "span",
    "fluid_density",
];

/// What stands for the readings of a tally.
const TALLY: &str = "tally";

pub(super) fn correction<'t>(
    section: &Section<'t>,
    walk: &mut Walk<'t>,
    names: &[&str],
) -> Option<Correction> {
    let on = section.required_text(
        walk,
        "on",
        "\"tally\", or how readings were made, such as \"tape\"",
    );
    let slots = slot_set(section, walk, names);
    for key in KEYS {
        section.get(key);
    }
    if on.as_deref().is_some_and(|on| on != TALLY) && section.has("slots") {
        conflicting(
            section,
            walk,
            "slots",
            "is for corrections on \"tally\" alone",
        );
    }
    let words = KINDS.map(|(word, _)| (word, word));
    if !section.has("kind") {
        walk.report(
            &section.span_of("kind"),
            What::Missing {
                key: section.key("kind"),
                expected: "one of standard, temperature, pull, sag and stretch".to_owned(),
            },
        );
    }
    let kind = section.word(walk, "kind", &words)?;
    let needed = KINDS.iter().find(|(word, _)| *word == kind)?.1;
    let takes = |key: &str| needed.contains(&key) || (kind == "temperature" && key == "alpha");
    for key in KEYS
        .into_iter()
        .filter(|key| section.has(key) && !takes(key))
    {
        let conflict = format!("is no part of a correction of the kind {kind}");
        conflicting(section, walk, key, &conflict);
    }
    for key in needed.iter().filter(|key| !section.has(key)) {
        walk.report(
            &section.span_of(key),
            What::Missing {
                key: section.key(key),
                expected: format!("its value: corrections of the kind {kind} need it"),
            },
        );
    }
    if kind == "stretch" && on.as_deref() != Some(TALLY) {
        conflicting(
            section,
            walk,
            "kind",
            "stretch is of a hung string: it goes on \"tally\"",
        );
        return None;
    }
    let term = term(section, walk, kind)?;
    let on = on?;
    Some(Correction {
        on: if on == TALLY {
            CorrectedReadings::Tally(slots)
        } else {
            CorrectedReadings::How(on)
        },
        term,
    })
}

/// Tells a correction that is asked for twice.
pub(super) fn twice(root: &Section<'_>, walk: &mut Walk<'_>, corrections: &[Correction]) {
    for (at, correction) in corrections.iter().enumerate() {
        if corrections.iter().take(at).any(|it| it == correction) {
            let conflict = format!(
                "{} is the same as another: its readings would be corrected twice",
                at + 1
            );
            conflicting(root, walk, "correction", &conflict);
        }
    }
}

fn term<'t>(section: &Section<'t>, walk: &mut Walk<'t>, kind: &str) -> Option<CorrectionTerm> {
    Some(match kind {
        "standard" => {
            let nominal = section.length(walk, &bounds::TAPE_NOMINAL);
            let actual = section.length(walk, &bounds::TAPE_ACTUAL);
            let (nominal, actual) = (nominal?, actual?);
            if (actual - nominal).abs() > Length::from_nm(nominal.nm() / 100) {
                let conflict = "differs from `nominal` by more than 1 %: no tape is off by so much";
                conflicting(section, walk, "actual", conflict);
            }
            CorrectionTerm::Standard { nominal, actual }
        }
        "temperature" => {
            let at = section.real(walk, &bounds::AT_TEMPERATURE);
            let standard = section.real(walk, &bounds::STANDARD_TEMPERATURE);
            let alpha = section.real(walk, &bounds::ALPHA);
            CorrectionTerm::Temperature {
                at: at?,
                standard: standard?,
                alpha: alpha.unwrap_or(ALPHA),
            }
        }
        "pull" => {
            let at = section.real(walk, &bounds::AT_PULL);
            let standard = section.real(walk, &bounds::STANDARD_PULL);
            let area = section.real(walk, &bounds::TAPE_AREA);
            CorrectionTerm::Pull {
                at: at?,
                standard: standard?,
                area: area? * 1e-6,
            }
        }
        "sag" => {
            let mass_per_metre = section.real(walk, &bounds::TAPE_MASS);
            let pull = section.real(walk, &bounds::PULL);
            let span = section.length(walk, &bounds::SPAN);
            CorrectionTerm::Sag {
                mass_per_metre: mass_per_metre?,
                pull: pull?,
                span: span?,
            }
        }
        _ => CorrectionTerm::Stretch {
            fluid_density: section.real(walk, &bounds::FLUID_DENSITY)?,
        },
    })
}
