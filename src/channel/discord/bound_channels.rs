//! Which channels are read, how far, and who leads where: the stored rows, at hand.
//!
//! Nothing else of the platform's world is kept: no members, no messages, no communities without a
//! bound channel. So thousands of communities cost nothing.

use std::collections::{HashMap, HashSet};

use super::commands::{ADMINISTRATOR, MANAGE_GUILD};
use super::wire::{Id, Member};
use crate::store::discord::{BoundChannel, Community};

/// Channels looked up and found to be none of ours that are kept in mind.
const OTHERS_KEPT: usize = 10_000;
/// Managers of one community that are kept in mind.
const MANAGERS_KEPT: usize = 64;

/// A bound channel, one of its threads, or a channel of direct messages.
#[derive(Clone, Debug)]
pub struct Binding {
    /// The community.
    pub guild: Id,
    /// Of a thread: the bound channel.
    pub parent: Option<Id>,
    /// Of a channel of direct messages: who writes there.
    pub member: Option<Id>,
    /// Its name, for people.
    pub name: String,
    /// Messages up to this one were worked on.
    pub cursor: u64,
    /// Where the cursor stood when the session began: threads that are found later are read from
    /// there, not from what was caught up with meanwhile.
    pub began: u64,
    /// The cursor is ahead of the stored one.
    moved: bool,
    /// Messages that are still being worked on, though later ones are not waiting for them: the stored
    /// cursor stays before them.
    under_way: Vec<u64>,
}

/// How far a place was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cursor {
    /// The channel.
    pub channel: Id,
    /// Messages up to this one were worked on.
    pub read_to: u64,
    /// Of direct messages: the community that they speak to, and who writes there.
    pub direct: Option<(Id, Id)>,
}

/// What is known of places.
#[derive(Debug, Default)]
pub struct BoundChannels {
    places: HashMap<Id, Binding>,
    guilds: HashMap<Id, usize>,
    communities: HashMap<Id, Community>,
    others: HashSet<Id>,
    /// Communities with a bound channel that are out of sight while the platform has trouble.
    away: HashSet<Id>,
}

impl BoundChannels {
    /// From stored rows.
    pub fn new(channels: &[BoundChannel], communities: Vec<Community>) -> Self {
        let mut places = Self::default();
        for channel in channels {
            places.bind(channel);
        }
        let named = communities
            .into_iter()
            .filter_map(|one| Some((Id::new(one.id)?, one)));
        places.communities = named.collect();
        places
    }

    /// A channel or thread is read from now on.
    pub fn bind(&mut self, channel: &BoundChannel) {
        let (Some(id), Some(guild)) = (Id::new(channel.id), Id::new(channel.guild)) else {
            return;
        };
        self.others.remove(&id);
        if channel.parent.is_none() {
            // Its threads may be among them.
            self.others.clear();
        }
        let place = Binding {
            guild,
            parent: channel.parent.and_then(Id::new),
            member: None,
            name: channel.name.clone(),
            cursor: channel.cursor,
            began: channel.cursor,
            moved: false,
            under_way: Vec::new(),
        };
        if self.places.insert(id, place).is_none() {
            *self.guilds.entry(guild).or_default() += 1;
        }
    }

    /// A channel of direct messages is read after an outage, from this message on; whether that is news. One
    /// that is known stays where it was read to, and speaks to this community from now on.
    pub fn keep_direct(&mut self, channel: Id, member: Id, guild: Id, cursor: u64) -> bool {
        if let Some(place) = self.places.get_mut(&channel) {
            let is_news = place.guild != guild && place.member.is_some();
            if is_news {
                place.guild = guild;
                place.moved = true;
            }
            return is_news;
        }
        let place = Binding {
            guild,
            parent: None,
            member: Some(member),
            name: String::new(),
            cursor,
            began: cursor,
            moved: true,
            under_way: Vec::new(),
        };
        self.places.insert(channel, place);
        true
    }

    /// A channel and its threads, or a thread, are read no longer.
    pub fn unbind(&mut self, channel: Id) -> bool {
        let gone: Vec<Id> = self
            .places
            .iter()
            .filter(|(id, place)| **id == channel || place.parent == Some(channel))
            .map(|(id, _)| *id)
            .collect();
        for id in &gone {
            if let Some(place) = self.places.remove(id)
                && place.member.is_none()
                && let Some(count) = self.guilds.get_mut(&place.guild)
            {
                *count -= 1;
                if *count == 0 {
                    self.guilds.remove(&place.guild);
                }
            }
        }
        !gone.is_empty()
    }

    /// The channels and threads of a community that are read.
    pub fn of_community(&self, guild: Id) -> Vec<Id> {
        let of_guild = self
            .places
            .iter()
            .filter(|(_, place)| place.guild == guild && place.member.is_none());
        of_guild.map(|(id, _)| *id).collect()
    }

    /// A community is out of sight for a while. Nothing of it is forgotten.
    pub fn is_away(&mut self, guild: Id) {
        if self.guilds.contains_key(&guild) {
            self.away.insert(guild);
        }
    }

    /// A community is in sight; if it was away, its channels, of which something was missed.
    pub fn is_back(&mut self, guild: Id) -> Vec<Id> {
        if !self.away.remove(&guild) {
            return Vec::new();
        }
        self.of_community(guild)
    }

    /// A session begins that tells of this channel.
    pub fn begins(&mut self, channel: Id) {
        if let Some(place) = self.places.get_mut(&channel) {
            place.began = place.cursor;
        }
    }

    /// The bound channel or thread, if it is one.
    pub fn bound(&self, channel: Id) -> Option<&Binding> {
        self.get(channel).filter(|place| place.member.is_none())
    }

    /// The place, if it is read.
    pub fn get(&self, channel: Id) -> Option<&Binding> {
        self.places.get(&channel)
    }

    /// All places.
    pub fn all(&self) -> impl Iterator<Item = (Id, &Binding)> {
        self.places.iter().map(|(id, place)| (*id, place))
    }

    /// Whether a channel might be a thread that is to be read, so that it is worth looking up.
    pub fn might_be(&self, guild: Id, channel: Id) -> bool {
        self.guilds.contains_key(&guild) && !self.others.contains(&channel)
    }

    /// A channel was looked up and is not read.
    pub fn is_other(&mut self, channel: Id) {
        if self.others.len() >= OTHERS_KEPT {
            self.others.clear();
        }
        self.others.insert(channel);
    }

    /// A message was worked on, and so were all before it in its channel; whether it was worked on
    /// before already.
    pub fn worked_on(&mut self, channel: Id, message: u64) -> bool {
        let Some(place) = self.places.get_mut(&channel) else {
            return false;
        };
        if place.cursor >= message {
            return true;
        }
        place.cursor = message;
        place.moved = true;
        false
    }

    /// A message is worked on beside those behind it: until [`BoundChannels::is_done`] the channel counts as read up
    /// to it at most.
    pub fn is_under_way(&mut self, channel: Id, message: u64) {
        if let Some(place) = self.places.get_mut(&channel)
            && place.cursor < message
        {
            place.under_way.push(message);
        }
    }

    /// Such a message was worked on.
    pub fn is_done(&mut self, channel: Id, message: u64) {
        if let Some(place) = self.places.get_mut(&channel) {
            place.under_way.retain(|one| *one != message);
            place.moved = true;
        }
    }

    /// Cursors that are ahead of the stored ones; they count as stored from now on.
    pub fn moved(&mut self) -> Vec<Cursor> {
        let ahead = self.places.iter_mut().filter(|(_, place)| place.moved);
        ahead
            .map(|(id, place)| {
                place.moved = false;
                let first = place.under_way.iter().min();
                let read_to = first.map_or(place.cursor, |first| place.cursor.min(first - 1));
                Cursor {
                    channel: *id,
                    read_to,
                    direct: place.member.map(|member| (place.guild, member)),
                }
            })
            .collect()
    }

    /// A cursor could not be stored after all.
    pub fn unmove(&mut self, channel: Id, cursor: u64) {
        if let Some(place) = self.places.get_mut(&channel) {
            place.moved |= place.cursor >= cursor;
        }
    }

    /// What is known of who leads in a community.
    pub fn community(&self, guild: Id) -> Community {
        let known = self.communities.get(&guild).cloned();
        known.unwrap_or_else(|| Community {
            id: guild.get(),
            ..Community::default()
        })
    }

    /// Replaces it.
    pub fn put_community(&mut self, guild: Id, community: Community) {
        self.communities.insert(guild, community);
    }

    /// Whether somebody is a coach there: by role, or by what the platform lets them do, as far as
    /// it was ever seen.
    pub fn is_coach(&self, guild: Id, user: Id, member: Option<&Member>) -> bool {
        let community = self.communities.get(&guild);
        let by_role = community
            .and_then(|one| one.coach_role)
            .is_some_and(|role| {
                member.is_some_and(|member| member.roles.iter().any(|id| id.get() == role))
            });
        let by_right = member
            .and_then(manages)
            .unwrap_or_else(|| community.is_some_and(|one| one.managers.contains(&user.get())));
        by_role || by_right
    }

    /// Takes note of what the platform lets somebody do; the community where that is news.
    pub fn saw(&mut self, guild: Id, user: Id, member: &Member) -> Option<Community> {
        let manages = manages(member)?;
        let mut community = self.community(guild);
        let known = community.managers.iter().position(|id| *id == user.get());
        match (manages, known) {
            (true, None) if community.managers.len() < MANAGERS_KEPT => {
                community.managers.push(user.get());
            }
            (false, Some(place)) => {
                community.managers.remove(place);
            }
            _ => return None,
        }
        self.put_community(guild, community.clone());
        Some(community)
    }
}

/// Whether the platform lets a member manage the community; `None` where it does not say.
pub fn manages(member: &Member) -> Option<bool> {
    let permissions: u64 = member.permissions.as_deref()?.parse().ok()?;
    Some(permissions & (MANAGE_GUILD | ADMINISTRATOR) != 0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn id(n: u64) -> Id {
        Id::new(n).expect("above zero")
    }

    fn bound(id: u64, parent: Option<u64>) -> BoundChannel {
        BoundChannel {
            id,
            guild: 9,
            parent,
            name: String::new(),
            cursor: 100,
        }
    }

    fn read_to(channel: u64, message: u64) -> Cursor {
        Cursor {
            channel: id(channel),
            read_to: message,
            direct: None,
        }
    }

    #[test]
    fn a_channel_takes_its_threads_with_it() {
        let mut places =
            BoundChannels::new(&[bound(1, None), bound(2, Some(1)), bound(3, None)], vec![]);
        assert!(places.unbind(id(1)));
        assert!(places.get(id(2)).is_none() && places.get(id(3)).is_some());
        assert!(places.might_be(id(9), id(7)));
        assert!(places.unbind(id(3)));
        assert!(!places.might_be(id(9), id(7)));
    }

    #[test]
    fn cursors_only_move_forward_and_are_told_once() {
        let mut places = BoundChannels::new(&[bound(1, None)], vec![]);
        assert!(places.worked_on(id(1), 90));
        assert_eq!(places.moved(), []);
        assert!(!places.worked_on(id(1), 120) && !places.worked_on(id(2), 1));
        assert!(places.worked_on(id(1), 110));
        assert_eq!(places.moved(), [read_to(1, 120)]);
        assert_eq!(places.moved(), []);
    }

    #[test]
    fn direct_messages_are_no_channels_of_a_community() {
        let mut places = BoundChannels::new(&[bound(1, None)], vec![]);
        assert!(places.keep_direct(id(70), id(5), id(9), 100));
        assert!(!places.keep_direct(id(70), id(5), id(9), 400));
        assert!(places.bound(id(70)).is_none() && places.get(id(70)).is_some());
        assert_eq!(places.of_community(id(9)), [id(1)]);
        assert!(!places.worked_on(id(70), 120));
        let direct = Some((id(9), id(5)));
        assert_eq!(
            places.moved(),
            [Cursor {
                direct,
                ..read_to(70, 120)
            }]
        );
        // The member joined another community.
        assert!(places.keep_direct(id(70), id(5), id(8), 0));
        assert_eq!(places.get(id(70)).map(|place| place.cursor), Some(120));
        // What leaves takes along only what is its own.
        assert!(places.unbind(id(1)) && !places.might_be(id(9), id(7)));
        assert!(places.get(id(70)).is_some());
    }

    #[test]
    fn what_is_under_way_keeps_the_stored_cursor_before_it() {
        let mut places = BoundChannels::new(&[bound(1, None)], vec![]);
        places.is_under_way(id(1), 110);
        assert!(!places.worked_on(id(1), 120));
        assert_eq!(places.moved(), [read_to(1, 109)]);
        places.is_done(id(1), 110);
        assert_eq!(places.moved(), [read_to(1, 120)]);
        // What was read before is under way again and moves nothing back.
        places.is_under_way(id(1), 115);
        assert!(!places.worked_on(id(1), 130));
        assert_eq!(places.moved(), [read_to(1, 130)]);
    }

    #[test]
    fn coaches_are_known_by_role_or_right() {
        let mut places = BoundChannels::new(
            &[],
            vec![Community {
                id: 9,
                coach_role: Some(7),
                managers: vec![],
            }],
        );
        let member = |roles: &[u64], permissions: Option<&str>| Member {
            roles: roles.iter().map(|&n| id(n)).collect(),
            permissions: permissions.map(str::to_owned),
            ..Member::default()
        };
        assert!(places.is_coach(id(9), id(1), Some(&member(&[7], None))));
        assert!(!places.is_coach(id(9), id(1), Some(&member(&[8], Some("1024")))));
        assert!(!places.is_coach(id(8), id(1), Some(&member(&[7], None))));
        // Managing the community was seen once in a command; messages do not say it.
        assert!(places.saw(id(9), id(2), &member(&[], Some("32"))).is_some());
        assert!(places.is_coach(id(9), id(2), Some(&member(&[], None))));
        assert!(places.saw(id(9), id(2), &member(&[], Some("0"))).is_some());
        assert!(!places.is_coach(id(9), id(2), None));
    }
}
