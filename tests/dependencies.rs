//! What the program is built of: from the registry alone, under licences that let it be handed on, and no
//! further library in two versions. Read from the lock file by `cargo metadata`, without a network.

#![expect(clippy::expect_used, reason = "a helper of tests may fail the test")]

use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

use serde_json::Value;

/// Identifiers of SPDX (<https://spdx.org/licenses/>): all ask for a notice at most, but for MPL-2.0,
/// which asks that changes to its own files are handed on; none is changed here.
const LICENCES: [&str; 13] = [
    "MIT",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "ISC",
    "Zlib",
    "0BSD",
    "BSL-1.0",
    "Unlicense",
    "Unicode-3.0",
    "CDLA-Permissive-2.0",
    "MPL-2.0",
];

/// Libraries that are here in two versions, because others ask for an old one: sqlx for hashes, ring
/// for chance, png for its compression. The list may only become shorter.
const TWICE: [&str; 12] = [
    "base64",
    "block-buffer",
    "cpufeatures",
    "crypto-common",
    "digest",
    "getrandom",
    "hashbrown",
    "miniz_oxide",
    "sha2",
    "syn",
    "thiserror",
    "thiserror-impl",
];

/// All packages that are built, as cargo describes them.
fn packages() -> Vec<Value> {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked", "--offline"])
        .args(["--filter-platform", "x86_64-unknown-linux-gnu"])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("cargo runs");
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{said}");
    let all: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let built = all["resolve"]["nodes"].as_array().expect("a list");
    let built: BTreeSet<&str> = built
        .iter()
        .filter_map(|node| node["id"].as_str())
        .collect();
    let packages = all["packages"].as_array().expect("a list");
    let is_other = |package: &&Value| {
        package["id"].as_str().is_some_and(|id| built.contains(id))
            && package["name"] != "chalkbell"
    };
    packages.iter().filter(is_other).cloned().collect()
}

/// Whether an SPDX expression can be met by the licences above: by all of those joined by `AND`, by
/// one of those joined by `OR`, which binds less. A slash is an old way to write `OR`.
fn is_met(expression: &str) -> bool {
    let expression = expression.trim().replace('/', " OR ");
    if let Some((inside, after)) = parenthesized(&expression) {
        let rest = after.trim();
        return match rest.split_once(' ') {
            None => is_met(inside),
            Some(("AND", rest)) => is_met(inside) && is_met(rest),
            Some(("OR", rest)) => is_met(inside) || is_met(rest),
            Some(_) => false,
        };
    }
    match expression.split_once(" OR ") {
        Some((one, rest)) => is_met(one) || is_met(rest),
        None => expression
            .split(" AND ")
            .all(|one| LICENCES.contains(&one.trim())),
    }
}

/// What stands in the parentheses that an expression begins with, and after them; none is nested here.
fn parenthesized(expression: &str) -> Option<(&str, &str)> {
    expression.strip_prefix('(')?.split_once(')')
}

#[test]
fn licences_let_the_program_be_handed_on() {
    for package in packages() {
        let (name, licence) = (&package["name"], package["license"].as_str());
        let licence = licence.unwrap_or("none");
        assert!(is_met(licence), "{name} is under {licence}");
    }
}

#[test]
fn licences_are_read_as_they_are_meant() {
    for (expression, met) in [
        ("MIT", true),
        ("GPL-3.0-only", false),
        ("GPL-3.0-only OR MIT", true),
        ("MIT AND GPL-3.0-only", false),
        ("MIT/Apache-2.0", true),
        ("(MIT OR GPL-2.0-only) AND Unicode-3.0", true),
        ("(MIT OR Apache-2.0) AND GPL-2.0-only", false),
        ("Apache-2.0 WITH LLVM-exception OR GPL-2.0-only", true),
        ("none", false),
    ] {
        assert_eq!(is_met(expression), met, "{expression}");
    }
}

#[test]
fn everything_comes_from_a_registry_and_nothing_more_comes_twice() {
    let mut versions: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for package in packages() {
        let text = |key: &str| package[key].as_str().unwrap_or_default().to_owned();
        assert!(text("source").starts_with("registry+"), "{}", text("name"));
        versions
            .entry(text("name"))
            .or_default()
            .insert(text("version"));
    }
    assert!(versions.len() > 100, "nothing was read");
    for (name, versions) in versions {
        let known = TWICE.contains(&name.as_str());
        assert!(versions.len() == 1 || known, "{name}: {versions:?}");
    }
}
