//! Of the sheet: what was cut, with its verdicts and its readings.

use super::writer::SheetWriter;
use crate::figures::Verdict;
use crate::figures::catalogue::Subject;
use crate::report::words;
use crate::screens::parts::pen::StyledLine;
use crate::screens::theme::Role;

/// What was cut, and what that proves of its height; how level it is, is compared without its U.
pub(super) fn lines(sheet: &mut SheetWriter<'_>) {
    let show = sheet.state.show;
    let limits = &sheet.state.inputs.job.cut;
    let Some(cut) = &sheet.figures.cut.as_cut else {
        return;
    };
    let word = |verdict: Option<Verdict>, without| {
        StyledLine::of(
            verdict.map_or(without, Verdict::word),
            verdict.map_or(Role::Plain, Role::of_verdict),
        )
    };
    let line = word(cut.verdict, "no tolerance given");
    let mean = sheet.both(cut.mean.value.rounded());
    let line = line.and("  ", Role::Plain).with(mean).and(
        format!("  mean of {}", words::counted(cut.readings, "reading")),
        Role::Plain,
    );
    sheet.add("Finished top", line, Some(Subject::AsCut));
    let height = words::height_verdict(cut, limits.tolerance, show);
    let line = word(cut.height, "not judged").and(format!("  {height}"), Role::Plain);
    sheet.add("  its height", line, Some(Subject::AsCut));
    let level = words::level_words(cut, limits.level, show);
    let line = word(cut.level, "not judged").and(format!("  {level}"), Role::Plain);
    sheet.add("  its level", line, Some(Subject::AsCut));
    let target = sheet.figures.cut.target;
    for (at, reading) in (1..).zip(&sheet.view.slot.as_cut) {
        let off = words::off_target(*reading - target, show);
        let line = sheet
            .both(reading.height())
            .and(format!("  {off}"), Role::Plain);
        sheet.add(&words::reading_number(at), line, Some(Subject::AsCut));
    }
    if let Some(rim) = words::rim_words(cut, show) {
        sheet.add(
            "  its rim",
            StyledLine::of(rim, Role::Plain),
            Some(Subject::AsCut),
        );
    }
}
