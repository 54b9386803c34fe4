//! A tally of record as a file: for every joint the figures that stand, where they come from, and why.

use csv::WriterBuilder;

use super::{VERSION, words};
use crate::measure::{Length, Unit};
use crate::reconcile::Record;
use crate::tally::{Joint, Kind, Piece, Pins};

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
pub(super) fn plain(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@']) {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}

/// The columns of a record: their headings, and numbers in their unit.
pub(super) struct Columns {
    unit: Unit,
    length: &'static str,
}

impl Columns {
    /// In the wanted unit, where every figure of the joints is a short number in it, else in metres.
    pub(super) fn of<'j>(
        joints: impl Iterator<Item = &'j Joint>,
        effective_only: bool,
        wanted: Unit,
    ) -> Self {
        let short = |length: Length| {
            let places = |number: &str| number.split_once('.').map_or(0, |(_, it)| it.len());
            length
                .exact_number(wanted)
                .is_some_and(|number| places(&number) <= 4)
        };
        let figures = joints.flat_map(|it| [it.length, it.makeup_loss]);
        let is_short =
            matches!(wanted, Unit::Foot | Unit::FootInch) && figures.flatten().all(short);
        Self {
            unit: if is_short { wanted } else { Unit::Metre },
            length: if effective_only {
                "effective length"
            } else {
                "length"
            },
        }
    }

    pub(super) fn header(&self) -> [String; 9] {
        let name = self.unit.name();
        [
            "joint".to_owned(),
            "serial".to_owned(),
            "kind".to_owned(),
            format!("{} ({name})", self.length),
            format!("makeup_loss ({name})"),
            format!("cumulative ({name})"),
            "remarks".to_owned(),
            "source".to_owned(),
            "note".to_owned(),
        ]
    }

    /// The row of a joint: its figures, the running total, and what is said of it in words.
    pub(super) fn row(
        &self,
        joint: &Joint,
        cumulative: Option<Length>,
        [remarks, source, note]: [String; 3],
    ) -> [String; 9] {
        let text = |length: Option<Length>| length.map(|it| self.number(it)).unwrap_or_default();
        [
            joint.number.to_string(),
            joint.serial.as_deref().unwrap_or_default().to_owned(),
            joint.kind.map_or("", Kind::name).to_owned(),
            text(joint.length),
            text(joint.makeup_loss),
            text(cumulative),
            remarks,
            source,
            note,
        ]
    }

    /// As tallies are written, to the millimetre or the hundredth of a foot, and exactly beyond.
    pub(super) fn number(&self, length: Length) -> String {
        let least = match self.unit {
            Unit::Foot => 2,
            _ => 3,
        };
        match length.exact_number(self.unit) {
            Some(number) if self.unit != Unit::FootInch => {
                let (whole, places) = number.split_once('.').unwrap_or((&number, ""));
                format!("{whole}.{places:0<least$}")
            }
            Some(number) => number,
            None => length.exact_metres(),
        }
    }
}

/// The record as CSV that the reader of this program, and any other, reads back to the same figures.
pub fn record_csv(record: &Record, provenance: &Provenance, wanted: Unit, pins: Pins) -> String {
    let joints = record.rows.iter().map(|row| &row.joint);
    let columns = Columns::of(joints, record.effective_only, wanted);
    let mut writer = WriterBuilder::new().flexible(true).from_writer(Vec::new());
    // Writing into memory cannot fail.
    let _ = writer.write_record(columns.header());
    let string = record.string(pins);
    for (at, row) in record.rows.iter().enumerate() {
        let joint = &row.joint;
        let total = string.pieces.get(at).map(Piece::upper);
        let said = [
            joint.remarks().unwrap_or_default().to_owned(),
            plain(&words::sources(&row.sources, provenance.called())),
            plain(&row.notes.join("; ")),
        ];
        let _ = writer.write_record(columns.row(joint, total, said));
    }
    let _ = writer.write_record([provenance.words()]);
    if let Some(open) = words::not_decided(record.open, &provenance.names[0]) {
        let _ = writer.write_record([open]);
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8_lossy(&bytes).into_owned()
}
