//! Words of elevations by all readings, beside those of a slot's chain.

use super::levels::one_of;
use super::second_ways::second_of_rotary;
use crate::figures::{Chain, Compared, Figures, SlotFigures, SlotView};
use crate::job::{Elevations, Hull};
use crate::journal::Inputs;
use crate::measure::{Elevation, Length, LengthFormat};

/// What moves an elevation from that of the chain, in how a figure came about.
pub const BY_ALL_READINGS: &str = "+ what all readings together move it";

/// By how much a length along a leaning string is longer than its height.
pub const BY_INCLINATION: &str = "length less height, by the inclination";

/// Where that is to be seen.
pub const SEE_LEVELS: &str = "all readings adjusted: `kerfmark levels`";

/// Where an uncertainty by all readings comes from.
pub const KNOWN_BY_ALL_READINGS: &str = "all readings adjusted, with what they have in common";

/// That the cut goes by all readings, and none reaches the slot but those of its chain.
const NONE_BEYOND: &str = "Elevations: by all readings together, of which NONE REACHES THIS SLOT but its own RT, stick-up and tally: these are theirs, and nothing checks them.";

/// That an RT is by all readings, and what is stated of it.
pub fn rotary_as_stated(stated: Elevation, second: &str, show: LengthFormat) -> String {
    format!(
        "by all readings; as stated {}, {second}",
        show.text(stated.height())
    )
}

/// What else says where RT is, beside what is stated of it; in a job that is cut by all readings, that its cuts go by another.
pub fn stated_rotary(
    inputs: &Inputs,
    figures: &Figures,
    hull: &Hull,
    show: LengthFormat,
) -> String {
    let second = second_of_rotary(&figures.second_ways, hull, show);
    match inputs.job.cut.elevations {
        Elevations::Chain => second,
        Elevations::Adjusted => {
            format!(
                "AS STATED: cuts go by RT by all readings, which stands with each slot; {second}"
            )
        }
    }
}

/// What the elevations of a string rest on, in short.
pub const fn elevations_by(chain: &Chain) -> &'static str {
    match chain.elevations() {
        Elevations::Chain => chain.basis.word(),
        Elevations::Adjusted => "by all readings",
    }
}

/// Which elevations a statement uses.
pub const fn elevations_are(chain: &Chain) -> &'static str {
    match chain.elevations() {
        Elevations::Chain => "by RT, stick-up and tally of this slot",
        Elevations::Adjusted => "by all readings together",
    }
}

/// Which elevations the marks of a slot use, and what the other way says; `None` where there is none.
pub fn elevations_used(
    view: SlotView<'_>,
    figures: &SlotFigures,
    show: LengthFormat,
) -> Option<String> {
    let Some(found) = figures.adjusted.as_ref() else {
        let by_all = figures.chain.elevations() == Elevations::Adjusted;
        return by_all.then(|| NONE_BEYOND.to_owned());
    };
    let by_chain = figures.chain.elevations() == Elevations::Chain;
    let one = |what: &str, it: &Compared| {
        let other = if by_chain {
            Some(it.adjusted)
        } else {
            it.chain
        };
        let (other, less) = other.zip(it.less_chain())?;
        let off = if by_chain { less } else { -less };
        let limit = it.limit.and_then(Length::nearest_to_metres);
        // What no further reading reaches is the chain's own, and has no more to say for it.
        if less.is_zero() && limit.is_some_and(Length::is_zero) {
            let other = show.text(other.height());
            return Some(format!("{what} {other} (NO FURTHER READING REACHES IT)"));
        }
        let limit = limit.map_or_else(String::new, |limit| {
            format!(", by chance at most {}", show.small(limit))
        });
        Some(format!(
            "{what} {} ({}{limit})",
            show.text(other.height()),
            show.small_signed(off)
        ))
    };
    let hull = &view.job.cut.hull.name;
    let top = found.top.as_ref().and_then(|it| one("top", it));
    let rotary = one(&format!("RT at {hull}"), &found.rotary);
    let both: Vec<String> = top.into_iter().chain(rotary).collect();
    let both = both.join(", ");
    let doubt = if found.suspect.is_empty() {
        String::new()
    } else {
        format!(
            " Among all readings one is to be read again first: {}.",
            one_of(&found.suspect)
        )
    };
    Some(if by_chain {
        format!(
            "Elevations: by RT, stick-up and tally of this slot. All readings together say: {both}.{doubt}"
        )
    } else {
        format!(
            "Elevations: by all readings together, on which every mark rests: that two marks agree does not check them. RT, stick-up and tally of this slot alone say: {both}.{doubt}"
        )
    })
}
