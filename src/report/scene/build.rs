//! A scene from the figures of a job.

use super::{Bar, BarKind, Feature, FeatureKind, Lane, Level, LevelKind, Scene, Zone, ZoneKind};
use crate::figures::{Figures, SlotFigures, SlotView};
use crate::journal::Inputs;
use crate::measure::{Elevation, Length, LengthFormat};
use crate::report::words;

/// Which make-up planes are drawn: those of a part of the height, as long as they are not too many to be seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlanesIn {
    /// The upper end of the part.
    pub high: Elevation,
    /// Its lower end.
    pub low: Elevation,
    /// The most of them on one conductor; where there are more, none is drawn.
    pub most: usize,
}

impl Scene {
    /// The scene of a job, with all make-up planes or those that are given; what stands beside its spans is in these
    /// units.
    pub fn of(
        inputs: &Inputs,
        figures: &Figures,
        show: LengthFormat,
        planes: Option<PlanesIn>,
    ) -> Self {
        let job = &inputs.job;
        let levels = levels(inputs);
        let bars = bars(inputs, figures);
        let views = SlotView::all(job, &inputs.tallies).zip(&figures.slots);
        let lanes: Vec<Lane> = views
            .map(|(view, of_slot)| lane(view, of_slot, show, planes))
            .collect();
        let mut all: Vec<Elevation> = levels.iter().map(|level| level.at).collect();
        all.extend(job.hulls.iter().map(|hull| hull.stick_up_surface()));
        all.extend(bars.iter().map(|bar| bar.at));
        for lane in &lanes {
            all.push(lane.mudline);
            all.extend(lane.features.iter().map(|feature| feature.at));
        }
        Self {
            highest: all.iter().max().copied().unwrap_or(job.deck.elevation),
            lowest: all.iter().min().copied().unwrap_or(job.deck.elevation),
            lanes,
            levels,
            bars,
        }
    }
}

fn levels(inputs: &Inputs) -> Vec<Level> {
    let job = &inputs.job;
    let level = |at, name: &str, kind| Level {
        at,
        name: name.to_owned(),
        kind,
    };
    let zero = Elevation::above_datum(Length::ZERO);
    let mut levels = vec![level(job.site.mudline, words::MUDLINE, LevelKind::Mudline)];
    // The sea surface where it was stated as another than the datum.
    let is_apart = job.site.water_level != zero;
    levels.push(level(zero, &job.sea_datum, LevelKind::SeaDatum));
    if is_apart {
        let water = job.site.water_level;
        levels.push(level(water, words::SEA_SURFACE, LevelKind::Water));
    }
    levels.extend(job.hulls.iter().map(|hull| {
        let name = words::rt_at(&hull.name);
        level(hull.rotary, &name, LevelKind::Rotary)
    }));
    levels
}

fn bars(inputs: &Inputs, figures: &Figures) -> Vec<Bar> {
    let job = &inputs.job;
    let mut bars = vec![Bar {
        at: job.deck.elevation,
        slots: (0..job.slots.len()).collect(),
        name: words::DECK.to_owned(),
        kind: BarKind::Deck,
    }];
    let frame = figures.frame.as_ref();
    bars.extend(frame.and_then(|frame| {
        Some(Bar {
            at: frame.base?,
            slots: vec![frame.slot],
            name: words::FRAME_BASE.to_owned(),
            kind: BarKind::Frame,
        })
    }));
    bars
}

/// The make-up planes that are drawn, from the bottom up.
fn planes_of(figures: &SlotFigures, part: Option<PlanesIn>) -> Vec<Elevation> {
    let all = figures.connections.as_slice();
    let part = match part {
        None => all,
        Some(part) => {
            // They are listed from the bottom up.
            let from = all.partition_point(|it| it.plane < part.low);
            let to = all.partition_point(|it| it.plane <= part.high);
            let shown = all.get(from..to).unwrap_or_default();
            if shown.len() > part.most { &[] } else { shown }
        }
    };
    let made_up = part.iter().filter(|it| !it.open_box);
    made_up.map(|it| it.plane).collect()
}

fn lane(
    view: SlotView<'_>,
    figures: &SlotFigures,
    show: LengthFormat,
    planes: Option<PlanesIn>,
) -> Lane {
    let cut = &figures.cut;
    let as_cut = cut.as_cut.as_ref();
    let finished = as_cut.map(|it| Elevation::above_datum(it.mean.value.rounded()));
    // Where nothing says at which elevation it was cut, it is drawn where it should have been.
    let upper = match (finished, cut.is_cut()) {
        (None, true) => Some(cut.target),
        (finished, _) => finished,
    };
    let chain = &figures.chain;
    let will_be_cut = cut.place.is_some() && !cut.is_cut();
    let steel = chain.top.zip(chain.shoe).map(|(top, shoe)| {
        let top = if will_be_cut { cut.target } else { top };
        (upper.unwrap_or(top), shoe)
    });
    let stays = |plane: &Elevation| upper.is_none_or(|upper| *plane <= upper);
    let planes = planes_of(figures, planes);
    Lane {
        slot: view.index,
        name: view.slot.name.clone(),
        steel,
        comes_off: chain.top.filter(|_| will_be_cut),
        planes: planes.into_iter().filter(stays).collect(),
        mudline: view.mudline(),
        features: features(view, figures, upper),
        zones: zones(view, figures, show),
    }
}

fn features(view: SlotView<'_>, figures: &SlotFigures, upper: Option<Elevation>) -> Vec<Feature> {
    let job = view.job;
    let chain = &figures.chain;
    let feature = |at, kind, word: &str| Feature {
        at,
        kind,
        word: word.to_owned(),
    };
    let mut features = Vec::new();
    match upper {
        Some(at) => features.push(feature(at, FeatureKind::FinishedTop, words::FINISHED_TOP)),
        None => features.push(feature(figures.cut.target, FeatureKind::Cut, words::CUT)),
    }
    let shoulder = chain.shoulder.and_then(|shoulder| shoulder.elevation);
    features.extend(shoulder.map(|at| feature(at, FeatureKind::Shoulder, words::SHOULDER)));
    let top = chain.top.filter(|_| upper.is_none());
    features.extend(top.map(|at| feature(at, FeatureKind::Top, words::TOP)));
    features.extend(
        chain
            .shoe
            .map(|at| feature(at, FeatureKind::Shoe, words::SHOE)),
    );
    features.extend(figures.in_keep_outs.iter().filter_map(|found| {
        let zone = job.keep_outs.get(found.keep_out)?;
        let plane = figures.connections.get(found.connection)?.plane;
        let word = words::connection_in(&zone.why);
        Some(feature(plane, FeatureKind::Misplaced, &word))
    }));
    features.extend(figures.accessories.iter().filter_map(|place| {
        let name = &job.accessories.get(place.accessory)?.name;
        Some(feature(place.elevation?, FeatureKind::Accessory, name))
    }));
    features
}

fn zones(view: SlotView<'_>, figures: &SlotFigures, show: LengthFormat) -> Vec<Zone> {
    let job = view.job;
    let keep_outs = job.keep_outs.iter().filter(|it| it.slots.has(view.index));
    let mut zones: Vec<Zone> = keep_outs
        .map(|it| Zone {
            from: it.from,
            to: it.to,
            kind: ZoneKind::KeepOut,
            word: it.why.clone(),
            short: it.why.clone(),
        })
        .collect();
    let cut = &figures.cut;
    let Some(place) = cut.place.as_ref().filter(|_| !cut.is_cut()) else {
        return zones;
    };
    let (line, blade) = (cut.target, cut.target + job.cut.kerf);
    if let Some(clearance) = job.cut.clearance {
        zones.push(Zone {
            from: line - clearance,
            to: blade + clearance,
            kind: ZoneKind::Clearance,
            word: words::clearance_of(clearance, show),
            short: words::clearance_of(clearance, show),
        });
    }
    let nearest = words::marks_to_set_out(figures, place);
    let nearest = nearest.first();
    if let Some(mark) = nearest.filter(|mark| mark.distance.expanded().is_none()) {
        let name = words::mark_name(job, mark.from);
        zones.push(Zone {
            from: line,
            to: line,
            kind: ZoneKind::Blur,
            word: words::u_not_stated(&name),
            short: words::u_not_stated(&name),
        });
    }
    if let Some((mark, u)) = nearest.and_then(|mark| Some((mark, mark.distance.expanded()?))) {
        zones.push(Zone {
            from: line - u,
            to: line + u,
            kind: ZoneKind::Blur,
            word: words::u_of_mark(u, &words::mark_name(job, mark.from), show),
            short: words::u_alone(u, show),
        });
    }
    if !job.cut.kerf.is_zero() {
        zones.push(Zone {
            from: line,
            to: blade,
            kind: ZoneKind::Kerf,
            word: words::kerf_of(job.cut.kerf, show),
            short: words::kerf_of(job.cut.kerf, show),
        });
    }
    zones
}
