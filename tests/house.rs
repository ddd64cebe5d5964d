//! How the house is built: data flows one way.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

const SOURCE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/src");

/// Every source file below a folder.
fn files(folder: &Path) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut files = Vec::new();
    for path in entries {
        if path.is_dir() {
            files.extend(self::files(&path));
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            files.push(path);
        }
    }
    files
}

/// The modules of the program by their paths (`board::exchange`), with their code; unit tests aside.
fn modules() -> BTreeMap<Vec<String>, String> {
    let module = |path: PathBuf| {
        let place = path.strip_prefix(SOURCE).unwrap().with_extension("");
        let mut names: Vec<String> =
            place.iter().map(|name| name.to_str().unwrap().to_owned()).collect();
        names.retain(|name| name != "mod");
        let text = std::fs::read_to_string(&path).unwrap();
        let code = text.split("#[cfg(test)]").next().unwrap().to_owned();
        (names, code)
    };
    files(Path::new(SOURCE)).into_iter().map(module).collect()
}

/// The modules that a module imports from, as far as their paths name them.
fn imports(
    place: &[String],
    code: &str,
    all: &BTreeMap<Vec<String>, String>,
) -> BTreeSet<Vec<String>> {
    let words =
        code.split(|letter: char| !(letter.is_alphanumeric() || letter == '_' || letter == ':'));
    let mut found = BTreeSet::new();
    for word in words.filter(|word| word.contains("::")) {
        let mut names = word.split("::").map(str::to_owned);
        let mut path = match names.next().as_deref() {
            Some("crate") => Vec::new(),
            Some("super") => place[..place.len() - 1].to_vec(),
            _ => continue,
        };
        for name in names {
            if name == "super" {
                path.pop();
                continue;
            }
            path.push(name);
            if !all.contains_key(&path) {
                path.pop();
                break;
            }
        }
        if path != place {
            found.insert(path);
        }
    }
    found
}

#[test]
fn a_folder_imports_only_from_folders_above_it() {
    let all = modules();
    let lib = &all[&vec!["lib".to_owned()]];
    let order: Vec<&str> =
        lib.lines().filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';')).collect();
    assert!(order.len() > 10, "{order:?}");
    let rank = |folder: &str| order.iter().position(|known| *known == folder);
    for (place, code) in &all {
        let Some(own) = rank(&place[0]) else { continue };
        for import in imports(place, code, &all) {
            let other = import.first().and_then(|folder| rank(folder));
            assert!(other.is_none_or(|other| other <= own), "{place:?} imports from {import:?}");
        }
    }
}

#[test]
fn no_file_imports_from_itself_by_way_of_others() {
    let all = modules();
    let mut left: BTreeMap<&Vec<String>, BTreeSet<Vec<String>>> = all
        .iter()
        // What a folder hands on is no file, and `lib` and `main` stand above all.
        .map(|(place, code)| (place, imports(place, code, &all)))
        .collect();
    let is_file = |place: &[String]| {
        !place.is_empty() && Path::new(SOURCE).join(place.join("/")).with_extension("rs").is_file()
    };
    left.retain(|place, _| is_file(place));
    loop {
        let free: Vec<Vec<String>> = left
            .iter()
            .filter(|(_, imports)| !imports.iter().any(|import| left.contains_key(import)))
            .map(|(place, _)| (*place).clone())
            .collect();
        if free.is_empty() {
            break;
        }
        left.retain(|place, _| !free.contains(place));
    }
    assert!(left.is_empty(), "a circle: {:?}", left.keys());
}

#[test]
fn no_two_types_have_one_name() {
    let mut places: BTreeMap<&str, Vec<&Vec<String>>> = BTreeMap::new();
    let all = modules();
    for (place, code) in &all {
        for line in code.lines().filter(|line| !line.trim_start().starts_with("//")) {
            let mut words = line.split(|letter: char| !(letter.is_alphanumeric() || letter == '_'));
            if words.any(|word| ["struct", "enum", "trait"].contains(&word))
                && let Some(name) = words.next()
                && name.starts_with(char::is_uppercase)
            {
                places.entry(name).or_default().push(place);
            }
        }
    }
    assert!(places.len() > 300, "{}", places.len());
    places.retain(|_, places| places.len() > 1);
    assert!(places.is_empty(), "{places:?}");
}
