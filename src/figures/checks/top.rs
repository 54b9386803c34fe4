//! The flags that the readings of a finished top raise.

use super::slot::Checked;
use crate::figures::as_cut::{AsCut, ENOUGH_READINGS};
use crate::figures::chain::Basis;
use crate::figures::estimate::Variance;
use crate::figures::terms::of_top;
use crate::figures::verdict::{Verdict, proven_beyond};
use crate::finding::{Code, Flag, Place, TopFinding};
use crate::measure::{Elevation, Length};

impl Checked<'_> {
    pub(super) fn as_cut(&self, flags: &mut Vec<Flag>) {
        let Some(as_cut) = &self.cut.as_cut else {
            return;
        };
        let limits = &self.view.job.cut;
        let mut flag = |code, finding| flags.push(Flag::new(code, Place::Cut, finding));
        if let (Some(height), Some(tolerance)) = (as_cut.height, limits.tolerance) {
            let beyond = as_cut.is_beyond(tolerance);
            let finding = TopFinding::Deviation {
                deviation: as_cut.deviation.rounded(),
                furthest: as_cut.furthest,
                uncertainty: as_cut.mean.expanded(),
                tolerance,
                beyond,
                proven: height == Verdict::Outside || as_cut.a_reading_is_outside(tolerance),
            };
            if beyond {
                flag(Code::CutOutside, finding);
            } else if height == Verdict::Unproven {
                flag(Code::CutUnproven, finding);
            }
        }
        self.before_run_or_above_top(as_cut, &mut flag);
        if as_cut.readings < ENOUGH_READINGS {
            flag(
                Code::RimReadingsFew,
                TopFinding::RimReadingsFew {
                    readings: as_cut.readings,
                },
            );
        }
        match (&as_cut.out_of_level, limits.level) {
            (_, None) => flag(Code::LevelUnstated, TopFinding::LevelUnstated),
            (Some(value), Some(allowed)) if as_cut.level != Some(Verdict::Within) => {
                let beyond = value.value > allowed;
                let code = if beyond {
                    Code::OutOfLevel
                } else {
                    Code::LevelUnproven
                };
                flag(
                    code,
                    TopFinding::OutOfLevel {
                        value: value.value,
                        uncertainty: value.expanded(),
                        readings: as_cut.readings,
                        allowed,
                        beyond,
                        proven: as_cut.level == Some(Verdict::Outside),
                    },
                );
            }
            _ => {}
        }
    }

    /// A finished top of a string that is not landed, or that is higher than the string.
    fn before_run_or_above_top(&self, as_cut: &AsCut, flag: &mut impl FnMut(Code, TopFinding)) {
        if self.chain.basis != Basis::Read {
            let readings = as_cut.readings;
            flag(Code::AsCutBeforeRun, TopFinding::BeforeRun { readings });
            return;
        }
        let Some(top) = self.chain.top else { return };
        let variance = of_top(self.view, self.chain).variance();
        let above = as_cut.mean.value.less(top.height());
        let is_above = above > Length::ZERO.into();
        let is_proven = variance.is_none() || proven_beyond(above, Length::ZERO.into(), variance);
        if is_above && is_proven {
            flag(
                Code::CutAboveTop,
                TopFinding::AboveTop {
                    mean: Elevation::above_datum(as_cut.mean.value.rounded()),
                    top,
                    uncertainty: variance.map(Variance::expanded),
                },
            );
        }
    }
}
