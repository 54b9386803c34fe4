//! Where the parts of a workbook are, by its lists of relations (ECMA-376 part 2, 9.3).

use super::super::super::error::Problem;
use super::super::opened::PartReader;
use super::super::parts::{text_of, whole_elements};
use quick_xml::events::Event;

/// Where a part is, and what it is to the part that names it.
#[derive(Clone, Debug)]
pub(super) struct Place {
    pub(super) id: String,
    /// The end of a long name: `styles`, `worksheet`.
    pub(super) kind: String,
    pub(super) target: String,
}

/// The relations of a part that lies in a folder.
pub(super) fn places(part: &mut PartReader<'_>, folder: &str) -> Result<Vec<Place>, Problem> {
    let mut places = Vec::new();
    whole_elements(part, |event| {
        let Event::Start(element) = event else {
            return Ok(());
        };
        if let (Some(id), Some(kind), Some(target)) = (
            text_of(element, "Id"),
            text_of(element, "Type"),
            text_of(element, "Target"),
        ) {
            let kind = kind.rsplit('/').next().unwrap_or_default().to_owned();
            let target = match target.strip_prefix('/') {
                Some(from_root) => from_root.to_owned(),
                None => format!("{folder}{target}"),
            };
            places.push(Place { id, kind, target });
        }
        Ok(())
    })?;
    Ok(places)
}
