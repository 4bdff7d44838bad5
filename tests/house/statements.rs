//! SQL is made of constants and bound values alone.
//!
//! The driver takes only texts that live as long as the program (`&'static str`), and those for which
//! somebody vouches (`AssertSqlSafe`). So it is enough to see that nobody outside the store speaks to it, that
//! few places vouch, that nothing is made to live for ever, and that what is put into the texts at
//! these places is a constant, a count or a placeholder.

#![expect(clippy::expect_used, reason = "a helper of tests may fail the test")]

use std::fs;
use std::path::{Path, PathBuf};

/// Where texts are put together and vouched for, and what may stand in them, each a constant, a
/// count, or made of such.
const VOUCHERS: [(&str, &[&str]); 5] = [
    // The database's own description of its tables, and their names, quoted.
    ("upkeep/backup.rs", &["name"]),
    // The fields of an `Insert`, which are constants.
    ("engine/mod.rs", &["table", "columns"]),
    // Numbers of writes and rows; texts that came through `Sql` or `Insert`.
    ("engine/batch.rs", &["n", "rows", ""]),
    // Names of tables and columns from its list, placeholders, a constant number.
    (
        "upkeep/copy.rs",
        &["names", "after", "keys", "places", "table", "PAGE", ""],
    ),
    // The words that begin a transaction, and a text that was vouched for.
    ("engine/sqlite.rs", &["before", ""]),
];

/// What only these may say.
const VOUCHES: [&str; 3] = ["AssertSqlSafe", "raw_sql", "QueryBuilder"];

/// What statements and their parts begin with.
const BEGINNINGS: [&str; 18] = [
    "select ",
    "insert ",
    "update ",
    "delete ",
    "with ",
    "create ",
    "alter ",
    "drop ",
    "begin",
    "set ",
    "where ",
    "and ",
    "or ",
    "from ",
    "order by ",
    "limit ",
    "values ",
    "on conflict ",
];

/// Faults of a file of the store: what it says that it may not.
fn faults(name: &str, text: &str) -> Vec<String> {
    let may = VOUCHERS.iter().find(|(file, _)| *file == name);
    let mut faults = Vec::new();
    for word in VOUCHES {
        if may.is_none() && text.contains(word) {
            faults.push(format!("{name} vouches: {word}"));
        }
    }
    if text.contains(".leak()") || text.contains("Box::leak") {
        faults.push(format!("{name} makes a text live for ever"));
    }
    for literal in literals(text) {
        let begins = literal.trim_start().to_lowercase();
        if !BEGINNINGS.iter().any(|word| begins.starts_with(word)) {
            continue;
        }
        for put_in in interpolated(&literal) {
            if !may.is_some_and(|(_, names)| names.contains(&put_in.as_str())) {
                faults.push(format!("{name} puts `{put_in}` into `{literal}`"));
            }
        }
    }
    faults
}

/// The string literals of a source text, without their quotes.
fn literals(text: &str) -> Vec<String> {
    let mut all = Vec::new();
    let mut characters = text.chars();
    let mut before = ' ';
    while let Some(one) = characters.next() {
        // Not the character `'"'`.
        if one == '"' && before != '\'' {
            let mut literal = String::new();
            while let Some(one) = characters.next() {
                match one {
                    '"' => break,
                    '\\' => drop(characters.next()),
                    one => literal.push(one),
                }
            }
            all.push(literal);
        }
        before = one;
    }
    all
}

/// What is put into a format text, by name; empty where it has none.
fn interpolated(literal: &str) -> Vec<String> {
    let plain = literal.replace("{{", "").replace("}}", "");
    let parts = plain.split('{').skip(1);
    parts
        .filter_map(|part| Some(part.split_once('}')?.0.split(':').next()?.to_owned()))
        .collect()
}

/// The code of a file without comments, and without the tests at its end.
fn code(path: &Path) -> String {
    let text = fs::read_to_string(path).expect("a readable file");
    let lines = text.lines().take_while(|line| *line != "#[cfg(test)]");
    let lines = lines.filter(|line| !line.trim_start().starts_with("//"));
    lines.collect::<Vec<_>>().join("\n")
}

fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).expect("a readable folder") {
        let path = entry.expect("a readable entry").path();
        if path.is_dir() {
            files.extend(sources(&path));
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            files.push(path);
        }
    }
    files
}

#[test]
fn statements_of_the_store_hold_constants_and_bound_values_alone() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/store");
    let files = sources(&folder);
    assert!(files.len() > 20, "the store has moved");
    let mut all = Vec::new();
    for path in files {
        let name = path.strip_prefix(&folder).expect("a file of the store");
        all.extend(faults(&name.to_string_lossy(), &code(&path)));
    }
    assert!(all.is_empty(), "{}", all.join("\n"));
}

#[test]
fn nobody_else_speaks_to_the_driver() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    for path in sources(&folder) {
        if path.starts_with(folder.join("store")) {
            continue;
        }
        let code = code(&path);
        assert!(!code.contains("sqlx::"), "{}", path.display());
    }
}

#[test]
fn a_value_in_a_statement_is_found() {
    let found = |name: &str, text: &str| faults(name, text).join("; ");
    let value = r#"let text = format!("select id from member where name = '{name}'");"#;
    assert_eq!(
        found("teams.rs", value),
        "teams.rs puts `name` into `select id from member where name = '{name}'`"
    );
    assert!(found("engine/mod.rs", value).contains("puts `name`"));
    let part = r#"text.push_str(&format!(" and author = {}", author));"#;
    assert!(found("jobs.rs", part).contains("puts ``"), "{part}");
    assert!(found("jobs.rs", "AssertSqlSafe(text)").contains("vouches"));
    assert!(found("engine/mod.rs", "text.leak()").contains("for ever"));
    let fine = r#"const FIND: Sql = Sql::both(JOB, "select key from job where key = $1");"#;
    assert_eq!(found("jobs.rs", fine), "");
    let told = r#"format!("is {value}, out of range")"#;
    assert_eq!(found("teams.rs", told), "");
}
