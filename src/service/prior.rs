//! What the members of a whole database have in common, as figures for those who come new.

use super::Bot;
use crate::bot::state::view::View;
use crate::domain::lifter::model::Lifter;
use crate::domain::lifter::prior_learner::Learner;
use crate::domain::quantities::learned_priors::LearnedPriors;
use crate::store::{Store, StoreError};
use chrono::{DateTime, Utc};

/// Learns the figures of the population from everybody's log; of figures that fewer than `least`
/// members show there is none. Each log is learned with the published figures, whichever the bot runs
/// with, so that a second time learns the same. Logs that cannot be read are passed over.
pub async fn learn(
    store: &Store,
    bot: &Bot,
    now: DateTime<Utc>,
    least: usize,
) -> Result<LearnedPriors, StoreError> {
    let mut learner = Learner::default();
    let mut tx = store.begin().await?;
    let keys = tx.team_keys().await?;
    tx.rollback().await?;
    for key in keys {
        let mut tx = store.begin().await?;
        let team = tx.team(&key).await?;
        let reader = bot.reader_of(&team);
        let published = reader
            .catalogue()
            .as_ref()
            .clone()
            .with_priors(LearnedPriors::default());
        for member in tx.members(&team).await? {
            let log = match tx.sets_all(&member, &published).await {
                Ok(log) => log,
                Err(StoreError::ImpossibleRow { .. }) => continue,
                Err(error) => return Err(error),
            };
            let view = View {
                team: &team,
                member: &member,
                reader: &reader,
                calendar: team.settings.calendar(),
                recent: &log,
                bell: None,
                now,
                others: &[],
            };
            let lifter = Lifter {
                catalogue: &published,
                ..view.lifter()
            };
            let sets: Vec<_> = log.iter().map(|filed| filed.set.clone()).collect();
            learner.take(&sets, &lifter);
        }
        tx.rollback().await?;
    }
    Ok(learner.learned(least))
}
