//! A string that is being run: what hangs, what comes next, and what the weight indicator must read.

use super::chain::{Basis, Chain, SlotView};
use super::steel;
use crate::job::Slot;
use crate::journal::{SlotRecord, Source};
use crate::measure::{Elevation, Length};
use crate::tally::Joint;

/// What every expected load leaves out.
const LEFT_OUT_ALWAYS: [LeftOut; 2] = [LeftOut::Fluid, LeftOut::Drag];

/// What an expected hook load leaves out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeftOut {
    /// Fluid inside that is not the sea's.
    Fluid,
    /// Drag and waves.
    Drag,
    /// The connectors: their mass is not given.
    Connectors,
    /// The block and what hangs from it: `rig.block_mass` is not given.
    Block,
    /// The frame: `frame.weight` is not given.
    Frame,
}

/// The load that the weight indicator is expected to show, in kg.
#[derive(Clone, Debug, PartialEq)]
pub struct HookLoad {
    /// Steel above the sea surface.
    pub in_air: f64,
    /// Steel below it, in air.
    pub below_surface: f64,
    /// By how much the water carries it.
    pub buoyancy: f64,
    /// The frame, once the shoulder has picked it up.
    pub frame: Option<f64>,
    /// The block and what hangs from it.
    pub block: Option<f64>,
    /// What is left out.
    pub leaves_out: Vec<LeftOut>,
}

impl HookLoad {
    /// All that is known, together.
    pub fn total(&self) -> f64 {
        let rig = self.frame.unwrap_or_default() + self.block.unwrap_or_default();
        self.in_air + self.below_surface - self.buoyancy + rig
    }
}

/// A string as it hangs.
#[derive(Clone, Debug, PartialEq)]
pub struct Running {
    /// How many joints hang, landing joints included.
    pub joints_run: usize,
    /// The joint of the tally that comes next, by its index; `None` where all hang.
    pub next: Option<usize>,
    /// How many joints of the tally do not hang.
    pub joints_to_run: usize,
    /// Their lengths as they will be made up.
    pub to_run: Length,
    /// Length from the shoe to the top of what hangs.
    pub hanging: Length,
    /// The stick-up that was read last with these joints.
    pub stick_up: Option<Length>,
    /// The shoe as it hangs; with the top level with the spider where no stick-up was read.
    pub shoe: Elevation,
    /// How far it is down to the planned place, negative where it is too low; `None` without a plan.
    pub still_to_lower: Option<Length>,
    /// The stick-up at landing, with all joints run; `None` without a plan.
    pub stick_up_at_landing: Option<Length>,
    /// What the weight indicator is expected to show; `None` where nothing hangs, or the water's density is
    /// not given and something hangs below its surface.
    pub hook_load: Option<HookLoad>,
    /// The mass of the next joint in air, in kg.
    pub next_lift: Option<f64>,
}

impl Running {
    /// A slot's string as it hangs.
    pub(super) fn of(view: SlotView<'_>, said: Option<&SlotRecord>) -> Self {
        let planned = Chain::of(SlotView {
            slot: &Slot {
                stick_up: None,
                ..view.slot.clone()
            },
            ..view
        });
        let hanging = said.map_or(&[][..], |said| &said.hanging);
        let length: Length = hanging.iter().map(|it| it.what.adds).sum();
        let joints = view.tally.joints.iter().enumerate();
        let hangs = |index: usize| {
            let mut sources = hanging.iter().map(|it| it.what.source);
            sources.any(|source| source == Source::Tally(index))
        };
        let open: Vec<(usize, &Joint)> = joints.filter(|(index, _)| !hangs(*index)).collect();
        let whole = planned.string.length + planned.string.landing_length;
        let surface = view.slot.hull.stick_up_surface();
        let stick_up = said.and_then(last_stick_up);
        let shoe = surface + stick_up.unwrap_or_default() - length;
        let next = open.first().map(|(index, _)| *index);
        Self {
            joints_run: hanging.len(),
            next,
            joints_to_run: open.len(),
            to_run: whole - length,
            hanging: length,
            stick_up,
            shoe,
            still_to_lower: planned.shoe.map(|planned| shoe - planned),
            stick_up_at_landing: planned.stick_up.filter(|_| planned.basis == Basis::Planned),
            hook_load: hook_load(view, said, shoe, length),
            next_lift: next.and_then(|index| {
                let joint = view.tally.joints.get(index)?;
                let length = joint.length?;
                let pipe = &view.slot.pipe;
                Some(steel::mass_per_metre(pipe) * length.real_metres())
            }),
        }
    }
}

/// The stick-up that was read last since the last joint was run or pulled, or with that joint.
fn last_stick_up(said: &SlotRecord) -> Option<Length> {
    let last = said.hanging.last()?;
    let read = said
        .stick_ups
        .iter()
        .rev()
        .find(|it| it.order() > last.order());
    read.map(|it| it.what.value).or(last.what.run.after)
}

/// Weight in air of what is above the sea surface, buoyant weight of what is below it, the frame's submerged
/// weight once the shoulder has picked it up, and the block.
fn hook_load(
    view: SlotView<'_>,
    said: Option<&SlotRecord>,
    shoe: Elevation,
    length: Length,
) -> Option<HookLoad> {
    let hanging = said.map_or(&[][..], |said| &said.hanging);
    if hanging.is_empty() {
        return None;
    }
    let (job, pipe) = (view.job, &view.slot.pipe);
    let top = shoe + length;
    let surface = job.site.water_level;
    let wet = (surface.min(top) - shoe).max(Length::ZERO);
    let dry = length - wet;
    let per_metre = steel::mass_per_metre(pipe);
    let (mut in_air, mut below_surface) =
        (per_metre * dry.real_metres(), per_metre * wet.real_metres());
    let mut leaves_out = LEFT_OUT_ALWAYS.to_vec();
    let mut height = Length::ZERO;
    for (index, joint) in hanging.iter().enumerate() {
        if index > 0 {
            match pipe.connector_mass {
                Some(mass) if shoe + height < surface => below_surface += mass,
                Some(mass) => in_air += mass,
                None if leaves_out.contains(&LeftOut::Connectors) => {}
                None => leaves_out.push(LeftOut::Connectors),
            }
        }
        height += joint.what.adds;
    }
    let buoyancy = if wet.is_zero() {
        0.0
    } else {
        below_surface * job.site.water_density? / pipe.density
    };
    let has_frame = job.frame.as_ref().filter(|frame| frame.slot == view.index);
    let running = running_joint(view, hanging.iter().map(|it| it.what.run.joint.as_str()));
    let frame = has_frame.filter(|_| running.is_some_and(|at| at + 1 < hanging.len()));
    if frame.is_some_and(|frame| frame.weight.is_none()) {
        leaves_out.push(LeftOut::Frame);
    }
    if job.block_mass.is_none() {
        leaves_out.push(LeftOut::Block);
    }
    Some(HookLoad {
        in_air,
        below_surface,
        buoyancy,
        frame: frame.and_then(|frame| frame.weight),
        block: job.block_mass,
        leaves_out,
    })
}

/// The place of the running joint among those that hang.
pub(super) fn running_joint<'a>(
    view: SlotView<'_>,
    mut hanging: impl Iterator<Item = &'a str>,
) -> Option<usize> {
    let chain = Chain::of(view);
    let piece = chain.shoulder?.piece;
    let number = chain.number(view.tally, piece);
    hanging.position(|joint| joint == number)
}
