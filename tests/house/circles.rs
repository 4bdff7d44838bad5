//! Inside a room, no file needs one that needs it, and folders use each other one way only.
//!
//! What is not so yet is counted below, room by room. The counts may only fall: who unties a circle
//! lowers its count, and who ties one is told which files stand in it.

#![expect(
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a helper of tests may fail the test, and says what there is"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use super::rooms::{source_folder, sources};

/// Files of a room that stand in a circle.
const FILES_IN_CIRCLES: [(&str, usize); 4] =
    [("bot", 15), ("channel", 14), ("message", 25), ("store", 20)];

/// Arrows between two folders of a room that go against the greater number of them.
const ARROWS_UP: [(&str, usize); 2] = [("message", 1), ("store", 10)];

/// A module by the names on the way to it: `["store", "engine", "open"]`.
type Module = Vec<String>;

/// For each module the modules of its room that it uses.
type Arrows = BTreeMap<Module, BTreeSet<Module>>;

/// The words of some code, with `::` as one and without comments and tests.
fn words(text: &str) -> Vec<String> {
    let code = text.split("#[cfg(test)]\nmod ").next().unwrap_or_default();
    let mut words: Vec<String> = Vec::new();
    for line in code.lines() {
        if line.trim_start().starts_with("//") {
            continue;
        }
        let mut inside = false;
        for c in line.chars() {
            let named = c.is_alphanumeric() || c == '_';
            match words.last_mut() {
                Some(last) if named && inside => last.push(c),
                Some(last) if c == ':' && last == ":" => last.push(c),
                _ if c.is_whitespace() => {}
                _ => words.push(c.to_string()),
            }
            inside = named;
        }
    }
    words
}

fn is_name(word: &str) -> bool {
    word.starts_with(|c: char| c.is_alphabetic() || c == '_')
}

/// The paths that begin at a word, each with the name that it gets there: `a::{b, c as d}` is two.
fn tree(words: &[String], at: &mut usize, path: &[String], into: &mut Vec<(Module, String)>) {
    let mut path = path.to_vec();
    while let Some(word) = words.get(*at) {
        if word == "{" {
            *at += 1;
            while words.get(*at).is_some_and(|word| word != "}") {
                let before = *at;
                if is_name(&words[*at]) {
                    tree(words, at, &path, into);
                }
                *at = (*at).max(before + usize::from(*at == before));
            }
            *at += 1;
            return;
        }
        if !is_name(word) {
            break;
        }
        path.push(word.clone());
        *at += 1;
        if words.get(*at).is_none_or(|word| word != "::") {
            break;
        }
        *at += 1;
    }
    let mut name = path.last().cloned().unwrap_or_default();
    if words.get(*at).is_some_and(|word| word == "as") {
        name = words.get(*at + 1).cloned().unwrap_or_default();
        *at += 2;
    }
    if path.last().is_some_and(|last| last == "self") {
        path.pop();
    }
    into.push((path, name));
}

/// A file's paths from the crate's root, and those that it hands on under a name of its own.
struct Paths {
    used: Vec<Module>,
    handed_on: BTreeMap<String, Module>,
}

fn paths(own: &Module, text: &str, all: &BTreeMap<Module, String>) -> Paths {
    let words = words(text);
    let (mut used, mut handed_on) = (Vec::new(), BTreeMap::new());
    let mut at = 0;
    let mut public = false;
    while at < words.len() {
        let before = at.checked_sub(1).map(|at| words[at].as_str());
        match words[at].as_str() {
            "pub" => public = true,
            "mod" | "fn" | "struct" | "enum" | "const" | "type" | "trait" | ";" => public = false,
            _ => {}
        }
        let child = || {
            let mut path = own.clone();
            path.push(words[at].clone());
            all.contains_key(&path)
        };
        let starts = match words[at].as_str() {
            "crate" | "self" | "super" => words.get(at + 1).is_some_and(|next| next == "::"),
            word => is_name(word) && words.get(at + 1).is_some_and(|next| next == "::") && child(),
        };
        if !starts || matches!(before, Some("::" | "." | "(")) && before != Some("(") {
            at += 1;
            continue;
        }
        let hands_on = public && before == Some("use");
        let mut found = Vec::new();
        tree(&words, &mut at, &[], &mut found);
        for (path, name) in found {
            let Some(path) = from_root(own, &path) else {
                continue;
            };
            if hands_on {
                handed_on.insert(name, path);
            } else {
                used.push(path);
            }
        }
    }
    Paths { used, handed_on }
}

/// A path as it is written in a module, from the root.
fn from_root(own: &Module, path: &[String]) -> Option<Module> {
    let ups = path.iter().take_while(|word| *word == "super").count();
    let (base, rest) = match path.first()?.as_str() {
        "crate" => (&own[..0], &path[1..]),
        "self" => (&own[..], &path[1..]),
        "super" => (&own[..own.len().checked_sub(ups)?], &path[ups..]),
        _ => (&own[..], path),
    };
    Some([base, rest].concat())
}

/// The module in which a thing stands, also when another hands it on.
fn home(path: &[String], all: &BTreeMap<Module, Paths>, hops: u32) -> Option<Module> {
    let (module, found) = (1..=path.len())
        .rev()
        .find_map(|length| all.get_key_value(&path[..length]))?;
    let rest = &path[module.len()..];
    let on = rest.first().and_then(|name| found.handed_on.get(name));
    match on {
        Some(on) if hops < 8 => home(&[on, &rest[1..]].concat(), all, hops + 1),
        _ => Some(module.clone()),
    }
}

/// The arrows inside the rooms; a file that only hands on does not use what it hands on.
fn arrows(texts: &BTreeMap<Module, String>) -> Arrows {
    let all: BTreeMap<Module, Paths> = texts
        .iter()
        .map(|(module, text)| (module.clone(), paths(module, text, texts)))
        .collect();
    let mut arrows = Arrows::new();
    for (module, paths) in &all {
        let homes = paths.used.iter().filter_map(|path| home(path, &all, 0));
        let inside = homes.filter(|home| home != module && home[0] == module[0]);
        arrows.insert(module.clone(), inside.collect());
    }
    arrows
}

/// All that can be come to from a module along arrows.
fn beyond(from: &Module, arrows: &Arrows) -> BTreeSet<Module> {
    let mut seen = BTreeSet::new();
    let mut open = vec![from];
    while let Some(module) = open.pop() {
        for next in arrows.get(module).into_iter().flatten() {
            if seen.insert(next.clone()) {
                open.push(next);
            }
        }
    }
    seen
}

/// The circles, each as the set of its modules.
fn circles(arrows: &Arrows) -> BTreeSet<BTreeSet<Module>> {
    let reach: BTreeMap<&Module, BTreeSet<Module>> = arrows
        .keys()
        .map(|module| (module, beyond(module, arrows)))
        .collect();
    let in_circle = reach.iter().filter(|(module, to)| to.contains(**module));
    in_circle
        .map(|(module, to)| {
            let back = |other: &&Module| reach.get(other).is_some_and(|to| to.contains(*module));
            to.iter().filter(back).cloned().collect()
        })
        .collect()
}

/// The two folders beside each other that an arrow leads from and to.
fn folders<'a>(from: &'a Module, to: &'a Module, all: &Arrows) -> Option<[&'a [String]; 2]> {
    let common = from.iter().zip(to).take_while(|(a, b)| a == b).count();
    let folder = |module: &'a Module| {
        let folder = module.get(..=common)?;
        let holds = |other: &Module| other.len() > folder.len() && other.starts_with(folder);
        all.keys().any(holds).then_some(folder)
    };
    Some([folder(from)?, folder(to)?])
}

/// Arrows between folders that go against the greater number of them.
fn arrows_up(arrows: &Arrows) -> Vec<[&Module; 2]> {
    let mut between: BTreeMap<[&[String]; 2], Vec<[&Module; 2]>> = BTreeMap::new();
    for (from, to) in arrows
        .iter()
        .flat_map(|(from, to)| to.iter().map(move |to| (from, to)))
    {
        if let Some(pair) = folders(from, to, arrows) {
            between.entry(pair).or_default().push([from, to]);
        }
    }
    let fewer = between.iter().filter(|([from, to], there)| {
        let back = between.get(&[*to, *from]).map_or(0, Vec::len);
        back > there.len() || back == there.len() && from > to
    });
    fewer.flat_map(|(_, there)| there.iter().copied()).collect()
}

fn texts() -> BTreeMap<Module, String> {
    let folder = source_folder();
    let modules = sources(&folder).into_iter().filter_map(|path| {
        let inside = path.strip_prefix(&folder).expect("a source file");
        let mut module: Module = inside
            .with_extension("")
            .iter()
            .map(|part| part.to_string_lossy().into_owned())
            .collect();
        if module.last().is_some_and(|last| last == "mod") {
            module.pop();
        }
        let is_root = module == ["lib"] || module == ["main"];
        (!is_root).then(|| (module, fs::read_to_string(path).expect("a readable file")))
    });
    modules.collect()
}

/// Fails when a room has more of something than is listed, and prints what there is.
fn at_most(list: &[(&str, usize)], found: impl Iterator<Item = (String, String)>) {
    let mut rooms: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (room, what) in found {
        rooms.entry(room).or_default().push(what);
    }
    let mut over = Vec::new();
    for (room, found) in rooms {
        println!("{room}: {}\n  {}", found.len(), found.join("\n  "));
        let listed = list.iter().find(|(name, _)| *name == room);
        if found.len() > listed.map_or(0, |(_, count)| *count) {
            over.push(room);
        }
    }
    assert!(over.is_empty(), "new in {over:?}: see above");
}

#[test]
fn no_file_is_new_in_a_circle() {
    let arrows = arrows(&texts());
    let count = arrows.values().map(BTreeSet::len).sum::<usize>();
    assert!(count > 500, "{count} arrows are seen");
    let circles = circles(&arrows);
    let files = circles.iter().flatten();
    let named = files.map(|file| (file[0].clone(), file.join("::")));
    at_most(&FILES_IN_CIRCLES, named);
}

#[test]
fn folders_of_a_room_use_each_other_one_way() {
    let arrows = arrows(&texts());
    let named = arrows_up(&arrows).into_iter().map(|[from, to]| {
        let arrow = format!("{} uses {}", from.join("::"), to.join("::"));
        (from[0].clone(), arrow)
    });
    at_most(&ARROWS_UP, named);
}

#[test]
fn circles_and_arrows_up_are_seen() {
    let texts: BTreeMap<Module, String> = [
        (
            "room",
            "mod a;\nmod b;\npub use a::{Thing, other as Other};\n",
        ),
        ("room::a", "use super::b::{self, x};\n// crate::room::c\n"),
        ("room::b", "fn f() { crate::room::Other::new(); }\n"),
        (
            "room::c",
            "use crate::room::a::Thing;\n#[cfg(test)]\nmod tests { use super::super::d; }\n",
        ),
        ("room::low", "mod one;\n"),
        (
            "room::low::one",
            "use crate::{room::high::two::Two, elsewhere::b};\n",
        ),
        ("room::high", "mod two;\nmod three;\n"),
        ("room::high::two", ""),
        ("room::high::three", "use crate::room::low::one;\n"),
        ("room::high::four", "use crate::room::low::one;\n"),
    ]
    .into_iter()
    .map(|(path, text)| {
        (
            path.split("::").map(str::to_owned).collect(),
            text.to_owned(),
        )
    })
    .collect();
    let arrows = arrows(&texts);
    let circles = circles(&arrows);
    let named: Vec<String> = circles
        .iter()
        .flatten()
        .map(|module| module.join("::"))
        .collect();
    assert_eq!(named, ["room::a", "room::b"]);
    let up = arrows_up(&arrows);
    assert_eq!(up.len(), 1);
    assert_eq!(up[0][0].join("::"), "room::low::one");
}
