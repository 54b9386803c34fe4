//! The flags of one slot that its figures raise.

use crate::figures::as_cut::ENOUGH_READINGS;
use crate::figures::chain::{Basis, Chain, PlanOf, RunningJoint, SlotView};
use crate::figures::connections::Connection;
use crate::figures::cut::{Cut, CutPlace};
use crate::figures::estimate::total;
use crate::figures::fits::{AccessoryPlace, InKeepOut};
use crate::figures::marks::bench_moved;
use crate::figures::terms::{of_as_cut, of_level};
use crate::finding::{
    CloseTo, Code, CutFinding, FitFinding, Flag, JointRef, KeepOutRef, Part, Place, ProofOf,
    Severity, StringFinding, TopFinding,
};
use crate::job::Plan;
use crate::measure::{Elevation, Length};
use crate::tally::Kind;

/// What the checks of a slot look at.
pub(in crate::figures) struct Checked<'a> {
    pub(in crate::figures) view: SlotView<'a>,
    pub(in crate::figures) chain: &'a Chain,
    pub(in crate::figures) connections: &'a [Connection],
    pub(in crate::figures) cut: &'a Cut,
    pub(in crate::figures) accessories: &'a [AccessoryPlace],
    pub(in crate::figures) in_keep_outs: &'a [InKeepOut],
}

/// The flags of a slot, in no set order.
pub(in crate::figures) fn slot(checked: &Checked<'_>) -> Vec<Flag> {
    let mut flags = Vec::new();
    checked.basis(&mut flags);
    checked.running_joint(&mut flags);
    checked.windows(&mut flags);
    checked.cut(&mut flags);
    checked.as_cut(&mut flags);
    flags.extend(checked.keep_outs());
    checked.accessories(&mut flags);
    flags
}

impl Checked<'_> {
    fn number(&self, piece: usize) -> String {
        self.chain.number(self.view.tally, piece).to_owned()
    }

    fn basis(&self, flags: &mut Vec<Flag>) {
        let (slot, chain) = (self.view.slot, self.chain);
        let mut flag = |code, finding| flags.push(Flag::new(code, Place::Whole, finding));
        if chain.basis == Basis::None {
            let plan_without_joint = matches!(slot.plan, Some(Plan::Shoulder(_)))
                && !matches!(chain.running, RunningJoint::At(_));
            flag(
                Code::NoStickUp,
                StringFinding::NoStickUp { plan_without_joint },
            );
        }
        let rotary = chain.rotary;
        let without_landing = chain.string.landing.is_empty();
        if let Some(plan) = chain.plan(slot)
            && let Some(off) = plan.read_less_plan
            && off.abs() > self.view.job.agree.plan
        {
            flag(
                Code::OffPlan,
                StringFinding::OffPlan {
                    part: match plan.of {
                        PlanOf::Shoulder => Part::Shoulder,
                        PlanOf::Top => Part::Top,
                    },
                    planned: plan.planned,
                    off,
                    allowed: self.view.job.agree.plan,
                },
            );
        }
        let is_read = chain.basis == Basis::Read;
        if is_read && !slot.hull.surface_is_stated && without_landing {
            flag(
                Code::SurfaceAssumed,
                StringFinding::SurfaceAssumed {
                    hull: slot.hull.name.clone(),
                },
            );
        }
        if let Some(top) = chain.top.filter(|top| *top < rotary)
            && is_read
            && without_landing
        {
            let below = rotary - top;
            flag(
                Code::TopBelowRotary,
                StringFinding::TopBelowRotary { below },
            );
        }
        if let Some((shoe, bottom)) = chain.shoe.zip(slot.hole_bottom)
            && shoe - bottom < slot.min_rathole
        {
            flag(
                Code::ShoeOnBottom,
                StringFinding::ShoeOnBottom {
                    above: shoe - bottom,
                    required: slot.min_rathole,
                },
            );
        }
    }

    fn running_joint(&self, flags: &mut Vec<Flag>) {
        let slot = self.view.slot;
        let mut flag = |code, place, finding| flags.push(Flag::new(code, place, finding));
        match &self.chain.running {
            RunningJoint::NotGiven => {}
            RunningJoint::Missing => flag(
                Code::NoRunningJoint,
                Place::Whole,
                StringFinding::NoRunningJoint {
                    number: slot.running_joint.clone(),
                },
            ),
            RunningJoint::Several(pieces) => flag(
                Code::RunningJointTwice,
                Place::Joint(pieces.first().copied().unwrap_or(0)),
                StringFinding::RunningJointTwice {
                    number: slot.running_joint.clone().unwrap_or_default(),
                    times: pieces.len(),
                },
            ),
            RunningJoint::At(piece) => {
                if *piece == 0 {
                    flag(
                        Code::RunningJointAtBottom,
                        Place::Shoulder,
                        StringFinding::RunningJointAtBottom,
                    );
                }
                let effective = self.chain.string.pieces.get(*piece);
                if let (Some(offset), Some(effective)) =
                    (slot.shoulder_offset, effective.map(|piece| piece.effective))
                    && (offset.is_negative() || offset > effective)
                {
                    flag(
                        Code::ShoulderOffJoint,
                        Place::Shoulder,
                        StringFinding::ShoulderOffJoint {
                            offset,
                            joint: self.number(*piece),
                            effective,
                        },
                    );
                }
            }
        }
        if let Some(number) = &slot.running_joint {
            let mut others = self.view.tally.joints.iter().enumerate();
            let other = others
                .find(|(_, joint)| joint.kind == Some(Kind::Running) && *joint.number != **number);
            if let Some((at, joint)) = other {
                flag(
                    Code::RunningJointOther,
                    Place::Joint(at),
                    StringFinding::RunningJointOther {
                        job: number.clone(),
                        tally: JointRef {
                            number: joint.number.to_string(),
                            line: joint.line,
                        },
                    },
                );
            }
        }
    }

    fn windows(&self, flags: &mut Vec<Flag>) {
        let (slot, chain) = (self.view.slot, self.chain);
        for (code, place, part, at, window) in [
            (
                Code::ShoeOutside,
                Place::Whole,
                Part::Shoe,
                chain.shoe,
                slot.shoe_window,
            ),
            (
                Code::ShoulderOutside,
                Place::Shoulder,
                Part::Shoulder,
                chain.shoulder_elevation(),
                slot.shoulder_window,
            ),
            (
                Code::TopOutside,
                Place::Whole,
                Part::Top,
                chain.top,
                slot.top_window,
            ),
        ] {
            if let (Some(at), Some(window)) = (at, window)
                && !window.holds(&at)
            {
                let finding = StringFinding::OutsideWindow {
                    part,
                    at,
                    from: window.from,
                    to: window.to,
                };
                flags.push(Flag::new(code, place, finding));
            }
        }
    }

    fn cut(&self, flags: &mut Vec<Flag>) {
        let (job, target) = (self.view.job, self.cut.target);
        let mut flag = |code, finding| flags.push(Flag::new(code, Place::Cut, finding));
        let mudline = self.view.mudline();
        if target < mudline {
            let below = mudline - target;
            flag(
                Code::CutBelowMudline,
                CutFinding::BelowMudline { target, below },
            );
        }
        let sea = job
            .site
            .water_level
            .max(Elevation::above_datum(Length::ZERO));
        if target <= sea {
            flag(Code::CutBelowSea, CutFinding::BelowSea { target, sea });
        }
        self.cut_hull(&mut flag);
        if let Some(top) = self.chain.top.filter(|top| *top < target) {
            flag(Code::TooShort, CutFinding::TooShort { top, target });
        }
        if let Some(shoe) = self.chain.shoe.filter(|shoe| target < *shoe) {
            flag(Code::CutBelowShoe, CutFinding::BelowShoe { shoe, target });
        }
        if let Some(place) = &self.cut.place {
            self.cut_place(place, flags);
        }
        let stated = &job.uncertainty;
        let of_top = of_as_cut(stated, self.view.index);
        let of_level = of_level(stated, self.view.index, ENOUGH_READINGS);
        let proofs = [
            (ProofOf::Top, total(&of_top), job.cut.tolerance),
            (ProofOf::Level, total(&of_level), job.cut.level),
        ];
        let proofs: Vec<_> = proofs
            .into_iter()
            .filter_map(|(of, variance, limit)| Some((of, variance?, limit?)))
            .filter(|(_, variance, limit)| !variance.expanded_is_within(*limit))
            .map(|(of, variance, limit)| (of, variance.expanded(), limit))
            .collect();
        if !proofs.is_empty() {
            flags.push(Flag::new(
                Code::ToleranceBelowUncertainty,
                Place::Cut,
                TopFinding::ToleranceBelowUncertainty { proofs },
            ));
        }
    }

    /// The hull position from which the cut is measured, and what may not be measured from there.
    fn cut_hull(&self, flag: &mut impl FnMut(Code, CutFinding)) {
        let (job, slot, target) = (self.view.job, self.view.slot, self.cut.target);
        let hull = &job.cut.hull;
        let rotary = self.chain.cut_rotary;
        if target > rotary {
            flag(
                Code::CutAboveRotary,
                CutFinding::AboveRotary {
                    target,
                    rotary,
                    hull: hull.name.clone(),
                },
            );
        }
        let place = |name: &str| job.hulls.iter().position(|hull| hull.name == name);
        if self.chain.basis != Basis::None && place(&hull.name) < place(&slot.hull.name) {
            flag(
                Code::CutFromEarlierHull,
                CutFinding::FromEarlierHull {
                    cut: hull.name.clone(),
                    read: slot.hull.name.clone(),
                },
            );
        }
        let moved = job.benches.iter().filter(|bench| bench_moved(job, bench));
        let benches: Vec<(String, String)> = moved
            .filter_map(|bench| Some((bench.name.clone(), bench.hull.as_ref()?.name.clone())))
            .collect();
        if self.cut.place.is_some() && !benches.is_empty() {
            let cut = hull.name.clone();
            flag(Code::BenchMoved, CutFinding::BenchesMoved { benches, cut });
        }
    }

    fn cut_place(&self, place: &CutPlace, flags: &mut Vec<Flag>) {
        let limits = &self.view.job.cut;
        let mut flag = |code, finding| flags.push(Flag::new(code, Place::Cut, finding));
        if place.piece == 0 {
            flag(
                Code::CutInShoeJoint,
                CutFinding::InShoeJoint {
                    joint: self.number(0),
                },
            );
        }
        for (code, to, distance) in [
            (
                Code::CutNearConnection,
                CloseTo::Connection,
                place.to_connection,
            ),
            (Code::CutNearShoulder, CloseTo::Shoulder, place.to_shoulder),
        ] {
            if let (Some(distance), Some(required)) = (distance, limits.clearance)
                && distance < required
            {
                flag(
                    code,
                    CutFinding::Near {
                        to,
                        distance,
                        required,
                    },
                );
            }
        }
        if place.offcut_mass_is_partial {
            flag(
                Code::OffcutMassPartial,
                CutFinding::OffcutMassPartial {
                    pairs: place.offcut_connections,
                },
            );
        }
        if let Some(tolerance) = limits.tolerance {
            let marks = place.marks.iter();
            let mut stated = marks.filter_map(|mark| mark.distance.variance()).peekable();
            if stated.peek().is_some()
                && !stated.any(|variance| variance.expanded_is_within(tolerance))
            {
                flag(Code::MarksTooLoose, CutFinding::MarksTooLoose { tolerance });
            }
        }
    }

    fn keep_outs(&self) -> Option<Flag> {
        let mut worst = Severity::Check;
        let mut first = None;
        let mut connections = Vec::new();
        for found in self.in_keep_outs {
            let (Some(keep_out), Some(connection)) = (
                self.view.job.keep_outs.get(found.keep_out),
                self.connections.get(found.connection),
            ) else {
                continue;
            };
            worst = worst.max(keep_out.severity);
            first.get_or_insert(connection.below);
            connections.push(KeepOutRef {
                below: self.number(connection.below),
                above: self.number(connection.below + 1),
                plane: connection.plane,
                why: keep_out.why.clone(),
            });
        }
        let finding = FitFinding::ConnectionsInKeepOut { connections };
        Some(Flag {
            severity: worst,
            ..Flag::new(Code::ConnectionInKeepOut, Place::Joint(first?), finding)
        })
    }

    fn accessories(&self, flags: &mut Vec<Flag>) {
        let (Some(shoe), Some(top)) = (self.chain.shoe, self.chain.top) else {
            return;
        };
        let cut = self.cut.place.as_ref().map(|_| self.cut.target);
        let codes = [
            Code::AccessoryOnConnection,
            Code::AccessoryOffString,
            Code::AccessoryAboveCut,
        ];
        let mut found = codes.map(|code| (code, Vec::new(), None));
        for (at, place) in self.accessories.iter().enumerate() {
            let Some(accessory) = self.view.job.accessories.get(place.accessory) else {
                continue;
            };
            let (from, to): (Elevation, Elevation) =
                (accessory.elevation, accessory.elevation + accessory.length);
            let raised = [
                place.clear == Some(false),
                from < shoe || to > top,
                cut.is_some_and(|cut| to > cut),
            ];
            for ((_, accessories, first), raised) in found.iter_mut().zip(raised) {
                if raised {
                    accessories.push((accessory.name.clone(), from));
                    first.get_or_insert(at);
                }
            }
        }
        for (code, accessories, first) in found {
            let Some(first) = first else { continue };
            let finding = FitFinding::Accessories { accessories };
            flags.push(Flag::new(code, Place::Accessory(first), finding));
        }
    }
}
