//! What operators do with a database: look it through, copy it, move it. What came of it is printed,
//! or told as the one error.

use std::io::Write as _;
use std::path::Path;

use anyhow::{Context as _, bail};
use chrono::Utc;

use crate::config::priors::printed;
use crate::service::Bot;
use crate::service::check::{Found, check as look_through};
use crate::service::prior::learn;
use crate::store::copy::{Copied, copy};
use crate::store::faults::{Fault, FaultKind};
use crate::store::{Store, admits};

/// Looks a database through, and prints what was found.
///
/// # Errors
/// When something is wrong that is not, or cannot be, repaired.
#[expect(clippy::disallowed_methods, reason = "an adapter reads the clock")]
pub async fn check(store: Store, bot: &Bot, repair: bool) -> anyhow::Result<()> {
    let found = look_through(&store, bot, Utc::now(), repair).await?;
    store.close().await;
    let mut out = std::io::stdout().lock();
    for line in told(&found) {
        writeln!(out, "{line}")?;
    }
    if !found.is_well() {
        let by_log = found.damage.is_empty() && found.unreadable.is_empty();
        let only_learned = found.faults.iter().all(is_repairable);
        if by_log && only_learned {
            bail!(
                "not all is as it should be; `chalkbell check --repair` makes it anew from the log"
            );
        }
        bail!("not all is as it should be; stop the bot and restore a backup");
    }
    Ok(())
}

/// What was found, a line each.
fn told(found: &Found) -> Vec<String> {
    let mut lines = vec![format!(
        "looked at {} teams, {} members, {} sets",
        found.teams, found.members, found.sets
    )];
    lines.extend(
        found
            .damage
            .iter()
            .map(|what| format!("the file is damaged: {what}")),
    );
    for fault in &found.faults {
        let Fault { table, kind, rows } = fault;
        let what = match kind {
            FaultKind::Orphan => "hang on rows that are missing",
            FaultKind::WrongTeam => "are of members of another team",
            FaultKind::Twice => "are there twice",
        };
        lines.push(format!("{rows} rows of table {table} {what}"));
    }
    for (team, author, why) in &found.unreadable {
        lines.push(format!(
            "the log of {author} in {team} cannot be read: {why}"
        ));
    }
    for (team, author) in &found.mislearned {
        lines.push(format!(
            "what was learned of {author} in {team} is not what the log teaches"
        ));
    }
    if found.repaired > 0 {
        lines.push(format!("made anew or taken out: {}", found.repaired));
    }
    if found.is_well() {
        lines.push("all is as it should be".to_owned());
    }
    lines
}

/// Whether it goes when what hangs on nothing is taken out.
fn is_repairable(fault: &Fault) -> bool {
    fault.kind == FaultKind::Orphan && matches!(fault.table, "belief" | "job")
}

/// Learns what members have in common, and prints it or writes it to a file.
///
/// # Errors
/// When the database cannot be read, or the file not written.
#[expect(clippy::disallowed_methods, reason = "an adapter reads the clock")]
pub async fn prior(
    store: Store,
    bot: &Bot,
    least: usize,
    file: Option<&Path>,
) -> anyhow::Result<()> {
    let learned = learn(&store, bot, Utc::now(), least).await?;
    store.close().await;
    let text = printed(&learned);
    let mut out = std::io::stdout().lock();
    match file {
        None => out.write_all(text.as_bytes())?,
        Some(file) => {
            std::fs::write(file, text)
                .with_context(|| format!("{} cannot be written", file.display()))?;
            let figures = learned.figures().len();
            writeln!(out, "{figures} figures written: {}", file.display())?;
        }
    }
    Ok(())
}

/// Writes a copy of a SQLite database to a new file.
///
/// # Errors
/// When there is nothing to copy, or it cannot be written; the new file is then not there.
pub async fn backup(database: &str, file: &Path) -> anyhow::Result<()> {
    let store = existing(database).await?;
    store.backup(file).await?;
    store.close().await;
    writeln!(std::io::stdout(), "written: {}", file.display())?;
    Ok(())
}

/// Copies everything from one database into another.
///
/// # Errors
/// When either fails, or the other holds something else.
pub async fn move_all(from: &str, to: &str) -> anyhow::Result<()> {
    if from == to {
        bail!("--from and --to are the same database");
    }
    let from = existing(from).await?;
    let to = Store::open(to).await.context("--to")?;
    let copied = copy(&from, &to).await?;
    from.close().await;
    to.close().await;
    let mut out = std::io::stdout().lock();
    match copied {
        Copied::Now(tables) => {
            for (table, held) in tables {
                writeln!(out, "{table}: {} rows, sum {:032x}", held.rows, held.sum)?;
            }
            writeln!(
                out,
                "everything was copied; counts and sums are the same at both ends"
            )?;
        }
        Copied::Before => writeln!(out, "everything is there already")?,
        Copied::Refused(table) => bail!(
            "--to holds something else (table {table} differs): nothing was copied, name an empty database"
        ),
    }
    Ok(())
}

/// A database that is there: a slip in its name shall not make an empty one.
///
/// # Errors
/// When it is not there, or cannot be opened.
pub async fn existing(url: &str) -> anyhow::Result<Store> {
    admits(url)?;
    if let Some(path) = url.strip_prefix("sqlite:") {
        let path = path.split('?').next().unwrap_or_default();
        let is_file = !path.is_empty() && path != ":memory:";
        if is_file && !Path::new(path.trim_start_matches("//")).exists() {
            bail!("{path} does not exist; name the database that is there");
        }
    }
    Ok(Store::open(url).await?)
}
