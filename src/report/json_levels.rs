//! The JSON of `levels`.

use serde::Serialize;

use super::json::{FORMAT, FlagJson, flags, pretty};
use super::number::Number;
use crate::figures::Levels;
use crate::finding::ReadingRef;
use crate::levels::AdjustedReading;
use crate::measure::LengthFormat;

/// Decimals of real figures.
const DECIMALS: usize = 9;

#[derive(Serialize)]
struct LevelsTree {
    format: u32,
    points: Vec<PointJson>,
    readings: Vec<ReadingJson>,
    degrees_of_freedom: usize,
    variance_factor: Option<Number>,
    chi_square: ChiSquareJson,
    tape: Option<TapeJson>,
    suspects: Vec<SuspectJson>,
    corrections: Vec<CorrectionJson>,
    flags: Vec<FlagJson>,
}

#[derive(Serialize)]
struct PointJson {
    name: String,
    elevation_m: Number,
    sigma_m: Option<Number>,
    fixed: bool,
}

#[derive(Serialize)]
struct ReadingJson {
    #[serde(flatten)]
    of: ReadingNameJson,
    rise_m: Number,
    sigma_m: Option<Number>,
    residual_m: Number,
    w: Option<Number>,
    redundancy: Option<Number>,
    detectable_m: Option<Number>,
    others_m: Option<Number>,
    others_sigma_m: Option<Number>,
}

#[derive(Serialize)]
struct ReadingNameJson {
    #[serde(skip_serializing_if = "String::is_empty")]
    from: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    to: String,
    of: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    line: Option<u32>,
}

#[derive(Serialize)]
struct ChiSquareJson {
    value: Number,
    lower: Option<Number>,
    upper: Option<Number>,
    passed: Option<bool>,
}

#[derive(Serialize)]
struct TapeJson {
    ppm: Number,
    sigma_ppm: Option<Number>,
    w: Option<Number>,
    redundancy: Option<Number>,
}

#[derive(Serialize)]
struct SuspectJson {
    readings: Vec<ReadingNameJson>,
    blunder_m: Option<Number>,
    chi_square_without: Option<Number>,
}

#[derive(Serialize)]
struct CorrectionJson {
    from: String,
    to: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    line: Option<u32>,
    kind: &'static str,
    value_m: Number,
}

impl From<ReadingRef> for ReadingNameJson {
    fn from(it: ReadingRef) -> Self {
        Self {
            from: it.from,
            to: it.to,
            of: it.of,
            line: it.line,
        }
    }
}

fn real(value: f64) -> Number {
    Number::real(value, DECIMALS)
}

/// A network, adjusted.
pub fn levels(levels: &Levels, show: LengthFormat) -> Result<String, serde_json::Error> {
    let (network, adjusted) = (&levels.read.network, &levels.adjusted);
    let points = network.points.iter().zip(&adjusted.points);
    let bounds = adjusted.bounds();
    let freedom = u32::try_from(adjusted.degrees_of_freedom).unwrap_or(u32::MAX);
    pretty(&LevelsTree {
        format: FORMAT,
        points: points
            .map(|(point, it)| PointJson {
                name: point.name.clone(),
                elevation_m: Number::elevation(it.elevation),
                sigma_m: it.sigma().map(real),
                fixed: point.fixed.is_some(),
            })
            .collect(),
        readings: adjusted
            .readings
            .iter()
            .enumerate()
            .filter_map(|(at, it)| reading(levels, at, it))
            .collect(),
        degrees_of_freedom: adjusted.degrees_of_freedom,
        variance_factor: (freedom > 0).then(|| real(adjusted.chi_square / f64::from(freedom))),
        chi_square: ChiSquareJson {
            value: real(adjusted.chi_square),
            lower: bounds.map(|it| real(it.lower)),
            upper: bounds.map(|it| real(it.upper)),
            passed: levels.passes(),
        },
        tape: tape(levels),
        suspects: levels
            .suspects
            .iter()
            .map(|it| SuspectJson {
                readings: it
                    .readings
                    .iter()
                    .filter_map(|of| levels.suspect(*of))
                    .map(ReadingNameJson::from)
                    .collect(),
                blunder_m: it.blunder.map(real),
                chi_square_without: it.chi_square_without.map(real),
            })
            .collect(),
        corrections: levels
            .read
            .corrections
            .iter()
            .filter_map(|it| {
                let name = levels.reading(it.reading)?;
                Some(CorrectionJson {
                    from: name.from,
                    to: name.to,
                    line: name.line,
                    kind: it.kind,
                    value_m: Number::metres(it.value),
                })
            })
            .collect(),
        flags: flags(&levels.flags(), show),
    })
}

/// The scale of the tape; none where nothing was measured with it. Stated as exact it has nothing to find; not stated it
/// takes no part.
fn tape(levels: &Levels) -> Option<TapeJson> {
    let network = &levels.read.network;
    if network.readings.iter().all(|it| it.tape.is_zero()) {
        return None;
    }
    Some(match (&levels.adjusted.tape, network.tape_scale) {
        (Some(it), _) => TapeJson {
            ppm: real(it.scale * 1e6),
            sigma_ppm: Some(real(it.variance.sqrt() * 1e6)),
            w: it.reading.w().map(real),
            redundancy: it.reading.redundancy.map(real),
        },
        (None, scale) => TapeJson {
            ppm: real(0.0),
            sigma_ppm: scale.map(|it| real(it * 1e6)),
            w: None,
            redundancy: scale.map(|_| real(0.0)),
        },
    })
}

fn reading(levels: &Levels, at: usize, it: &AdjustedReading) -> Option<ReadingJson> {
    let rise = levels.read.rise_as_read(at);
    let others = it.others();
    Some(ReadingJson {
        of: levels.reading(at)?.into(),
        rise_m: Number::metres(rise),
        sigma_m: it.sigma.map(real),
        residual_m: real(it.residual),
        w: it.w().map(real),
        redundancy: it.redundancy.map(real),
        detectable_m: it.detectable().map(real),
        others_m: others.map(|(by, _)| real(rise.real_metres() + by)),
        others_sigma_m: others.map(|(_, sigma)| real(sigma)),
    })
}
