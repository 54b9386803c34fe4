//! Writes the lines of the sheet, each with what it is.

use super::state::LineId;
use crate::figures::catalogue::Subject;
use crate::figures::{SlotFigures, SlotView};
use crate::finding::Flag;
use crate::measure::Length;
use crate::report::words;
use crate::screens::identity::{FigureKey, FlagId};
use crate::screens::parts::flags::flag_lines;
use crate::screens::parts::list::ListItem;
use crate::screens::parts::pen::{StyledLine, width};
use crate::screens::state::State;
use crate::screens::theme::Role;
use crate::tally::Tally;

/// What a line is, and the figure that it opens.
pub type Opens = (LineId, Option<Subject>);

/// The lines of a sheet.
pub(super) type SheetLines = Vec<ListItem<Opens>>;

/// Writes the lines of the sheet of one slot.
pub(super) struct SheetWriter<'a> {
    pub(super) state: &'a State,
    pub(super) slot: usize,
    pub(super) view: SlotView<'a>,
    pub(super) tally: &'a Tally,
    pub(super) figures: &'a SlotFigures,
    pub(super) width: usize,
    pub(super) items: SheetLines,
}

impl SheetWriter<'_> {
    /// `label: value`, broken under the value where it is long.
    pub(super) fn add(&mut self, label: &str, value: StyledLine, opens: Option<Subject>) {
        self.add_under(16, label, value, opens);
    }

    /// The same with so many columns for labels.
    pub(super) fn add_under(
        &mut self,
        columns: usize,
        label: &str,
        value: StyledLine,
        opens: Option<Subject>,
    ) {
        // A label that is longer than the column of labels still ends before its value.
        let between = if width(label) < columns { "" } else { "  " };
        let mut line = StyledLine::of(format!("{label:<columns$}{between}"), Role::Label);
        line.0.extend(value.0);
        let lines = line.wrapped(self.width, columns);
        let figure = opens.and_then(|subject| {
            let (inputs, figures) = (&self.state.inputs, &self.state.figures);
            FigureKey::of(inputs, figures, self.slot, subject)
        });
        // Lines of one label and figure are distinguished by how many are above.
        let is_alike = |line: &LineId| matches!(line, LineId::Figure(of, open, _) if *of == label && *open == figure);
        let above = self.items.iter().filter(|it| is_alike(&it.opens.0)).count();
        let opens = (LineId::Figure(label.to_owned(), figure, above), opens);
        self.items.push(ListItem { lines, opens });
    }

    pub(super) fn text(&mut self, about: &'static str, text: &str, role: Role) {
        let lines = StyledLine::of(text, role).wrapped(self.width, 0);
        let opens = (LineId::Text(about), None);
        self.items.push(ListItem { lines, opens });
    }

    /// In the unit in use and in the other system.
    pub(super) fn both(&self, length: Length) -> StyledLine {
        let [own, other] = words::both(self.state.show, length);
        StyledLine::of(format!("{own:>9}"), Role::Figure).and(format!(" = {other}"), Role::Plain)
    }

    pub(super) fn number(&self, piece: usize) -> &str {
        self.figures.chain.number(self.tally, piece)
    }

    /// A flag of the slot or of the job.
    pub(super) fn flag(&mut self, slot: Option<usize>, flag: &Flag) {
        let lines = flag_lines(self.state, slot, flag, self.width + 2);
        let id = FlagId::of(&self.state.inputs, &self.state.figures, slot, flag);
        let opens = (LineId::Flag(id), None);
        self.items.push(ListItem { lines, opens });
    }
}
