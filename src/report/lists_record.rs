//! A tally of record of all lists of a string, as a file: for every joint the figures that stand, the list that each
//! comes from, and who decided what, when and why.

use csv::WriterBuilder;

use super::lists_workbook::lists_workbook;
use super::record::{Columns, plain};
use super::record_file::{NoRecord, RecordFile};
use super::{VERSION, words};
use crate::figures::SlotLists;
use crate::journal::Inputs;
use crate::measure::{Length, Unit};
use crate::reconcile::many::ListsRecord;
use crate::tally::{Options, Piece, Pins, PipeString, Tally, read};

/// The bytes of a tally of record of a slot, once a reader has read them back to the same joints.
pub fn lists_record(
    all: &SlotLists,
    record: &ListsRecord,
    (inputs, slot): (&Inputs, usize),
    kind: RecordFile,
) -> Result<Vec<u8>, NoRecord> {
    let stated = inputs.job.slots.get(slot);
    let pins = stated.map(|it| it.pipe.pins).unwrap_or_default();
    let bytes = match kind {
        RecordFile::Csv => lists_record_csv(all, record, (inputs.job.units, pins)).into_bytes(),
        RecordFile::Workbook => {
            let before = inputs.tallies.get(slot);
            lists_workbook(all, record, (before, pins), inputs.job.units)
                .map_err(|error| NoRecord::Workbook(error.to_string()))?
        }
    };
    let options = Options {
        job_units: Some(inputs.job.units),
        pins_up: pins.up,
        ..Options::default()
    };
    let back = read(&bytes, &options).map_err(NoRecord::Unreadable)?;
    let figures = |tally: &Tally| -> Vec<(String, Option<Length>, Option<Length>)> {
        let joints = tally.joints.iter();
        joints
            .map(|it| {
                let length = it.length;
                (it.number.to_string(), length, it.makeup_loss)
            })
            .collect()
    };
    if figures(&back) == figures(&record.tally()) {
        Ok(bytes)
    } else {
        Err(NoRecord::ReadsOtherwise)
    }
}

/// The record as CSV that a reader reads back to the same figures. What was decided is in the remarks, which every
/// record made of this one keeps.
fn lists_record_csv(all: &SlotLists, record: &ListsRecord, (wanted, pins): (Unit, Pins)) -> String {
    let joints = || record.joints.iter().map(|it| &it.joint);
    let columns = Columns::of(joints(), record.effective_only, wanted);
    let mut writer = WriterBuilder::new().flexible(true).from_writer(Vec::new());
    // Writing into memory cannot fail.
    let _ = writer.write_record(columns.header());
    let string = PipeString::make_up(&record.tally(), pins);
    for (at, it) in record.joints.iter().enumerate() {
        let joint = &it.joint;
        let kept = joint.remarks().unwrap_or_default();
        let remarks = words::with_reasons(all, it, kept);
        let total = string.pieces.get(at).map(Piece::upper);
        let said = [
            plain(&remarks),
            plain(&words::values_from(all, it)),
            String::new(),
        ];
        let _ = writer.write_record(columns.row(joint, total, said));
    }
    for row in all.left_out() {
        let _ = writer.write_record([words::without_joint(row)]);
    }
    let _ = writer.write_record([words::made_of_lists(VERSION, all)]);
    if let Some(open) = words::not_decided(record.open, all.name(0)) {
        let _ = writer.write_record([open]);
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8_lossy(&bytes).into_owned()
}
