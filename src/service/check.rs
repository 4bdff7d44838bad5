//! A whole database looked through: rows that should not be, and whether what was learned of each
//! member is what their log teaches. What follows from the log can be made anew from it.

use chrono::{DateTime, Utc};

use super::Bot;
use crate::bot::handlers::check::learned_anew;
use crate::bot::state::view::View;
use crate::bot::state::{Member, Team};
use crate::store::faults::Fault;
use crate::store::{Store, StoreError, Tx};

/// What was found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Found {
    /// Teams looked at.
    pub teams: usize,
    /// Members looked at.
    pub members: usize,
    /// Sets looked at.
    pub sets: usize,
    /// What SQLite finds wrong with the file.
    pub damage: Vec<String>,
    /// Rows that should not be.
    pub faults: Vec<Fault>,
    /// Members of whom something else was learned than their log teaches, by team and author.
    pub mislearned: Vec<(String, String)>,
    /// Members whose log cannot be read, with why.
    pub unreadable: Vec<(String, String, String)>,
    /// Rows that were taken out, and members that were learned anew.
    pub repaired: u64,
}

impl Found {
    /// Whether all is as it should be, or was made so.
    pub fn is_well(&self) -> bool {
        self.damage.is_empty()
            && self.faults.is_empty()
            && self.mislearned.is_empty()
            && self.unreadable.is_empty()
    }
}

/// Looks a database through, and with `repair` makes anew what follows from the log. Each member in
/// a transaction of their own, so that others go on meanwhile.
pub async fn check(
    store: &Store,
    bot: &Bot,
    now: DateTime<Utc>,
    repair: bool,
) -> Result<Found, StoreError> {
    let mut found = Found::default();
    let mut tx = store.begin().await?;
    found.damage = tx.damage().await?;
    if repair {
        found.repaired += tx.drop_orphans().await?;
    }
    found.faults = tx.faults().await?;
    let keys = tx.team_keys().await?;
    tx.commit().await?;
    for key in keys {
        let mut tx = store.begin().await?;
        let team = tx.team(&key).await?;
        let members = tx.members(&team).await?;
        tx.rollback().await?;
        found.teams += 1;
        for member in members {
            let mut tx = store.begin().await?;
            let Some(member) = tx.member(&team, &member.author).await? else {
                continue;
            };
            found.members += 1;
            check_member(&mut tx, bot, (&team, &member), now, (&mut found, repair)).await?;
            tx.commit().await?;
        }
    }
    Ok(found)
}

async fn check_member(
    tx: &mut Tx,
    bot: &Bot,
    (team, member): (&Team, &Member),
    now: DateTime<Utc>,
    (found, repair): (&mut Found, bool),
) -> Result<(), StoreError> {
    let reader = bot.reader_of(team);
    let catalogue = reader.catalogue();
    let log = match tx.sets_all(member, catalogue).await {
        Ok(log) => log,
        Err(error @ StoreError::ImpossibleRow { .. }) => {
            let whose = (team.key.clone(), member.author.clone());
            found.unreadable.push((whose.0, whose.1, error.to_string()));
            return Ok(());
        }
        Err(error) => return Err(error),
    };
    found.sets += log.len();
    let mut names: Vec<&str> = log
        .iter()
        .map(|filed| catalogue.exercise(filed.set.exercise).name.as_str())
        .collect();
    names.sort_unstable();
    names.dedup();
    let beliefs = tx.beliefs(member, &names).await?;
    let checkpoints = tx.checkpoints(member).await?;
    let view = View {
        team,
        member,
        reader: &reader,
        calendar: team.settings.calendar(),
        recent: &log,
        bell: None,
        now,
        others: &[],
    };
    let Some(changes) = learned_anew(&view, &log, &beliefs, &checkpoints) else {
        return Ok(());
    };
    if repair {
        tx.apply(team, member, &changes, catalogue).await?;
        found.repaired += 1;
    } else {
        found
            .mislearned
            .push((team.key.clone(), member.author.clone()));
    }
    Ok(())
}
