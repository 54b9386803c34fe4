//! What is left to do once a command is done.

use crate::screens::Ended;

/// What a command has to say when it is done.
pub(super) struct Done {
    /// For standard output; between pages goes a form feed.
    pub(super) pages: Vec<String>,
    /// Remarks for standard error.
    pub(super) remarks: Vec<String>,
    /// Why it was refused, for standard error.
    pub(super) complaints: Vec<String>,
    /// Whether a flag stops the job.
    pub(super) stop: bool,
    /// How the screens ended, where they were open.
    pub(super) ended: Option<Ended>,
}

impl Done {
    /// A command that prints a text and nothing else.
    pub(super) fn text(text: String) -> Self {
        Self {
            pages: vec![text],
            remarks: Vec::new(),
            complaints: Vec::new(),
            stop: false,
            ended: None,
        }
    }
}
