//! A tally of record of all lists of a string, as a file: for every joint the figures that stand, the list that each
//! comes from, and who decided what, when and why.

use csv::WriterBuilder;

use super::record::{Columns, plain};
use super::{VERSION, words};
use crate::figures::SlotLists;
use crate::measure::Unit;
use crate::reconcile::many::ListsRecord;
use crate::tally::{Pins, PipeString};

/// The record as CSV that a reader reads back to the same figures. What was decided is in the remarks, which every
/// record made of this one keeps.
pub fn lists_record_csv(
    all: &SlotLists,
    record: &ListsRecord,
    (wanted, pins): (Unit, Pins),
) -> String {
    let joints = || record.joints.iter().map(|it| &it.joint);
    let columns = Columns::of(joints(), record.effective_only, wanted);
    let mut writer = WriterBuilder::new().flexible(true).from_writer(Vec::new());
    // Writing into memory cannot fail.
    let _ = writer.write_record(columns.header());
    let string = PipeString::make_up(&record.tally(), pins);
    for (at, it) in record.joints.iter().enumerate() {
        let joint = &it.joint;
        let kept = joint.remarks.as_deref().unwrap_or_default();
        let remarks = words::with_reasons(all, it, kept);
        let total = string.pieces.get(at).map(|piece| piece.upper);
        let said = [
            plain(&remarks),
            plain(&words::values_from(all, it)),
            String::new(),
        ];
        let _ = writer.write_record(columns.row(joint, total, said));
    }
    let _ = writer.write_record([words::made_of_lists(VERSION, all)]);
    if let Some(open) = words::not_decided(record.open, all.name(0)) {
        let _ = writer.write_record([open]);
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8_lossy(&bytes).into_owned()
}
