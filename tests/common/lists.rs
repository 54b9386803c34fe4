//! Invented lists of joints.

use std::fmt::Write as _;

use kerfmark::measure::Length;
use kerfmark::tally::{Options, Pins, PipeString, Tally, read};

/// One row of an invented list.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    pub number: String,
    pub serial: Option<String>,
    pub mm: i64,
    pub loss: Option<i64>,
}

impl Row {
    pub fn cells(&self) -> String {
        let loss = self.loss.map_or_else(String::new, metres);
        let serial = self.serial.as_deref().unwrap_or_default();
        format!("{},{serial},{},{loss}", self.number, metres(self.mm))
    }
}

pub fn metres(mm: i64) -> String {
    format!("{}.{:03}", mm / 1000, mm % 1000)
}

/// So many joints near 12 m, scattered by some decimetres, with a machined loss.
pub fn rows(count: usize) -> Vec<Row> {
    (1..=count)
        .map(|joint| {
            let step = i64::try_from(joint).expect("small");
            Row {
                number: joint.to_string(),
                serial: Some(format!("S{:04}", 1000 + step * 37 % 997)),
                mm: 11_800 + (step * 7_919 + step * step * 31) % 601,
                loss: Some(151 + step % 3),
            }
        })
        .collect()
}

pub fn text(rows: &[Row]) -> String {
    let mut text = "joint,serial,length (m),makeup_loss (m)\n".to_owned();
    for row in rows {
        let _ = writeln!(text, "{}", row.cells());
    }
    text
}

pub fn tally_of(text: &str) -> Tally {
    read(text.as_bytes(), &Options::default()).expect("an invented list that reads")
}

pub fn tally(rows: &[Row]) -> Tally {
    tally_of(&text(rows))
}

pub fn length(tally: &Tally) -> Length {
    PipeString::make_up(tally, Pins::default()).length
}
