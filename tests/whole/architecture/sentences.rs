//! Sentences that are made where none belongs: a text of several words in a macro that formats.

use proc_macro2::{TokenStream, TokenTree};
use syn::ItemImpl;
use syn::visit::{self, Visit};

use super::sources::is_test;

/// Macros that make a text.
const FORMATTING: [&str; 4] = ["format", "format_args", "write", "writeln"];

/// Files in which errors say what is wrong, and what a job file should say in its place.
const ERRORS: [&str; 9] = [
    "cli/error.rs",
    "folder/error.rs",
    "job/problem.rs",
    "job/quantity.rs",
    "job/read/",
    "job/section.rs",
    "job/walk.rs",
    "journal/error.rs",
    "tally/import/error.rs",
];

/// The words in a format string from which on it is a sentence: a label with its figures has fewer.
/// Reports write labels before their figures on every line.
const fn most_words(report: bool) -> usize {
    if report { 5 } else { 3 }
}

/// Sentences outside `report/words/`, `report/how/` and the errors' own texts.
pub fn strays(files: &[(String, String)]) -> Vec<String> {
    let mut found = Vec::new();
    for (file, text) in files {
        // Markup has words and is no sentence.
        let own = [
            "report/words/",
            "report/how/",
            "report/pages/html.rs",
            "report/pages/svg.rs",
        ];
        let is_tests = file
            .split('/')
            .any(|part| part == "tests" || part == "tests.rs");
        if is_tests
            || own
                .iter()
                .chain(&ERRORS)
                .any(|start| file.starts_with(start))
        {
            continue;
        }
        let ast = syn::parse_file(text).unwrap_or_else(|error| panic!("{file}: {error}"));
        let mut visitor = Sentences {
            most: most_words(file.starts_with("report/")),
            found: Vec::new(),
        };
        visitor.visit_file(&ast);
        let named = visitor.found.into_iter();
        found.extend(named.map(|sentence| format!("{file}: {sentence}")));
    }
    found
}

struct Sentences {
    most: usize,
    found: Vec<String>,
}

impl Sentences {
    fn look(&mut self, name: &str, tokens: TokenStream) {
        if FORMATTING.contains(&name)
            && let Some(text) = first_text(tokens.clone())
            && words(&text) > self.most
        {
            self.found.push(text);
        }
        self.look_inside(tokens);
    }

    /// Macros within the tokens of a macro.
    fn look_inside(&mut self, tokens: TokenStream) {
        let tokens: Vec<TokenTree> = tokens.into_iter().collect();
        for (at, token) in tokens.iter().enumerate() {
            let TokenTree::Group(group) = token else {
                continue;
            };
            let name = at.checked_sub(2).and_then(|at| tokens.get(at));
            match name {
                Some(TokenTree::Ident(name)) if tokens[at - 1].to_string() == "!" => {
                    self.look(&name.to_string(), group.stream());
                }
                _ => self.look_inside(group.stream()),
            }
        }
    }
}

impl<'ast> Visit<'ast> for Sentences {
    fn visit_item(&mut self, item: &'ast syn::Item) {
        if !is_test(item) {
            visit::visit_item(self, item);
        }
    }

    fn visit_item_impl(&mut self, item: &'ast ItemImpl) {
        let shows = item
            .trait_
            .as_ref()
            .and_then(|(_, path, _)| path.segments.last());
        if shows.is_none_or(|name| name.ident != "Display") {
            visit::visit_item_impl(self, item);
        }
    }

    fn visit_macro(&mut self, it: &'ast syn::Macro) {
        let name = it.path.segments.last();
        let name = name.map_or_else(String::new, |name| name.ident.to_string());
        self.look(&name, it.tokens.clone());
    }
}

/// The first text among tokens: the format string.
fn first_text(tokens: TokenStream) -> Option<String> {
    tokens.into_iter().find_map(|token| match token {
        TokenTree::Literal(it) => syn::parse_str::<syn::LitStr>(&it.to_string())
            .ok()
            .map(|text| text.value()),
        _ => None,
    })
}

/// How many words a format string has beside what it is filled with.
fn words(text: &str) -> usize {
    let mut depth = 0_usize;
    let plain: String = text
        .chars()
        .map(|c| {
            match c {
                '{' => depth += 1,
                '}' => depth = depth.saturating_sub(1),
                _ if depth == 0 => return c,
                _ => {}
            }
            ' '
        })
        .collect();
    let is_word = |word: &&str| word.chars().filter(|c| c.is_alphabetic()).count() > 1;
    plain.split_whitespace().filter(is_word).count()
}
