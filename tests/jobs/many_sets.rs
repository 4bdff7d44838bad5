//! Very many sets in one message are asked about: all of them or none.
#![expect(clippy::unwrap_used, reason = "a test may fail where it stands")]

use crate::support::run::run;
use crate::support::wound::Gym;
use chalkbell::bot::reply::{Outgoing, Reply};
use chalkbell::service::check::check;

fn sets(count: usize) -> String {
    "bench press 60x8 2 left\n".repeat(count)
}

async fn stored(gym: &Gym) -> usize {
    let service = &gym.service;
    let found = check(service.store(), service.use_case(), gym.now, false).await;
    found.unwrap().sets
}

fn question(out: &[Outgoing]) -> &Reply {
    let asks = |one: &&Reply| one.buttons.len() == 2;
    let mut replies = out.iter().filter_map(|one| match one {
        Outgoing::Reply(reply) => Some(reply),
        _ => None,
    });
    replies.rfind(asks).unwrap()
}

#[test]
fn up_to_40_sets_are_filed_and_more_are_asked_about() {
    run(async {
        let mut gym = Gym::open("2026-01-12T18:00:00Z").await;
        gym.says("Ines", &sets(40)).await;
        assert_eq!(stored(&gym).await, 40);
        let out = gym.says("Ole", &sets(41)).await;
        let asked = question(&out).clone();
        assert_eq!(
            asked.text,
            "I read 41 sets in this message. Shall I log all of them?"
        );
        let labels: Vec<&str> = asked.buttons.iter().map(|b| b.label.as_str()).collect();
        assert_eq!(labels, ["Log all 41", "Log none"]);
        assert_eq!(stored(&gym).await, 40);
        gym.presses(&asked, &asked.buttons[1].id).await;
        assert_eq!(stored(&gym).await, 40);
        let out = gym.says("Ole", &sets(60)).await;
        let asked = question(&out).clone();
        gym.presses(&asked, &asked.buttons[0].id).await;
        assert_eq!(stored(&gym).await, 100);
    });
}
