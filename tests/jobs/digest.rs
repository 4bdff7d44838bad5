//! The weekly digest: when it comes, to whom, and what it says.
#![expect(clippy::unwrap_used, reason = "a test may fail where it stands")]

use std::collections::BTreeMap;

use crate::support::wound::Gym;
use chalkbell::bot::reply::{Outgoing, Reply};
use chrono::{DateTime, TimeDelta, Utc};

const MONDAY: &str = "2026-11-23T17:00:00Z";
const SUNDAY: &str = "2026-11-29T18:00:00Z";
const SET: &str = "bench 80x10, 2 left";

fn utc(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

fn replies(out: &[Outgoing]) -> Vec<&Reply> {
    let mut replies = Vec::new();
    for one in out {
        if let Outgoing::Reply(reply) = one {
            replies.push(reply);
        }
    }
    replies
}

/// What stands in a channel for all.
fn public(out: &[Outgoing]) -> Vec<&Reply> {
    let mut replies = replies(out);
    replies.retain(|reply| !reply.private);
    replies
}

fn private_to<'a>(out: &'a [Outgoing], author: &str) -> Vec<&'a Reply> {
    let mut replies = replies(out);
    replies.retain(|reply| reply.private && reply.to.as_deref() == Some(author));
    replies
}

/// A team with a coach, two who lift and agree to be named, and one who does neither, in the evening
/// of its Monday.
async fn team() -> Gym {
    let mut gym = unnamed_team().await;
    gym.says("ann", "/digest line on").await;
    gym.says("ben", "/digest line on").await;
    gym
}

/// The same, where nobody was asked for their name.
async fn unnamed_team() -> Gym {
    let mut gym = Gym::open(MONDAY).await;
    gym.says("coach", "/settings zone UTC").await;
    gym.says("cleo", "/units kg").await;
    gym.says("ann", SET).await;
    gym.says("ben", "squat 100x6, 2 left").await;
    gym.passes(180).await;
    gym.says("ann", "x9, 1 left").await;
    gym
}

// --- when ----------------------------------------------------------------------------------------

/// Source: `tests/data/calendar/weekly_hours.tsv`, made by the script beside it with Python's
/// `zoneinfo` from the system's IANA time zone data.
#[tokio::test]
async fn a_year_of_digests_comes_once_a_week_at_the_wall_time_everywhere() {
    let table = include_str!("../data/calendar/weekly_hours.tsv");
    let mut cases: BTreeMap<[&str; 3], Vec<(&str, DateTime<Utc>)>> = BTreeMap::new();
    for line in table.lines() {
        let [zone, day, time, week, at] = line.split('\t').collect::<Vec<_>>()[..] else {
            panic!("{line}");
        };
        cases
            .entry([zone, day, time])
            .or_default()
            .push((week, utc(at)));
    }
    assert_eq!(cases.len(), 14);
    for ([zone, day, time], weeks) in cases {
        let case = format!("{zone}, {day} {time}");
        assert!(weeks.len() >= 51, "{case}");
        let begin = weeks[0].1 - TimeDelta::days(6);
        let mut gym = Gym::open(&begin.to_rfc3339()).await;
        gym.says("coach", &format!("/settings zone {zone}")).await;
        gym.says("coach", &format!("/settings digest {day} {time}"))
            .await;
        for (label, at) in weeks {
            // A set five to six days before: of the week that the digest is about.
            let back = if matches!(day, "sat" | "sun") { 3 } else { 7 };
            gym.now = at - TimeDelta::days(back);
            gym.says("ann", SET).await;
            // Wound unevenly, over both sides of the hour.
            let before = gym.winds_to(at - TimeDelta::seconds(1)).await;
            assert_eq!(
                public(&before),
                [] as [&Reply; 0],
                "{case}, {label}: too early"
            );
            let on = gym.winds_to(at).await;
            let data = public(&on).first().and_then(|reply| reply.data.clone());
            let data = data.unwrap_or_else(|| panic!("{case}, {label}: not at {at}"));
            assert_eq!(
                (public(&on).len(), data["week"].as_str()),
                (1, Some(label)),
                "{case}"
            );
            for hours in [1, 2, 25] {
                let later = gym.winds_to(at + TimeDelta::hours(hours)).await;
                assert_eq!(later, [], "{case}, {label}: again");
            }
        }
    }
}

#[tokio::test]
async fn after_a_pause_of_the_program_it_comes_late_and_says_so_up_to_a_day() {
    for (hours, posted, late) in [
        (0, true, false),
        (1, true, true),
        (24, true, true),
        (25, false, false),
    ] {
        let mut gym = team().await;
        let out = gym.winds_to(utc(SUNDAY) + TimeDelta::hours(hours)).await;
        assert_eq!(public(&out).len(), usize::from(posted), "{hours} h late");
        if posted {
            assert_eq!(
                public(&out)[0].text.starts_with("Late"),
                late,
                "{hours} h late"
            );
        } else {
            let told = private_to(&out, "coach");
            assert_eq!(told.len(), 1);
            assert!(told[0].text.contains("left out"), "{}", told[0].text);
        }
        // The next comes at its hour, whatever became of this one.
        let next = utc(SUNDAY) + TimeDelta::weeks(1);
        assert_eq!(
            gym.service.store().next_due(None).await.unwrap(),
            Some(next)
        );
    }
}

#[tokio::test]
async fn a_new_zone_or_hour_neither_doubles_a_week_nor_loses_it() {
    // Had at 18:00 UTC; in Honolulu it is Sunday, 8:00 then.
    let mut gym = team().await;
    assert_eq!(public(&gym.winds_to(utc(SUNDAY)).await).len(), 1);
    gym.says("coach", "/settings zone Pacific/Honolulu").await;
    assert_eq!(public(&gym.passes(24 * 3600).await).len(), 0);
    // In Kiritimati Sunday 18:00 was fourteen hours before Sunday 18:00 UTC.
    let mut gym = team().await;
    gym.winds_to(utc("2026-11-29T17:00:00Z")).await;
    gym.says("coach", "/settings zone Pacific/Kiritimati").await;
    let out = gym.passes(1).await;
    assert_eq!(public(&out).len(), 1);
    assert!(public(&out)[0].text.starts_with("Late"));
    // Moved from Sunday to Monday morning after it was had, the week is not had again.
    let mut gym = team().await;
    gym.winds_to(utc(SUNDAY)).await;
    gym.says("coach", "/settings digest mon 8:00").await;
    assert_eq!(public(&gym.passes(20 * 3600).await).len(), 0);
    // Moved before it was had, it comes then.
    let mut gym = team().await;
    gym.says("coach", "/settings digest mon 8:00").await;
    assert_eq!(public(&gym.winds_to(utc(SUNDAY)).await).len(), 0);
    let out = gym.winds_to(utc("2026-11-30T08:00:00Z")).await;
    assert_eq!(public(&out)[0].data.as_ref().unwrap()["week"], "2026-W48");
}

// --- to whom, and what ---------------------------------------------------------------------------

#[tokio::test]
async fn the_channel_gets_totals_a_line_each_and_the_coach_who_needs_them() {
    let mut gym = team().await;
    let out = gym.winds_to(utc(SUNDAY)).await;
    let [all] = public(&out)[..] else {
        panic!("{out:?}");
    };
    assert_eq!(
        (all.channel.as_str(), all.to.as_ref(), all.answers.as_ref()),
        ("gym", None, None)
    );
    assert!(all.mentions.is_empty());
    assert_eq!(
        all.text,
        "The team's week, Monday 23 November to Sunday 29 November: 2 of 3 lifted, 3 sets count.\n\
         ann: 2 sets.\n\
         ben: 1 set."
    );
    let data = all.data.as_ref().unwrap();
    assert_eq!(
        (&data["week"], &data["sets"]),
        (&"2026-W48".into(), &3.into())
    );
    let [coach] = private_to(&out, "coach")[..] else {
        panic!("{out:?}");
    };
    assert!(coach.text.contains("needs you"), "{}", coach.text);
    for part in ["cleo", "Nothing posted"] {
        assert!(coach.text.contains(part), "{}", coach.text);
    }
    assert_eq!(replies(&out).len(), 2);
    // Who did nothing is shown to the coach alone.
    assert!(all.files[0].alt.contains("ann") && !all.files[0].alt.contains("cleo"));
    assert!(
        coach.files[0].alt.contains("cleo"),
        "{}",
        coach.files[0].alt
    );
    assert_eq!(gym.winds_to(utc(SUNDAY)).await, []);
}

#[tokio::test]
async fn nobody_is_named_who_did_not_agree() {
    let plan = "/plan team\nmon: bench press 2x10 2rir; back squat 1x6 2rir";
    let mut gym = unnamed_team().await;
    gym.says("coach", plan).await;
    gym.says("coach", "/block ben\n2rir; 4rir 50%").await;
    let out = gym.winds_to(utc(SUNDAY)).await;
    let all = public(&out)[0];
    let data = all.data.as_ref().unwrap();
    let told = format!("{}\n{}\n{data}", all.text, all.files[0].alt);
    let words: Vec<&str> = told.split(|c: char| !c.is_alphanumeric()).collect();
    for name in ["ann", "ben", "cleo", "coach"] {
        assert!(!words.contains(&name), "{name}: {told}");
    }
    assert!(told.contains("`/digest line on`"), "{told}");
    assert!(told.contains("mean of 2"), "{told}");
    // One who agrees is named, the other counted.
    let mut gym = unnamed_team().await;
    gym.says("ann", "/digest line on").await;
    let out = gym.winds_to(utc(SUNDAY)).await;
    let all = public(&out)[0];
    assert!(
        all.text.contains("\nann: 2 sets.\n1 more trained"),
        "{}",
        all.text
    );
    assert!(!all.text.contains("ben") && !all.files[0].alt.contains("ben"));
}

#[tokio::test]
async fn a_member_is_left_out_of_it_who_wants_that_and_gets_their_own_week_who_wants_that() {
    let mut gym = team().await;
    gym.says("ann", "/digest line off").await;
    gym.says("ann", "/digest mine on").await;
    gym.says("cleo", "/digest mine on").await;
    let out = gym.winds_to(utc(SUNDAY)).await;
    let text = &public(&out)[0].text;
    assert!(!text.contains("ann") && text.contains("ben"), "{text}");
    let alt = &public(&out)[0].files[0].alt;
    assert!(!alt.contains("ann"), "{alt}");
    assert!(
        text.contains("3 sets count"),
        "the totals are everybody's: {text}"
    );
    let [own] = private_to(&out, "ann")[..] else {
        panic!("{out:?}");
    };
    assert!(own.text.contains("2 sets count"), "{}", own.text);
    assert_eq!(own.data.as_ref().unwrap()["week"], "2026-W48");
    assert_eq!(own.files.len(), 1);
    // Nothing posted: short and kind, and no table of noughts.
    let [own] = private_to(&out, "cleo")[..] else {
        panic!("{out:?}");
    };
    assert!(
        own.text.len() < 200 && !own.text.contains("```"),
        "{}",
        own.text
    );
    assert!(own.files.is_empty());
    assert!(private_to(&out, "ben").is_empty());
}

#[tokio::test]
async fn next_week_is_named_by_block_and_with_names_where_it_differs() {
    let mut gym = team().await;
    gym.says("coach", "/block team\n1rir; 2rir; 4rir 50%").await;
    let out = gym.winds_to(utc(SUNDAY)).await;
    let text = &public(&out)[0].text;
    assert!(
        text.contains("\nNext week: week 2 of 3, 2 left.\n"),
        "{text}"
    );
    let mut gym = team().await;
    gym.says("coach", "/block team\n1rir; 2rir; 4rir 50%").await;
    gym.says("coach", "/block ben\n2rir; 4rir 50%").await;
    gym.says("ben", "/digest mine on").await;
    let out = gym.winds_to(utc(SUNDAY)).await;
    let text = &public(&out)[0].text;
    assert!(
        text.contains("Next week for ann and 1 more: week 2 of 3, 2 left."),
        "{text}"
    );
    let light = "week 2 of 2, 4 left, 50 % of the sets.";
    assert!(
        text.contains(&format!("\nNext week for ben: {light}\n")),
        "{text}"
    );
    let own = private_to(&out, "ben")[0];
    assert!(
        own.text.ends_with(&format!("Next week: {light}")),
        "{}",
        own.text
    );
}

#[tokio::test]
async fn a_team_without_a_set_gets_none_but_the_coach_a_line() {
    let mut gym = Gym::open(MONDAY).await;
    gym.says("coach", "/help").await;
    gym.says("ann", "/units kg").await;
    let out = gym.winds_to(utc(SUNDAY)).await;
    let [line] = replies(&out)[..] else {
        panic!("{out:?}");
    };
    assert_eq!((line.private, line.to.as_deref()), (true, Some("coach")));
    assert!(
        line.text.starts_with("Nobody posted a set"),
        "{}",
        line.text
    );
}

#[tokio::test]
async fn it_can_be_sent_elsewhere_or_turned_off() {
    let mut gym = team().await;
    gym.says_in("board", "coach", "/settings digest here").await;
    let out = gym.winds_to(utc(SUNDAY)).await;
    assert_eq!(public(&out)[0].channel, "board");
    let mut gym = team().await;
    gym.says("coach", "/settings digest off").await;
    gym.says("ann", "/digest mine on").await;
    let out = gym.winds_to(utc(SUNDAY)).await;
    assert_eq!((replies(&out).len(), private_to(&out, "ann").len()), (1, 1));
    gym.says("coach", "/settings digest on").await;
    gym.passes(3 * 24 * 3600).await;
    gym.says("ann", SET).await;
    let out = gym.winds_to(utc(SUNDAY) + TimeDelta::weeks(1)).await;
    assert_eq!(public(&out).len(), 1);
}

#[tokio::test]
async fn coaches_see_the_week_so_far_on_request_and_members_what_they_chose() {
    let mut gym = team().await;
    let out = gym.says("coach", "/digest").await;
    // To the coach alone: the public one comes on Sunday.
    assert_eq!(public(&out), [] as [&Reply; 0]);
    let told = private_to(&out, "coach");
    assert!(told[0].text.starts_with("The team's week so far"));
    assert_eq!(told.len(), 2);
    let out = gym.says("ann", "/digest").await;
    assert_eq!(public(&out), [] as [&Reply; 0]);
    assert!(private_to(&out, "ann")[0].text.contains("/digest line off"));
    // Asked for or not, the week's own comes.
    assert_eq!(public(&gym.winds_to(utc(SUNDAY)).await).len(), 1);
}
