//! Paths as the job file writes them, with `/` between their parts on every system.

use std::path::{Component, Path, PathBuf};

/// The path that a text of the job file names, put together part by part, so that it is shown with the
/// system's own separator alone. Nothing for a path that leaves the folder, that names the folder itself,
/// or that could mean something else on another system.
pub fn path_of(text: &str) -> Option<PathBuf> {
    if text.contains('\\') {
        return None;
    }
    let mut path = PathBuf::new();
    for part in Path::new(text).components() {
        match part {
            Component::Normal(name) => path.push(name),
            Component::ParentDir => {
                if !path.pop() {
                    return None;
                }
            }
            Component::CurDir => {}
            Component::RootDir | Component::Prefix(_) => return None,
        }
    }
    (path.file_name().is_some()).then_some(path)
}

/// The same path as a text with `/` between its parts, as files and JSON carry it.
pub fn name_of(path: &Path) -> String {
    let parts: Vec<_> = path
        .components()
        .map(|part| part.as_os_str().to_string_lossy())
        .collect();
    parts.join("/")
}

#[cfg(test)]
mod tests {
    use std::path::{MAIN_SEPARATOR_STR, PathBuf};

    use super::{name_of, path_of};

    #[test]
    fn a_path_has_one_separator_when_shown_and_another_in_files() {
        for text in ["a.csv", "tallies/a.csv", "tallies/more/a.csv"] {
            let path = path_of(text).expect("a path");
            let shown = path.display().to_string();
            assert_eq!(shown, text.replace('/', MAIN_SEPARATOR_STR));
            assert_eq!(name_of(&path), text);
        }
        let parts: PathBuf = ["tallies", "a.csv"].iter().collect();
        assert_eq!(path_of("./tallies//x/../a.csv"), Some(parts));
    }

    #[test]
    fn no_path_leaves_the_folder() {
        for text in [
            "",
            ".",
            "..",
            "../a.csv",
            "/a.csv",
            "tallies/../../a.csv",
            "tallies/..",
            "..\\a.csv",
            "tallies\\a.csv",
            "C:\\a.csv",
        ] {
            assert_eq!(path_of(text), None, "{text}");
        }
    }
}
