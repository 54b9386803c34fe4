//! What lies on the conductor in front, where the cursor can jump to, and the part of the height that shows a cut.

use super::View;
use super::picture::scene;
use super::scale::Scale;
use crate::measure::{Elevation, Length};
use crate::report::scene::{FeatureKind, Lane, LevelKind, Scene, ZoneKind};
use crate::report::words;
use crate::screens::state::State;
use crate::screens::theme::Role;

/// From so many columns on what the cursor reads stands beside the picture.
pub(super) const TWO_PANES: u16 = 118;

/// Rows of the picture: what is left beside its head, and where it is narrow beside the three lines of what the cursor
/// reads.
pub fn picture_rows(columns: u16, body: usize) -> usize {
    let others = if columns < TWO_PANES { 4 } else { 1 };
    body.saturating_sub(others).max(1)
}

/// The part of the height that shows a cut with its kerf and how well its line is found; `None` where it is not on the
/// string.
pub(super) fn near_cut(state: &State, slot: usize) -> Option<View> {
    let (_, _, figures) = state.of(slot)?;
    let place = figures.cut.place.as_ref()?;
    let marks = words::marks_to_set_out(figures, place);
    let u = marks.first().and_then(|mark| mark.distance.expanded());
    let most = u.unwrap_or_default().max(state.inputs.job.cut.kerf);
    let span = most.max(Length::from_mm(5)).times(6);
    let target = figures.cut.target;
    Some(View {
        top: target + Length::from_nm(span.nm() / 2),
        span,
        cursor: target,
    })
}

/// What lies on a conductor and what it is seen against, from the top.
pub(super) fn listed(scene: &Scene, lane: &Lane) -> Vec<(Elevation, String, Role)> {
    let features = lane.features.iter().map(|it| {
        let role = match it.kind {
            FeatureKind::Cut | FeatureKind::FinishedTop => Role::Cut,
            FeatureKind::Shoulder => Role::Shoulder,
            FeatureKind::Accessory => Role::Accessory,
            FeatureKind::Misplaced => Role::Check,
            FeatureKind::Top | FeatureKind::Shoe => Role::Plain,
        };
        (it.at, it.word.clone(), role)
    });
    let zones = lane.zones.iter().filter(|it| it.kind == ZoneKind::KeepOut);
    let zones = zones.flat_map(|it| {
        [
            (it.to, words::upper_end(&it.word), Role::Label),
            (it.from, words::lower_end(&it.word), Role::Label),
        ]
    });
    let mudline = (lane.mudline, words::MUDLINE.to_owned(), Role::Ground);
    let levels = scene.levels.iter();
    let levels = levels.filter(|it| it.kind != LevelKind::Mudline);
    let levels = levels.map(|it| (it.at, it.name.clone(), Role::Label));
    let bars = scene.bars.iter();
    let bars = bars.map(|it| (it.at, it.name.clone(), Role::Label));
    let others = levels.chain(bars).chain([mudline]);
    let mut listed: Vec<_> = features.chain(zones).chain(others).collect();
    listed.sort_by_key(|(at, ..)| std::cmp::Reverse(*at));
    listed
}

/// The elevations of what lies on the conductor in front and of what it is seen against, from the top.
pub(super) fn stops(state: &State) -> Vec<Elevation> {
    let scale = Scale {
        view: state.view,
        rows: 1,
    };
    let scene = scene(state, &scale);
    let lane = scene.lanes.get(state.slot_index());
    let listed = lane.into_iter().flat_map(|lane| listed(&scene, lane));
    let mut stops: Vec<Elevation> = listed.map(|it| it.0).collect();
    stops.sort_by_key(|at| std::cmp::Reverse(*at));
    stops.dedup();
    stops
}
