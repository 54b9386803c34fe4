//! A tally of record as a file: for every joint the figures that stand, where they come from, and why.

use csv::WriterBuilder;

use super::{VERSION, words};
use crate::measure::{Length, Unit};
use crate::reconcile::Record;
use crate::tally::{Kind, Pins};

/// Which lists a record was made of: what each is called, and the digest of its bytes.
#[derive(Clone, Debug)]
pub struct Provenance {
    /// The names of their files.
    pub names: [String; 2],
    /// What the rows of the record call them.
    pub called: [String; 2],
    /// The SHA-256 of their bytes, in hexadecimal.
    pub sha256: [String; 2],
}

impl Provenance {
    pub(super) fn called(&self) -> [&str; 2] {
        self.called.each_ref().map(String::as_str)
    }

    /// One line that says what a record was made of.
    pub fn words(&self) -> String {
        words::made_of(VERSION, &self.names, &self.sha256)
    }
}

/// A text that no spreadsheet takes for a formula.
fn plain(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@']) {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}

/// The unit in which every figure of the record is a short number: the wanted one, else metres.
fn unit_for(record: &Record, wanted: Unit) -> Unit {
    let wanted = match wanted {
        Unit::Foot | Unit::FootInch => wanted,
        _ => return Unit::Metre,
    };
    let joints = record.rows.iter().map(|row| &row.joint);
    let mut figures = joints.flat_map(|joint| [joint.overall, joint.effective, joint.makeup_loss]);
    let short = |length: Length| {
        let places = |number: &str| number.split_once('.').map_or(0, |(_, places)| places.len());
        length
            .exact_number(wanted)
            .is_some_and(|number| places(&number) <= 4)
    };
    if figures.by_ref().flatten().all(short) {
        wanted
    } else {
        Unit::Metre
    }
}

/// The record as CSV that the reader of this program, and any other, reads back to the same figures.
pub fn record_csv(record: &Record, provenance: &Provenance, wanted: Unit, pins: Pins) -> String {
    let unit = unit_for(record, wanted);
    // As tallies are written, to the millimetre or the hundredth of a foot, and exactly beyond.
    let least = match unit {
        Unit::Foot => 2,
        _ => 3,
    };
    let number = |length: Length| match length.exact_number(unit) {
        Some(number) if unit != Unit::FootInch => {
            let (whole, places) = number.split_once('.').unwrap_or((&number, ""));
            format!("{whole}.{places:0<least$}")
        }
        Some(number) => number,
        None => length.exact_metres(),
    };
    let mut writer = WriterBuilder::new().flexible(true).from_writer(Vec::new());
    let length = if record.effective_only {
        "effective length"
    } else {
        "length"
    };
    let name = unit.name();
    let header = [
        "joint".to_owned(),
        "serial".to_owned(),
        "kind".to_owned(),
        format!("{length} ({name})"),
        format!("makeup_loss ({name})"),
        format!("cumulative ({name})"),
        "remarks".to_owned(),
        "source".to_owned(),
        "note".to_owned(),
    ];
    // Writing into memory cannot fail.
    let _ = writer.write_record(header);
    let string = record.string(pins);
    for (at, row) in record.rows.iter().enumerate() {
        let joint = &row.joint;
        let text = |length: Option<Length>| length.map(number).unwrap_or_default();
        let _ = writer.write_record([
            joint.number.as_str(),
            joint.serial.as_deref().unwrap_or_default(),
            joint.kind.map_or("", Kind::name),
            &text(joint.overall.or(joint.effective)),
            &text(joint.makeup_loss),
            &text(string.pieces.get(at).map(|piece| piece.upper)),
            joint.remarks.as_deref().unwrap_or_default(),
            &plain(&words::sources(&row.sources, provenance.called())),
            &plain(&row.notes.join("; ")),
        ]);
    }
    let _ = writer.write_record([provenance.words()]);
    if let Some(open) = words::not_decided(record.open, &provenance.names[0]) {
        let _ = writer.write_record([open]);
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8_lossy(&bytes).into_owned()
}
