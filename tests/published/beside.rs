//! Printed values beside computed ones. `cargo test --test published -- --nocapture` shows the table of each test.

/// The values of one source.
pub struct Printed {
    source: &'static str,
}

impl Printed {
    /// Those of a source.
    pub fn by(source: &'static str) -> Self {
        Self { source }
    }

    /// A value beside the computed one: both are texts.
    pub fn text(&self, what: &str, printed: &str, computed: &str) {
        println!("| {} | {what} | {printed} | {computed} |", self.source);
        assert_eq!(computed, printed, "{}: {what}", self.source);
    }

    /// A number beside the computed one, which must be the same to the last digit that is printed.
    pub fn number(&self, what: &str, printed: &str, computed: f64) {
        let places = printed
            .split_once('.')
            .map_or(0, |(_, places)| places.len());
        let text = format!("{computed:.places$}");
        // A zero has no sign.
        let is_zero = text.trim_matches(['-', '0', '.']).is_empty();
        let text = if is_zero {
            text.trim_start_matches('-')
        } else {
            &text
        };
        self.text(what, printed, text);
    }

    /// Several of one kind.
    pub fn numbers(&self, what: &str, printed: &[&str], computed: impl IntoIterator<Item = f64>) {
        let computed: Vec<f64> = computed.into_iter().collect();
        assert_eq!(printed.len(), computed.len(), "{}: {what}", self.source);
        for (at, (printed, computed)) in printed.iter().zip(computed).enumerate() {
            self.number(&format!("{what} {}", at + 1), printed, computed);
        }
    }
}
