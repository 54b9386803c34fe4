//! `kerfmark completions SHELL` and `kerfmark man`

use std::io;

use clap::{Command, CommandFactory};
use clap_complete::Shell;
use clap_mangen::Man;
use clap_mangen::roff::{Roff, bold, roman};

use super::args::Arguments;
use super::done::Done;
use super::error::CliError;
use crate::finding::Code;

pub(super) fn completions(shell: Shell) -> Done {
    let mut bytes = Vec::new();
    clap_complete::generate(shell, &mut Arguments::command(), "kerfmark", &mut bytes);
    Done::text(String::from_utf8_lossy(&bytes).into_owned())
}

pub(super) fn manual() -> Result<Done, CliError> {
    Ok(Done::text(page()?))
}

/// One page for the program and all its commands: `kerfmark man` writes to standard output, where
/// the usual page a command has no place.
fn page() -> io::Result<String> {
    let command = built();
    // An empty date would be written without quotes, and the version taken for it.
    let whole = Man::new(command.clone()).date(" ");
    let mut bytes = Vec::new();
    whole.render_title(&mut bytes)?;
    whole.render_name_section(&mut bytes)?;
    whole.render_synopsis_section(&mut bytes)?;
    whole.render_description_section(&mut bytes)?;
    whole.render_options_section(&mut bytes)?;
    for command in command.get_subcommands() {
        render_command(command, &mut bytes)?;
    }
    whole.render_extra_section(&mut bytes)?;
    bytes.extend(flags().to_roff().bytes());
    whole.render_version_section(&mut bytes)?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

/// Every flag with its severity and what it means: scripts meet their names.
fn flags() -> Roff {
    let mut section = Roff::new();
    section.control("SH", ["FLAGS"]);
    for code in Code::ALL {
        section.control("TP", []);
        section.text([bold(code.name())]);
        section.text([roman(format!(
            "{}: {}.",
            code.severity().word(),
            code.meaning()
        ))]);
    }
    section
}

/// The command line with the full name of every command. `help` is left out: it takes no options, and
/// says what this page says.
fn built() -> Command {
    let mut command = Arguments::command().disable_help_subcommand(true);
    command.build();
    command
}

/// A command as a section, and what is a section of its own page as a subsection.
fn render_command(command: &Command, bytes: &mut Vec<u8>) -> io::Result<()> {
    let mut heading = Roff::new();
    heading.control("SH", [title(command).as_str()]);
    bytes.extend(heading.to_roff().bytes());
    let own = Man::new(command.clone());
    let mut sections = Vec::new();
    own.render_synopsis_section(&mut sections)?;
    own.render_description_section(&mut sections)?;
    own.render_options_section(&mut sections)?;
    for line in String::from_utf8_lossy(&sections).lines() {
        // Text never starts with a full stop in what is rendered, so this is a heading.
        let line = line
            .strip_prefix(".SH ")
            .map_or_else(|| line.to_owned(), |heading| format!(".SS {heading}"));
        bytes.extend(line.bytes());
        bytes.push(b'\n');
    }
    Ok(())
}

/// `KERFMARK FIGURES`: headings of sections are in capitals.
fn title(command: &Command) -> String {
    command
        .get_bin_name()
        .unwrap_or_else(|| command.get_name())
        .to_uppercase()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn escaped(text: &str) -> String {
        text.replace('-', "\\-").replace('\'', "\\*(Aq")
    }

    /// The section of a command.
    fn section<'a>(page: &'a str, command: &Command) -> &'a str {
        let heading = format!(".SH \"{}\"\n", title(command));
        let (_, rest) = page.split_once(&heading).expect("a section");
        rest.split("\n.SH ").next().expect("its text")
    }

    #[test]
    fn the_manual_documents_every_command_with_all_that_it_takes() {
        let page = page().expect("a page");
        let whole = built();
        assert!(whole.get_subcommands().count() > 1);
        for command in whole.get_subcommands() {
            let section = section(&page, command);
            for part in [".SS SYNOPSIS\n", ".SS DESCRIPTION\n", ".SS OPTIONS\n"] {
                assert!(section.contains(part), "{part}: {section}");
            }
            let about = command.get_about().expect("what it does").to_string();
            assert!(section.contains(&escaped(&about)), "{about}: {section}");
            for argument in command.get_arguments() {
                let option = argument.get_long().map(|long| format!("--{long}"));
                let value = || Some(argument.get_value_names()?.join(" "));
                let mut words = vec![option.or_else(value).expect("a name")];
                let choices = argument.get_possible_values();
                words.extend(choices.iter().map(|choice| choice.get_name().to_owned()));
                for word in words {
                    assert!(section.contains(&escaped(&word)), "{word}: {section}");
                }
            }
        }
    }

    #[test]
    fn the_manual_says_of_every_flag_what_it_means() {
        let page = page().expect("a page");
        for code in Code::ALL {
            assert!(page.contains(&escaped(code.name())), "{code}");
            // How an apostrophe is written there is no matter of ours.
            for part in code.meaning().split('\'') {
                assert!(page.contains(&part.replace('-', "\\-")), "{code}");
            }
        }
    }

    #[test]
    fn the_manual_is_one_page_without_pages_that_are_not_there() {
        let page = page().expect("a page");
        assert_eq!(
            page.lines().filter(|line| line.starts_with(".TH")).count(),
            1
        );
        let named = ["NAME", "SYNOPSIS", "DESCRIPTION", "OPTIONS", "VERSION"];
        for heading in named {
            let heading = format!(".SH {heading}");
            assert_eq!(page.lines().filter(|line| *line == heading).count(), 1);
        }
        assert!(!page.contains("kerfmark\\-figures(1)"));
    }
}
