//! A workbook in XML: its sheets, and what their cells refer to.

use calamine::{Sheet, SheetType, SheetVisible};
use quick_xml::events::{BytesStart, Event};

use super::super::super::cell::SheetMarks;
use super::super::super::damage::WorkbookDamage;
use super::super::super::error::Problem;
use super::super::cells::LooseCells;
use super::super::limits::broken;
use super::super::opened::{PartReader, Parts};
use super::super::parts::{attribute, local_name, text_of, whole_elements};
use super::places::{Place, places};
use super::sheet::{self, Shared};
use super::styles::Styles;
use super::texts::SharedTexts;
use crate::measure::Excerpt;

/// Where the workbook is, where its archive does not say.
const BOOK: &str = "xl/workbook.xml";

/// A workbook that was opened.
pub(in super::super) struct XlsxBook<'a> {
    parts: Parts<'a>,
    sheets: Vec<Sheet>,
    /// The part of each sheet.
    targets: Vec<String>,
    shared: Shared,
}

impl<'a> XlsxBook<'a> {
    /// Reads what the sheets share.
    pub(in super::super) fn open(mut parts: Parts<'a>) -> Result<Self, Problem> {
        let roots = parts.with("_rels/.rels", |part| places(part, ""))?;
        let root = roots.into_iter().find(|it| it.kind == "officeDocument");
        let book = root.map_or_else(|| BOOK.to_owned(), |it| it.target);
        let (folder, name) = book.rsplit_once('/').unwrap_or(("", &book));
        let folder = if folder.is_empty() {
            String::new()
        } else {
            format!("{folder}/")
        };
        let relations = format!("{folder}_rels/{name}.rels");
        let places = parts.with(&relations, |part| places(part, &folder))?;
        let list = parts.find(&book, |part| sheets(part, &places))?;
        let list = list.ok_or_else(|| no_part(&book))?;
        let of_kind = |kind: &str, usual: &str| {
            let own = places.iter().find(|place| place.kind == kind);
            own.map_or_else(|| format!("{folder}{usual}"), |place| place.target.clone())
        };
        let styles = of_kind("styles", "styles.xml");
        let texts = of_kind("sharedStrings", "sharedStrings.xml");
        Ok(Self {
            shared: Shared {
                styles: parts.with(&styles, |part| Styles::read(part))?,
                texts: parts.with(&texts, |part| SharedTexts::read(part))?,
                from_1904: list.from_1904,
            },
            parts,
            sheets: list.sheets,
            targets: list.targets,
        })
    }

    /// Its sheets, in their order.
    pub(in super::super) fn sheets(&self) -> &[Sheet] {
        &self.sheets
    }

    /// Reads the cells of a sheet; gives what is hidden, struck through or merged.
    pub(in super::super) fn read(
        &mut self,
        name: &str,
        cells: &mut LooseCells,
    ) -> Result<SheetMarks, Problem> {
        let place = self.sheets.iter().position(|sheet| sheet.name == name);
        let target = place.and_then(|place| self.targets.get(place));
        let target = target.ok_or_else(|| nowhere(name))?;
        let shared = &self.shared;
        let read = self
            .parts
            .find(target, |part| sheet::read(part, shared, cells))?;
        read.ok_or_else(|| no_part(target))
    }
}

fn no_part(name: &str) -> Problem {
    broken(WorkbookDamage::NoPart(Excerpt::of(name)))
}

fn nowhere(sheet: &str) -> Problem {
    broken(WorkbookDamage::SheetNowhere(Excerpt::of(sheet)))
}

/// What a workbook lists.
#[derive(Default)]
struct SheetList {
    sheets: Vec<Sheet>,
    targets: Vec<String>,
    from_1904: bool,
}

fn sheets(part: &mut PartReader<'_>, places: &[Place]) -> Result<SheetList, Problem> {
    let mut list = SheetList::default();
    whole_elements(part, |event| {
        let Event::Start(element) = event else {
            return Ok(());
        };
        match local_name(element.name()) {
            "sheet" => list.push(element, places)?,
            "workbookPr" => {
                let from_1904 = attribute(element, "date1904");
                list.from_1904 |= from_1904.is_some_and(|it| matches!(&*it, "1" | "true"));
            }
            _ => {}
        }
        Ok(())
    })?;
    Ok(list)
}

impl SheetList {
    fn push(&mut self, element: &BytesStart<'_>, places: &[Place]) -> Result<(), Problem> {
        let name = text_of(element, "name").unwrap_or_default();
        let mut attributes = element.attributes();
        let mut attributes = attributes.with_checks(false).flatten();
        let id = attributes.find(|it| local_name(it.key) == "id");
        let place = id.and_then(|id| places.iter().find(|place| *place.id == *id.value));
        let place = place.ok_or_else(|| nowhere(&name))?;
        self.targets.push(place.target.clone());
        self.sheets.push(Sheet {
            typ: match place.kind.as_str() {
                "worksheet" => SheetType::WorkSheet,
                "chartsheet" => SheetType::ChartSheet,
                "dialogsheet" => SheetType::DialogSheet,
                _ => SheetType::MacroSheet,
            },
            visible: match attribute(element, "state").as_deref() {
                None | Some("visible") => SheetVisible::Visible,
                Some("veryHidden") => SheetVisible::VeryHidden,
                // What is not known is not taken for shown.
                Some(_) => SheetVisible::Hidden,
            },
            name,
        });
        Ok(())
    }
}
