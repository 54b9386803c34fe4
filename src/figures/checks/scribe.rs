//! The scribed line by its marks: against each other, and against the target.

use crate::figures::chain::Chain;
use crate::figures::checks::slot::Checked;
use crate::figures::cut::CutPlace;
use crate::figures::estimate::total;
use crate::figures::limits::limit;
use crate::figures::marks::{Mark, MarkFrom};
use crate::finding::{Code, Flag, FoundByMark, JournalFinding, Place};
use crate::job::Job;
use crate::journal::{Inputs, Said, Scribe, SlotRecord};
use crate::measure::{Elevation, Length};

/// The elevation of the scribed line by one mark, and the mark.
fn line_by<'m>(
    job: &Job,
    marks: &'m [Mark],
    target: Elevation,
    (from, distance): (&str, Length),
    rotary: Option<Elevation>,
) -> Option<(&'m Mark, Elevation)> {
    let mut marks = marks.iter();
    let mark = marks.find(|mark| mark.from.name(job) == from)?;
    // The reference is where the mark's own distance leads to the target from.
    let beyond = distance - mark.distance.value;
    let line = match (mark.from, rotary) {
        // RT as it was when the line was measured: the hull may have moved since.
        (MarkFrom::Rotary, Some(rotary)) => return Some((mark, rotary - distance)),
        (MarkFrom::LowerPlane, _) => target + beyond,
        _ => target - beyond,
    };
    Some((mark, line))
}

/// Lines by marks that share no reading and disagree by what is stated of each: by all readings they hang together, and agree
/// whatever those are.
fn apart_as_stated(
    checked: &Checked<'_>,
    place: &CutPlace,
    found: &[(&Mark, Elevation, FoundByMark)],
) -> Vec<(FoundByMark, FoundByMark, Length)> {
    let (view, chain) = (checked.view, checked.chain);
    let stated = Chain::of(view);
    let point = |of: &Chain, from: MarkFrom| match from {
        MarkFrom::Rotary => Some(of.cut_rotary),
        MarkFrom::Top => of.top,
        MarkFrom::LowerPlane => of.lower_plane(place.piece),
        MarkFrom::UpperPlane => of.upper_plane(place.piece),
        MarkFrom::Bench(index) => of.benches.get(index).copied(),
    };
    let lines = found.iter().filter_map(|(mark, here, by)| {
        let less = point(&stated, mark.from)? - point(chain, mark.from)?;
        let found = FoundByMark {
            elevation: *here + less,
            is_as_stated: true,
            ..by.clone()
        };
        Some((mark, found))
    });
    let lines: Vec<_> = lines.collect();
    let mut apart = Vec::new();
    for (at, (one, by_one)) in lines.iter().enumerate() {
        for (other, by_other) in lines.iter().skip(at + 1) {
            let readings = other.rests_on();
            if one.rests_on().iter().any(|it| readings.contains(it)) {
                continue;
            }
            let both = total(&one.distance.terms).zip(total(&other.distance.terms));
            let known = both.map(|(one, other)| limit(2.0, one.and(other)));
            let allowed = known.unwrap_or_default().max(view.job.agree.marks);
            if (by_one.elevation - by_other.elevation).abs() > allowed {
                apart.push((by_one.clone(), by_other.clone(), allowed));
            }
        }
    }
    apart
}

/// The scribed line by its marks: against each other, and against the target.
pub(super) fn scribe(inputs: &Inputs, checked: &Checked<'_>, said: &SlotRecord) -> Option<Flag> {
    let scribe: &Said<Scribe> = said.scribe.as_ref()?;
    let (job, target) = (checked.view.job, checked.cut.target);
    let place = checked.cut.place.as_ref()?;
    let hull = &job.cut.hull.name;
    let by_all = checked.chain.cut_rotary - job.cut.hull.rotary;
    let rotary = inputs.record.rotary_at(hull, scribe.order());
    let rotary = rotary.map(|at| at + by_all);
    let found: Vec<(&Mark, Elevation, FoundByMark)> = scribe
        .what
        .marks
        .iter()
        .filter_map(|it| {
            let (mark, elevation) = line_by(
                job,
                &place.all_marks,
                target,
                (&it.from, it.distance),
                rotary,
            )?;
            let found = FoundByMark {
                mark: it.from.clone(),
                elevation,
                is_as_stated: false,
            };
            Some((mark, elevation, found))
        })
        .collect();
    let least = job.agree.marks;
    let mut apart = Vec::new();
    for (at, (one, here, by_one)) in found.iter().enumerate() {
        for (other, there, by_other) in found.iter().skip(at + 1) {
            let both = one.distance.variance().zip(other.distance.variance());
            let known = both.map(|(one, other)| limit(2.0, one.and(other)));
            let allowed = known.unwrap_or_default().max(least);
            if (*here - *there).abs() > allowed {
                apart.push((by_one.clone(), by_other.clone(), allowed));
            }
        }
    }
    if checked.chain.by_readings.is_some() && apart.is_empty() {
        apart = apart_as_stated(checked, place, &found);
    }
    let off: Vec<(FoundByMark, Length)> = found
        .iter()
        .filter_map(|(mark, here, by)| {
            let u = mark.distance.expanded().unwrap_or_default();
            let allowed = u.max(least);
            ((*here - target).abs() > allowed).then(|| (by.clone(), allowed))
        })
        .collect();
    (!apart.is_empty() || !off.is_empty()).then(|| {
        let finding = JournalFinding::ScribeApart {
            seq: scribe.seq,
            apart,
            off,
            target,
        };
        Flag::new(Code::ScribeDisagrees, Place::Cut, finding)
    })
}
