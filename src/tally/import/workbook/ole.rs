//! Looks through the file that an old workbook is, before the crate that reads it follows the chains
//! of sectors and makes room for the cells that the file claims.

use super::super::damage::WorkbookDamage;
use super::super::error::Problem;
use super::limits::{MAX_REPEATED, broken, too_scattered};

/// The marks of a sector that ends a chain, and of those that are no sectors.
const END_OF_CHAIN: u32 = 0xFFFF_FFFE;
const NO_SECTOR: u32 = 0xFFFF_FFFA;

/// Streams shorter than this lie in small sectors.
const SMALL: usize = 4096;
const SMALL_SECTOR: usize = 64;

/// The kinds of records that matter here.
const BEGIN: u16 = 0x0809;
const END: u16 = 0x000A;
const SHEET: u16 = 0x0085;
const PROTECTED: u16 = 0x002F;
const DIMENSIONS: u16 = 0x0200;
const MANY_NUMBERS: u16 = 0x00BD;
const CELLS: [u16; 8] = [
    0x0203,
    0x0204,
    0x00D6,
    0x0205,
    0x027E,
    0x00FD,
    0x0006,
    MANY_NUMBERS,
];

/// Old sheets have no more columns.
const MAX_COLUMNS: usize = 256;

fn u16_at(bytes: &[u8], at: usize) -> Option<u16> {
    let pair = bytes.get(at..at.checked_add(2)?)?;
    Some(u16::from_le_bytes(pair.try_into().ok()?))
}

fn u32_at(bytes: &[u8], at: usize) -> Option<u32> {
    let four = bytes.get(at..at.checked_add(4)?)?;
    Some(u32::from_le_bytes(four.try_into().ok()?))
}

fn usize_at(bytes: &[u8], at: usize) -> Option<usize> {
    usize::try_from(u32_at(bytes, at)?).ok()
}

fn numbers(bytes: &[u8]) -> impl Iterator<Item = u32> + '_ {
    bytes
        .chunks_exact(4)
        .filter_map(|four| Some(u32::from_le_bytes(four.try_into().ok()?)))
}

/// Refuses what is no workbook, is protected, or claims what cannot be.
pub(super) fn inspect(bytes: &[u8]) -> Result<(), Problem> {
    let damaged = || broken(WorkbookDamage::Sectors);
    let file = File::open(bytes).ok_or_else(damaged)?;
    let entries = file.entries().ok_or_else(damaged)?;
    if entries.iter().any(|entry| entry.is("EncryptedPackage")) {
        return Err(Problem::PasswordProtected);
    }
    let named = |name: &str| entries.iter().find(|entry| entry.is(name));
    let Some(entry) = named("Workbook").or_else(|| named("Book")) else {
        let what = if named("WordDocument").is_some() {
            "an old text document (.doc)"
        } else if named("PowerPoint Document").is_some() {
            "an old file of slides (.ppt)"
        } else {
            "an old document, but no workbook"
        };
        return Err(Problem::NoWorkbook {
            what: what.to_owned(),
        });
    };
    let stream = file.stream(&entries, entry).ok_or_else(damaged)?;
    inspect_records(&stream)
}

/// A file of sectors that are chained by a table.
struct File<'a> {
    bytes: &'a [u8],
    sector: usize,
    table: Vec<u32>,
    first_entry: u32,
    small_table: u32,
    small_table_sectors: usize,
}

/// A name in the file's list of streams.
struct StreamEntry {
    name: String,
    start: u32,
    length: usize,
}

impl StreamEntry {
    fn is(&self, name: &str) -> bool {
        self.name.eq_ignore_ascii_case(name)
    }
}

impl<'a> File<'a> {
    fn open(bytes: &'a [u8]) -> Option<Self> {
        let sector = match u16_at(bytes, 30)? {
            9 => 512,
            12 => 4096,
            _ => return None,
        };
        let mut file = Self {
            bytes,
            sector,
            table: Vec::new(),
            first_entry: u32_at(bytes, 48)?,
            small_table: u32_at(bytes, 60)?,
            small_table_sectors: usize_at(bytes, 64)?,
        };
        // The sectors of the table: the first are listed in the head, the rest in a chain whose
        // sectors end with the number of the next.
        let mut listed: Vec<u32> = numbers(bytes.get(76..512)?).collect();
        let mut next = u32_at(bytes, 68)?;
        for _ in 0..=file.sectors() {
            if next >= NO_SECTOR {
                break;
            }
            listed.extend(numbers(file.sector(next)?));
            next = listed.pop()?;
        }
        if next < NO_SECTOR {
            return None;
        }
        for sector in listed.into_iter().filter(|sector| *sector < NO_SECTOR) {
            let numbers = numbers(file.sector(sector)?);
            file.table.extend(numbers);
        }
        Some(file)
    }

    fn sectors(&self) -> usize {
        self.bytes.len() / self.sector
    }

    /// The bytes of a sector, of which the last of a file may be short.
    fn sector(&self, number: u32) -> Option<&'a [u8]> {
        let start = usize::try_from(number)
            .ok()?
            .checked_add(1)?
            .checked_mul(self.sector)?;
        let end = start.checked_add(self.sector)?.min(self.bytes.len());
        self.bytes.get(start..end)
    }

    /// The bytes of a chain of sectors, which must not come round to itself.
    fn chain(&self, start: u32, length: usize) -> Option<Vec<u8>> {
        let mut bytes = Vec::new();
        let mut next = start;
        for _ in 0..=self.sectors() {
            if next == END_OF_CHAIN || bytes.len() >= length {
                bytes.truncate(length);
                return Some(bytes);
            }
            bytes.extend_from_slice(self.sector(next)?);
            next = *self.table.get(usize::try_from(next).ok()?)?;
        }
        None
    }

    fn entries(&self) -> Option<Vec<StreamEntry>> {
        let list = self.chain(self.first_entry, usize::MAX)?;
        let entries: Vec<StreamEntry> = list
            .chunks_exact(128)
            .filter_map(|entry| {
                let (name, _) = encoding_rs::UTF_16LE.decode_without_bom_handling(entry.get(..64)?);
                let name = name.split('\0').next().unwrap_or_default().to_owned();
                Some(StreamEntry {
                    name,
                    start: u32_at(entry, 116)?,
                    length: usize_at(entry, 120)?,
                })
            })
            .collect();
        (!entries.is_empty()).then_some(entries)
    }

    /// The bytes of a stream. The small sectors are followed whether it lies in them or not, because
    /// the crate that reads the file does so too.
    fn stream(&self, entries: &[StreamEntry], entry: &StreamEntry) -> Option<Vec<u8>> {
        let root = entries.first()?;
        let (mut small, mut table) = (Vec::new(), Vec::new());
        if self.small_table_sectors > 0 {
            small = self.chain(root.start, root.length)?;
            let length = self.small_table_sectors.checked_mul(self.sector)?;
            table = numbers(&self.chain(self.small_table, length)?).collect();
        }
        if entry.length >= SMALL {
            return self.chain(entry.start, entry.length);
        }
        let mut bytes = Vec::new();
        let mut next = entry.start;
        while next != END_OF_CHAIN && bytes.len() < entry.length {
            let at = usize::try_from(next).ok()?.checked_mul(SMALL_SECTOR)?;
            let end = at.checked_add(SMALL_SECTOR)?.min(small.len());
            bytes.extend_from_slice(small.get(at..end).filter(|piece| !piece.is_empty())?);
            next = *table.get(usize::try_from(next).ok()?)?;
        }
        bytes.truncate(entry.length);
        Some(bytes)
    }
}

/// The records of a stream: kind and data.
struct Records<'a>(&'a [u8]);

impl<'a> Iterator for Records<'a> {
    type Item = (u16, &'a [u8]);

    fn next(&mut self) -> Option<Self::Item> {
        let (kind, length) = (u16_at(self.0, 0)?, usize::from(u16_at(self.0, 2)?));
        let data = self.0.get(4..4 + length)?;
        self.0 = self.0.get(4 + length..)?;
        Some((kind, data))
    }
}

/// Looks at the places of all cells: room is made for the rectangle that holds them.
fn inspect_records(stream: &[u8]) -> Result<(), Problem> {
    let damaged = || broken(WorkbookDamage::Records);
    let mut sheets = Vec::new();
    for (kind, data) in Records(stream).take_while(|(kind, _)| *kind != END) {
        match kind {
            PROTECTED => return Err(Problem::PasswordProtected),
            SHEET => sheets.push(usize_at(data, 0).ok_or_else(damaged)?),
            _ => {}
        }
    }
    let (mut places, mut looked_at) = (0_usize, 0_usize);
    for start in sheets {
        let records = Records(stream.get(start..).ok_or_else(damaged)?);
        let sheet = Extent::of(records, &mut looked_at).ok_or_else(damaged)?;
        places = places.saturating_add(sheet.places());
        if places > MAX_REPEATED {
            return Err(too_scattered(MAX_REPEATED));
        }
        // Sheets lie one after the other; those that share records make work without end.
        if looked_at > stream.len().saturating_mul(2) {
            return Err(damaged());
        }
    }
    Ok(())
}

/// The rectangle of a sheet's cells, and of those that it claims.
#[derive(Default)]
struct Extent {
    rows: Option<(usize, usize)>,
    columns: Option<(usize, usize)>,
    claimed: usize,
}

impl Extent {
    fn of(records: Records<'_>, looked_at: &mut usize) -> Option<Self> {
        let mut extent = Self::default();
        let mut depth = 0_usize;
        for (kind, data) in records {
            *looked_at += data.len() + 4;
            match kind {
                // The sheet itself, and what lies within it, such as a chart.
                BEGIN => depth += 1,
                END if depth <= 1 => break,
                END => depth -= 1,
                DIMENSIONS => extent.claim(data)?,
                kind if CELLS.contains(&kind) => extent.hold(kind, data)?,
                _ => {}
            }
        }
        Some(extent)
    }

    fn hold(&mut self, kind: u16, data: &[u8]) -> Option<()> {
        let row = usize::from(u16_at(data, 0)?);
        let first = usize::from(u16_at(data, 2)?);
        let last = match kind {
            MANY_NUMBERS => usize::from(u16_at(data, data.len().checked_sub(2)?)?),
            _ => first,
        };
        if last >= MAX_COLUMNS || last < first {
            return None;
        }
        let widened = |span: Option<(usize, usize)>, low: usize, high: usize| {
            span.map_or((low, high), |(from, to)| (from.min(low), to.max(high)))
        };
        self.rows = Some(widened(self.rows, row, row));
        self.columns = Some(widened(self.columns, first, last));
        Some(())
    }

    fn claim(&mut self, data: &[u8]) -> Option<()> {
        let (first_row, end_row, end_column) = if data.len() == 10 {
            (
                u16_at(data, 0)?.into(),
                u16_at(data, 2)?.into(),
                u16_at(data, 6)?,
            )
        } else {
            (u32_at(data, 0)?, u32_at(data, 4)?, u16_at(data, 10)?)
        };
        let rows = usize::try_from(end_row.max(1).checked_sub(first_row.min(end_row))?).ok()?;
        self.claimed = self
            .claimed
            .saturating_add(rows.saturating_mul(usize::from(end_column).max(1)));
        Some(())
    }

    fn places(&self) -> usize {
        let span = |span: Option<(usize, usize)>| span.map_or(0, |(from, to)| to - from + 1);
        let held = span(self.rows).saturating_mul(span(self.columns));
        held.max(self.claimed)
    }
}
