//! The sources as modules: what each file defines, imports, and names.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use proc_macro2::{TokenStream, TokenTree};
use syn::visit::{self, Visit};
use syn::{Item, UseTree};

/// A path of names, such as `crate::figures::Chain` without its `crate`.
pub type Names = Vec<String>;

/// One file.
pub struct Source {
    /// Its path below `src`.
    pub file: String,
    /// The module that it is.
    pub module: Names,
    /// What it names: from the root of this crate where `local`, else from an external crate.
    pub named: Vec<Named>,
}

/// Something named in a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Named {
    /// Whether the path starts at the root of this crate.
    pub local: bool,
    /// The path.
    pub path: Names,
    /// Whether it is re-exported and not used.
    pub re_export: bool,
}

/// What a name of a module stands for.
enum Meaning {
    Module,
    /// An item defined in this file.
    Item(String),
    /// Another path, as it is written in this module.
    Import(Names),
}

/// All files of a tree, and what their names mean.
pub struct Tree {
    pub sources: Vec<Source>,
    meanings: BTreeMap<(Names, String), Meaning>,
}

/// Every source of this project, as path and text.
pub fn of_this_project() -> Vec<(String, String)> {
    fn below(root: &Path, folder: &Path, all: &mut Vec<(String, String)>) {
        for entry in fs::read_dir(folder).expect("a folder of sources").flatten() {
            let path = entry.path();
            if path.is_dir() {
                below(root, &path, all);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                let name = path.strip_prefix(root).expect("below src");
                let name = name.to_string_lossy().replace('\\', "/");
                all.push((name, fs::read_to_string(&path).expect("text")));
            }
        }
    }
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut all = Vec::new();
    below(&root, &root, &mut all);
    all.sort();
    all
}

impl Tree {
    /// Parses files given by path and text. Tests do not count, nor does `main.rs`.
    pub fn of(files: &[(String, String)]) -> Self {
        let mut tree = Self {
            sources: Vec::new(),
            meanings: BTreeMap::new(),
        };
        let counted = |file: &str| {
            let parts: Vec<&str> = file.trim_end_matches(".rs").split('/').collect();
            file != "main.rs" && !parts.contains(&"tests")
        };
        let parsed: Vec<(String, Names, syn::File)> = files
            .iter()
            .filter(|(file, _)| counted(file))
            .map(|(file, text)| {
                let ast = syn::parse_file(text).unwrap_or_else(|error| panic!("{file}: {error}"));
                (file.clone(), module_of(file), ast)
            })
            .collect();
        for (file, module, ast) in &parsed {
            tree.define(file, module, &ast.items);
        }
        for (file, module, ast) in parsed {
            let mut visitor = Visitor {
                tree: &tree,
                module: module.clone(),
                named: Vec::new(),
            };
            visitor.visit_file(&ast);
            let named = visitor.named;
            tree.sources.push(Source {
                file,
                module,
                named,
            });
        }
        tree
    }

    fn define(&mut self, file: &str, module: &Names, items: &[Item]) {
        for item in items.iter().filter(|item| !is_test(item)) {
            let name = match item {
                Item::Const(it) => it.ident.to_string(),
                Item::Enum(it) => it.ident.to_string(),
                Item::Fn(it) => it.sig.ident.to_string(),
                Item::Static(it) => it.ident.to_string(),
                Item::Struct(it) => it.ident.to_string(),
                Item::Trait(it) => it.ident.to_string(),
                Item::Type(it) => it.ident.to_string(),
                Item::Macro(it) => {
                    let Some(ident) = &it.ident else {
                        // A macro that makes items: what it makes is named in its tokens.
                        for name in capitalised(it.mac.tokens.clone()) {
                            self.mean(module, name, Meaning::Item(file.to_owned()));
                        }
                        continue;
                    };
                    ident.to_string()
                }
                Item::Mod(it) => {
                    let name = it.ident.to_string();
                    self.mean(module, name.clone(), Meaning::Module);
                    if let Some((_, items)) = &it.content {
                        let mut inner = module.clone();
                        inner.push(name);
                        self.define(file, &inner, items);
                    }
                    continue;
                }
                Item::Use(it) => {
                    for (name, path) in leaves(&it.tree) {
                        self.mean(module, name, Meaning::Import(path));
                    }
                    continue;
                }
                _ => continue,
            };
            // A macro of this file that defines enums names them in its body.
            if let Item::Macro(it) = item {
                for name in defined_in(it.mac.tokens.clone()) {
                    self.mean(module, name, Meaning::Item(file.to_owned()));
                }
            }
            self.mean(module, name, Meaning::Item(file.to_owned()));
        }
    }

    fn mean(&mut self, module: &Names, name: String, meaning: Meaning) {
        self.meanings
            .entry((module.clone(), name))
            .or_insert(meaning);
    }

    /// A path as it stands in a module, with imports and re-exports followed.
    fn expand(&self, module: &Names, path: &Names, depth: usize) -> Named {
        let named = absolute(module, path);
        if depth > 20 {
            return named;
        }
        if named.local {
            return self.follow(named, depth);
        }
        let Some((first, rest)) = path.split_first() else {
            return named;
        };
        match self.meanings.get(&(module.clone(), first.clone())) {
            // `use syn;` names what it imports.
            Some(Meaning::Import(import)) if import != path => {
                let mut import = import.clone();
                import.extend(rest.iter().cloned());
                self.expand(module, &import, depth + 1)
            }
            Some(Meaning::Module | Meaning::Item(_)) => {
                let mut inside = module.clone();
                inside.extend(path.iter().cloned());
                let named = Named {
                    local: true,
                    path: inside,
                    re_export: false,
                };
                self.follow(named, depth)
            }
            _ => named,
        }
    }

    /// Follows re-exports to the file that defines what is named.
    fn follow(&self, named: Named, depth: usize) -> Named {
        let mut module = Names::new();
        for (at, name) in named.path.iter().enumerate() {
            match self.meanings.get(&(module.clone(), name.clone())) {
                Some(Meaning::Module) => module.push(name.clone()),
                Some(Meaning::Import(import)) => {
                    let mut import = import.clone();
                    import.extend(named.path[at + 1..].iter().cloned());
                    return self.expand(&module, &import, depth + 1);
                }
                Some(Meaning::Item(_)) | None => break,
            }
        }
        named
    }

    /// The file that defines what a path of this crate names.
    pub fn definer(&self, path: &Names) -> Option<&str> {
        let mut module = Names::new();
        for name in path {
            match self.meanings.get(&(module.clone(), name.clone()))? {
                Meaning::Module => module.push(name.clone()),
                Meaning::Item(file) => return Some(file),
                Meaning::Import(_) => return None,
            }
        }
        None
    }
}

/// The module that a file is.
fn module_of(file: &str) -> Names {
    let mut module: Names = file
        .trim_end_matches(".rs")
        .split('/')
        .map(str::to_owned)
        .collect();
    if matches!(module.last().map(String::as_str), Some("mod" | "lib")) {
        module.pop();
    }
    module
}

/// A path with `crate`, `self` and `super` resolved; one that starts otherwise is external until its
/// first name is looked up.
fn absolute(module: &Names, path: &Names) -> Named {
    let mut base = module.clone();
    let mut rest = path.as_slice();
    let mut local = false;
    while let Some((first, after)) = rest.split_first() {
        match first.as_str() {
            "crate" => base = Names::new(),
            "self" => {}
            "super" => {
                base.pop();
            }
            _ => break,
        }
        local = true;
        rest = after;
    }
    if !local {
        base = Names::new();
    }
    base.extend(rest.iter().cloned());
    Named {
        local,
        path: base,
        re_export: false,
    }
}

/// Every leaf of a `use`, with the name that it has here; renamed or not. A glob has the name `*`.
fn leaves(tree: &UseTree) -> Vec<(String, Names)> {
    fn walk(tree: &UseTree, before: &Names, all: &mut Vec<(String, Names)>) {
        let with = |name: String| {
            let mut path = before.clone();
            path.push(name);
            path
        };
        match tree {
            UseTree::Path(it) => walk(&it.tree, &with(it.ident.to_string()), all),
            UseTree::Name(it) if it.ident == "self" => {
                let name = before.last().cloned().unwrap_or_default();
                all.push((name, before.clone()));
            }
            UseTree::Name(it) => all.push((it.ident.to_string(), with(it.ident.to_string()))),
            UseTree::Rename(it) if it.ident == "self" => {
                all.push((it.rename.to_string(), before.clone()));
            }
            UseTree::Rename(it) => all.push((it.rename.to_string(), with(it.ident.to_string()))),
            UseTree::Glob(_) => all.push(("*".to_owned(), with("*".to_owned()))),
            UseTree::Group(it) => it.items.iter().for_each(|tree| walk(tree, before, all)),
        }
    }
    let mut all = Vec::new();
    walk(tree, &Names::new(), &mut all);
    all
}

fn attributes(item: &Item) -> &[syn::Attribute] {
    match item {
        Item::Const(it) => &it.attrs,
        Item::Enum(it) => &it.attrs,
        Item::Fn(it) => &it.attrs,
        Item::Impl(it) => &it.attrs,
        Item::Macro(it) => &it.attrs,
        Item::Mod(it) => &it.attrs,
        Item::Static(it) => &it.attrs,
        Item::Struct(it) => &it.attrs,
        Item::Trait(it) => &it.attrs,
        Item::Type(it) => &it.attrs,
        Item::Use(it) => &it.attrs,
        _ => &[],
    }
}

/// Whether an item is compiled for tests alone.
pub fn is_test(item: &Item) -> bool {
    attributes(item).iter().any(|attribute| {
        attribute.path().is_ident("cfg")
            && attribute
                .parse_args::<syn::Ident>()
                .is_ok_and(|name| name == "test")
    })
}

/// Names that begin with a capital in the tokens of a macro that makes items.
fn capitalised(tokens: TokenStream) -> Vec<String> {
    let mut all = Vec::new();
    for token in tokens {
        match token {
            TokenTree::Ident(it) if it.to_string().starts_with(char::is_uppercase) => {
                all.push(it.to_string());
            }
            TokenTree::Group(it) => all.extend(capitalised(it.stream())),
            _ => {}
        }
    }
    all
}

/// Names that a macro's body defines: what follows `enum` or `struct`.
fn defined_in(tokens: TokenStream) -> Vec<String> {
    let mut all = Vec::new();
    let mut before = String::new();
    for token in tokens {
        match token {
            TokenTree::Ident(it) => {
                if matches!(before.as_str(), "enum" | "struct") {
                    all.push(it.to_string());
                }
                before = it.to_string();
            }
            TokenTree::Group(it) => all.extend(defined_in(it.stream())),
            _ => {}
        }
    }
    all
}

/// Runs of names joined by `::` in the tokens of a macro call.
fn paths_in(tokens: TokenStream) -> Vec<Names> {
    let mut all = Vec::new();
    let mut path = Names::new();
    let mut colons = 0;
    for token in tokens {
        match token {
            TokenTree::Ident(it) => {
                if colons != 2 {
                    all.push(std::mem::take(&mut path));
                }
                path.push(it.to_string());
                colons = 0;
            }
            TokenTree::Punct(it) if it.as_char() == ':' => colons += 1,
            TokenTree::Group(it) => {
                colons = 0;
                all.push(std::mem::take(&mut path));
                all.extend(paths_in(it.stream()));
            }
            _ => {
                colons = 0;
                all.push(std::mem::take(&mut path));
            }
        }
    }
    all.push(path);
    all.retain(|path| path.len() > 1);
    all
}

struct Visitor<'t> {
    tree: &'t Tree,
    module: Names,
    named: Vec<Named>,
}

impl<'ast> Visit<'ast> for Visitor<'_> {
    fn visit_item(&mut self, item: &'ast Item) {
        if !is_test(item) {
            visit::visit_item(self, item);
        }
    }

    fn visit_item_mod(&mut self, item: &'ast syn::ItemMod) {
        if item.content.is_some() {
            self.module.push(item.ident.to_string());
            visit::visit_item_mod(self, item);
            self.module.pop();
        }
    }

    fn visit_item_use(&mut self, item: &'ast syn::ItemUse) {
        let re_export = !matches!(item.vis, syn::Visibility::Inherited);
        for (_, path) in leaves(&item.tree) {
            let named = self.tree.expand(&self.module, &path, 0);
            self.named.push(Named { re_export, ..named });
        }
    }

    fn visit_item_extern_crate(&mut self, item: &'ast syn::ItemExternCrate) {
        self.named.push(Named {
            local: false,
            path: vec![item.ident.to_string(), "*".to_owned()],
            re_export: false,
        });
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        let names: Names = path
            .segments
            .iter()
            .map(|segment| segment.ident.to_string())
            .collect();
        self.named.push(self.tree.expand(&self.module, &names, 0));
        visit::visit_path(self, path);
    }

    fn visit_macro(&mut self, call: &'ast syn::Macro) {
        for path in paths_in(call.tokens.clone()) {
            self.named.push(self.tree.expand(&self.module, &path, 0));
        }
        visit::visit_macro(self, call);
    }
}
