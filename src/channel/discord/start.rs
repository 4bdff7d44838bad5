//! What is done once a session stands: introducing the bot, registering commands, and sending what
//! an earlier run left unsent.

use std::collections::hash_map::Entry;
use std::sync::Arc;

use chrono::TimeDelta;

use super::house::{House, guild_of, now};
use super::interactions::INVITED_WITH;
use super::ledger::Ticket;
use super::posting::VIA;
use super::registration;
use super::wire::Id;
use crate::bot::LATEST_BELL;
use crate::bot::reply::Outgoing;
use crate::jobs::due::WORTH;
use crate::store::StoreError;
use crate::store::outbox::Unsent;

/// What was not sent for longer is not sent any more, bells excepted, which are worth less.
const WORTH_SENDING: TimeDelta = TimeDelta::minutes(15);
/// Buttons older than this are forgotten.
const BUTTONS_KEPT: TimeDelta = TimeDelta::days(60);

/// The channels whose events come over this shard.
#[must_use]
pub fn channels_of(house: &House, shard: u32, total: u32) -> Vec<Id> {
    let of_shard = |guild: Id| (guild.get() >> 22) % u64::from(total.max(1)) == u64::from(shard);
    let places = house.places();
    places
        .all()
        .filter(|(_, place)| of_shard(place.guild))
        .map(|(id, _)| id)
        .collect()
}

/// Tells the operator how to go on, and registers the commands.
pub async fn introduce(house: Arc<House>) {
    let Some((_, application)) = house.own.get().copied() else {
        return;
    };
    tracing::warn!(
        "connected; invite the bot with \
         https://discord.com/oauth2/authorize?client_id={application}\
         &scope=bot+applications.commands&permissions={INVITED_WITH}"
    );
    if house.places().all().next().is_none() {
        tracing::warn!(
            "no channel is bound yet; write `/settings bind` in the channel where sets are posted"
        );
    }
    registration::register(&house, application).await;
}

/// Sends what an earlier run committed and did not send.
///
/// # Errors
/// [`StoreError`].
pub async fn send_unsent(house: &Arc<House>) -> Result<(), StoreError> {
    let mut tx = house.store().begin().await?;
    let mut unsent = tx.unsent(VIA).await?;
    unsent.retain(|answer| {
        guild_of(&answer.team).is_some_and(|guild| house.options.shards.hold(guild))
    });
    for answer in &unsent {
        let sender = house.service.use_case().sender();
        tx.take_over(&answer.key, sender).await?;
    }
    let old = Id::span_of(BUTTONS_KEPT);
    tx.forget_posted(old).await?;
    tx.forget_edits(old).await?;
    tx.commit().await?;
    send_late(house, unsent);
    Ok(())
}

/// Sends what other processes committed that are gone.
///
/// # Errors
/// [`StoreError`].
pub async fn send_left(house: &Arc<House>) -> Result<(), StoreError> {
    if house
        .store()
        .next_left(VIA)
        .await?
        .is_none_or(|until| until > now())
    {
        return Ok(());
    }
    let mut tx = house.store().begin().await?;
    let sender = house.service.use_case().sender();
    let left = tx.take_left(sender, now()).await?;
    tx.commit().await?;
    send_late(house, left);
    Ok(())
}

fn send_late(house: &Arc<House>, unsent: Vec<Unsent>) {
    for answer in latest(unsent) {
        let (age, ticket) = (now() - answer.at, Ticket::new(answer.key, &house.ledger));
        tracing::debug!(team = answer.team, "an answer of an earlier run is sent");
        for one in answer.outgoing {
            if is_worth_sending(&one, age) {
                house.send(None, one, vec![Arc::clone(&ticket)], true);
            }
        }
    }
}

fn is_worth_sending(one: &Outgoing, age: TimeDelta) -> bool {
    match one {
        Outgoing::Reply(reply) if !reply.mentions.is_empty() => age < LATEST_BELL,
        // What answers nobody was to come at its time; it may come late.
        Outgoing::Reply(reply) if reply.answers.is_none() && reply.advice.is_none() => age < WORTH,
        // Commands were answered in private, or never will be.
        Outgoing::Reply(reply) if reply.private => false,
        Outgoing::Reply(_) => age < WORTH_SENDING,
        Outgoing::Update(_) | Outgoing::Mark(_) => true,
    }
}

/// Drops changes to a reply that a later one overtakes.
fn latest(unsent: Vec<Unsent>) -> Vec<Unsent> {
    let mut seen = std::collections::HashMap::new();
    let mut kept: Vec<_> = unsent
        .into_iter()
        .rev()
        .map(|mut answer| {
            answer.outgoing.retain(|one| match one {
                Outgoing::Update(reply) => {
                    match seen.entry((answer.team.clone(), reply.id.clone())) {
                        Entry::Occupied(_) => false,
                        Entry::Vacant(free) => {
                            free.insert(());
                            true
                        }
                    }
                }
                Outgoing::Reply(_) | Outgoing::Mark(_) => true,
            });
            answer
        })
        .collect();
    kept.reverse();
    kept
}
