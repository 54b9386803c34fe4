//! The signs of the drawings: a Unicode set and an ASCII one.

use crate::figures::SlotState;

/// The signs of the drawings.
#[derive(Debug)]
pub struct Glyphs {
    /// Upright lines: of what stands, and of what comes off.
    pub(in crate::screens) wall: char,
    pub(in crate::screens) gone: char,
    /// What fills a cell of a drawing where there are no colours.
    pub(in crate::screens) steel: char,
    pub(in crate::screens) cut: char,
    pub(in crate::screens) shoulder: char,
    pub(in crate::screens) accessory: char,
    pub(in crate::screens) bar: char,
    /// Ticks at connections, left and right of a pipe.
    pub(in crate::screens) ticks: [char; 2],
    /// Lines across: frames, the sea, levels, the seabed below the mudline.
    pub(in crate::screens) line: char,
    pub(in crate::screens) sea: char,
    pub(in crate::screens) level: char,
    pub(in crate::screens) ground: char,
    /// Patterns of spans.
    pub(in crate::screens) keep_out: char,
    pub(in crate::screens) blur: char,
    /// Marks of a ruler, and leaders to labels that stand below their row and above it.
    pub(in crate::screens) tick: char,
    pub(in crate::screens) leaders: [char; 2],
    /// The row that the keys act on; a full cell, its upper half, its lower half; that something is left out.
    pub(in crate::screens) here: char,
    pub(in crate::screens) block: char,
    pub(in crate::screens) upper: char,
    pub(in crate::screens) lower: char,
    pub(in crate::screens) more: char,
    /// Ends of lines between points.
    pub(in crate::screens) end: char,
    pub(in crate::screens) end_loose: char,
    /// Tops on which a deck rests, and those that it does not touch.
    pub(in crate::screens) bears: char,
    pub(in crate::screens) floats: char,
    pub(in crate::screens) arrows: [char; 8],
    pub(in crate::screens) dot: char,
    /// States of a slot: planned, running, landed, cut, signed.
    states: [char; 5],
}

impl Glyphs {
    /// The sign of how far a slot has come.
    pub(in crate::screens) const fn state(&self, state: SlotState) -> char {
        let [planned, running, landed, cut, signed] = self.states;
        match state {
            SlotState::Planned => planned,
            SlotState::Running => running,
            SlotState::Landed => landed,
            SlotState::Cut => cut,
            SlotState::Signed => signed,
        }
    }
}

pub(super) static UNICODE: Glyphs = Glyphs {
    wall: '│',
    gone: '┊',
    steel: '▒',
    cut: '━',
    shoulder: '▓',
    accessory: '▚',
    bar: '▀',
    ticks: ['╴', '╶'],
    line: '─',
    sea: '~',
    level: '·',
    ground: '·',
    keep_out: '░',
    blur: '▒',
    tick: '┤',
    leaders: ['└', '┌'],
    here: '►',
    block: '█',
    upper: '▀',
    lower: '▄',
    more: '…',
    end: '●',
    end_loose: '○',
    bears: '■',
    floats: '□',
    arrows: ['→', '↗', '↑', '↖', '←', '↙', '↓', '↘'],
    dot: '·',
    states: ['○', '◐', '●', '■', '✓'],
};

pub(super) static ASCII: Glyphs = Glyphs {
    wall: '|',
    gone: ':',
    steel: '#',
    cut: '=',
    shoulder: '@',
    accessory: '+',
    bar: '=',
    ticks: ['-', '-'],
    line: '-',
    sea: '~',
    level: '.',
    ground: '.',
    keep_out: ':',
    blur: '?',
    tick: '+',
    leaders: ['\\', '/'],
    here: '>',
    block: '#',
    upper: '#',
    lower: '#',
    more: '~',
    end: 'o',
    end_loose: '.',
    bears: '#',
    floats: 'O',
    arrows: ['>', '/', '^', '\\', '<', '/', 'v', '\\'],
    dot: '.',
    states: ['.', '>', 'o', 'x', '*'],
};
