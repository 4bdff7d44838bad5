//! What the team-channel adapter keeps, on every engine.

#![expect(
    clippy::expect_used,
    reason = "a helper of tests may fail the test, and say why"
)]

use crate::support::engines::{Place, on_every_engine};
use chalkbell::store::direct::DirectChannel;
use chalkbell::store::discord::{BoundChannel, Community, Posted};
use chalkbell::store::outbox::Sender;
use chrono::DateTime;

fn gym(cursor: u64) -> BoundChannel {
    BoundChannel {
        id: 710_000_000_000_000_000,
        guild: 9,
        parent: None,
        name: "gym".to_owned(),
        cursor,
    }
}

#[test]
fn channels_keep_the_furthest_place_read_and_take_their_threads_with_them() {
    on_every_engine(async |place: &Place| {
        let store = place.open().await;
        let mut tx = store.begin().await.expect("begins");
        let thread = BoundChannel {
            id: 711,
            parent: Some(gym(5).id),
            ..gym(7)
        };
        tx.bind_channel(&gym(5)).await.expect("bound");
        tx.bind_channel(&thread).await.expect("bound");
        tx.read_to(gym(5).id, 20).await.expect("moved");
        tx.read_to(gym(5).id, 10).await.expect("left");
        // Bound again, it goes on from where it was.
        tx.bind_channel(&gym(30)).await.expect("bound");
        let all = tx.bound_channels().await.expect("reads");
        assert_eq!(all, [thread, gym(20)], "{}", place.label);
        tx.commit().await.expect("stored");
        let store = if place.durable {
            store.close().await;
            place.open().await
        } else {
            store
        };
        let mut tx = store.begin().await.expect("begins");
        assert_eq!(tx.bound_channels().await.expect("reads"), all);
        assert!(tx.unbind_channel(gym(5).id).await.expect("unbound"));
        assert!(!tx.unbind_channel(gym(5).id).await.expect("none left"));
        assert_eq!(tx.bound_channels().await.expect("reads"), []);
        tx.rollback().await.expect("ends");
        store.close().await;
    });
}

#[test]
fn replies_are_found_by_name_and_place_in_their_own_team_only() {
    on_every_engine(async |place: &Place| {
        let store = place.open().await;
        let mut tx = store.begin().await.expect("begins");
        let (team, other) = (
            tx.team("discord:1").await.expect("a team"),
            tx.team("discord:2").await.expect("a team"),
        );
        let posted = |message| Posted {
            reply: "5.1".to_owned(),
            channel: 3,
            message,
            ..Posted::default()
        };
        tx.put_posted(&team, &[posted(100)]).await.expect("kept");
        tx.put_posted(&team, &[posted(200)]).await.expect("kept");
        let found = tx.posted(&team, "5.1").await.expect("reads");
        assert_eq!(found, Some(posted(200)), "{}", place.label);
        assert_eq!(tx.reply_at(&team, 100).await.expect("reads"), None);
        assert_eq!(
            tx.reply_at(&team, 200).await.expect("reads"),
            Some(posted(200))
        );
        assert_eq!(tx.posted(&other, "5.1").await.expect("reads"), None);
        assert_eq!(tx.reply_at(&other, 200).await.expect("reads"), None);
        let later = Posted {
            reply: "6.1".to_owned(),
            ..posted(260)
        };
        let both = [later.clone(), posted(261)];
        tx.put_posted(&other, &both).await.expect("kept");
        let gone = Posted {
            sent: 7,
            gone: true,
            ..posted(200)
        };
        tx.put_posted(&team, std::slice::from_ref(&gone))
            .await
            .expect("kept");
        assert_eq!(tx.posted(&team, "5.1").await.expect("reads"), Some(gone));
        assert_eq!(tx.reply_at(&team, 200).await.expect("reads"), None);
        assert_eq!(tx.forget_posted(61).await.expect("done"), 0);
        assert_eq!(tx.forget_posted(60).await.expect("done"), 1);
        assert_eq!(tx.reply_at(&other, 260).await.expect("reads"), Some(later));
        tx.rollback().await.expect("ends");
        store.close().await;
    });
}

/// Sends over the team channel until so many seconds.
fn sender(owner: &str, until: i64) -> Sender<'_> {
    Sender {
        via: "discord",
        owner,
        until: DateTime::from_timestamp(until, 0).expect("a time"),
    }
}

#[test]
fn what_a_process_left_is_taken_up_once_its_lease_is_over_and_by_one_alone() {
    on_every_engine(async |place: &Place| {
        let store = place.open().await;
        let at = |second| DateTime::from_timestamp(second, 0).expect("a time");
        let mut tx = store.begin().await.expect("begins");
        let team = tx.team("discord:1").await.expect("a team");
        for (key, until) in [("j/2", 20), ("j/1", 20), ("j/3", 60)] {
            let kept = tx.keep_unsent(&team, (key, at(5), &[]), sender("a", until));
            kept.await.expect("kept");
        }
        tx.commit().await.expect("stored");
        let left = store.next_left("discord").await.expect("reads");
        assert_eq!(left, Some(at(20)));
        let mut tx = store.begin().await.expect("begins");
        let left = tx.take_left(sender("b", 80), at(20)).await.expect("taken");
        let keys: Vec<_> = left.into_iter().map(|one| one.key).collect();
        // In the order of their commits, whatever they are called.
        assert_eq!(keys, ["j/2", "j/1"], "{}", place.label);
        let again = tx.take_left(sender("c", 80), at(20)).await.expect("taken");
        assert_eq!(again, []);
        // Whoever has it renews it, and nobody else does.
        let both = ["j/1".to_owned(), "j/3".to_owned()];
        let renewed = tx.renew(&both, sender("b", 90)).await.expect("renewed");
        assert_eq!(renewed.len(), 1, "{renewed:?}");
        let later = tx.take_left(sender("c", 99), at(85)).await.expect("taken");
        let keys: Vec<_> = later.into_iter().map(|one| one.key).collect();
        assert_eq!(keys, ["j/2", "j/3"]);
        tx.release("discord", "c").await.expect("let go");
        let later = tx.take_left(sender("d", 99), at(85)).await.expect("taken");
        assert_eq!(later.len(), 2);
        tx.rollback().await.expect("ends");
        store.close().await;
    });
}

#[test]
fn unsent_answers_roles_and_commands_are_kept_once() {
    on_every_engine(async |place: &Place| {
        let store = place.open().await;
        let mut tx = store.begin().await.expect("begins");
        let team = tx.team("discord:1").await.expect("a team");
        for at in [20, 10, 20] {
            let time = DateTime::from_timestamp(at, 0).expect("a time");
            let key = format!("m/{at}");
            let kept = tx.keep_unsent(&team, (&key, time, &[]), sender("a", at));
            kept.await.expect("kept");
        }
        let keys: Vec<_> = tx
            .unsent("discord")
            .await
            .expect("reads")
            .into_iter()
            .map(|one| one.key)
            .collect();
        assert_eq!(keys, ["m/20", "m/10"], "{}", place.label);
        tx.drop_unsent(&["m/10".to_owned(), "m/11".to_owned()])
            .await
            .expect("dropped");
        assert_eq!(tx.unsent("discord").await.expect("reads").len(), 1);
        assert_eq!(tx.unsent("pipe").await.expect("reads").len(), 0);
        let community = Community {
            id: 9,
            coach_role: Some(7),
            managers: vec![1, 2],
        };
        tx.put_community(&Community {
            id: 9,
            ..Community::default()
        })
        .await
        .expect("kept");
        tx.put_community(&community).await.expect("kept");
        assert_eq!(tx.communities().await.expect("reads"), [community]);
        assert_eq!(tx.registered(4).await.expect("reads"), None);
        tx.put_registered(4, "a").await.expect("kept");
        tx.put_registered(4, "b").await.expect("kept");
        assert_eq!(tx.registered(4).await.expect("reads").as_deref(), Some("b"));
        tx.member_or_new(&team, "u1", "Ann", false)
            .await
            .expect("a member");
        assert_eq!(tx.teams_of("u1").await.expect("reads"), ["discord:1"]);
        let direct = |team: &str, cursor| DirectChannel {
            id: 70,
            team: team.to_owned(),
            author: "u1".to_owned(),
            coach: false,
            cursor,
        };
        // Of nobody nothing is kept.
        tx.keep_direct(&direct("discord:2", 5)).await.expect("runs");
        assert_eq!(tx.direct_channels().await.expect("reads"), []);
        tx.keep_direct(&direct("discord:1", 5)).await.expect("kept");
        tx.keep_direct(&direct("discord:1", 8)).await.expect("kept");
        tx.keep_direct(&direct("discord:1", 6)).await.expect("kept");
        let known = tx.direct_channels().await.expect("reads");
        assert_eq!(known, [direct("discord:1", 8)]);
        tx.rollback().await.expect("ends");
        store.close().await;
    });
}
