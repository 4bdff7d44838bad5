//! What becomes of reports of pain: open questions, places lifted one by one, who may lift, and the words
//! that fit the sign. On both engines where the store is touched.

use serde_json::Value;

use crate::reports::{DAY, EVENING, Team, button, evening, in_doubt, says, store, texts, to};
use crate::support::engines;
use chalkbell::store::Store;

async fn a_question_stays_open_beside_a_later_report(store: Store) {
    let mut team = evening(store).await;
    let reply = in_doubt(&mut team, EVENING + 11).await;
    let out = team.say(EVENING + 12, "ines", "my ankle hurts").await;
    assert!(to(&out, "adair").concat().contains("ankle"), "{out:#?}");
    assert!(out.iter().all(|one| one["id"] != reply), "{out:#?}");
    for day in [0, 1] {
        let out = team
            .say(EVENING + 13 + day * DAY, "adair", "/attention")
            .await;
        assert!(says(&out, "I asked and got no answer"), "{out:#?}");
        assert!(says(&out, "my ankle hurts"), "{out:#?}");
    }
    let minute = EVENING + 14 + DAY;
    let out = team.press(minute, "ines", &reply, "hurts:yes").await;
    assert!(!to(&out, "adair").is_empty(), "{out:#?}");
    let out = team.say(minute + 1, "adair", "/attention").await;
    assert!(!says(&out, "I asked and got no answer"), "{out:#?}");
    assert!(says(&out, "report 1") && says(&out, "report 2"), "{out:#?}");
}

#[test]
fn a_question_stays_open_beside_a_later_report_on_every_engine() {
    engines::on_every_engine(async |place| {
        a_question_stays_open_beside_a_later_report(place.open().await).await
    });
}

#[tokio::test]
async fn a_question_that_nobody_answers_goes_with_a_coach_s_word() {
    let mut team = evening(store().await).await;
    let reply = in_doubt(&mut team, EVENING + 11).await;
    let out = team.say(EVENING + 12, "adair", "/clear ines").await;
    assert!(says(&out, "no longer ask"), "{out:#?}");
    let taken_back = |one: &Value| one["id"] == reply && one["text"] == "";
    assert!(out.iter().any(taken_back), "{out:#?}");
    let out = team.say(EVENING + 13, "adair", "/attention").await;
    assert!(!says(&out, "ines"), "{out:#?}");
}

async fn a_place_is_lifted_by_itself(store: Store) {
    let mut team = evening(store).await;
    let minute = EVENING + 11;
    let told = "both my shoulder and my knee are hurting";
    let out = team.say(minute, "ines", told).await;
    assert!(
        says(&out, "your knee") && says(&out, "your shoulder"),
        "{out:#?}"
    );
    for exercise in ["squat", "ohp"] {
        assert_eq!(team.decision(minute + 1, "ines", exercise).await, "stop");
    }
    let out = team.say(minute + 2, "adair", "/clear ines knee").await;
    let told = to(&out, "ines").concat();
    assert!(
        told.contains("cleared you") && told.contains("your shoulder"),
        "{out:#?}"
    );
    // The squat's card said that there are no loads.
    assert!(
        says(&out, "ines, back squat: a coach has cleared this"),
        "{out:#?}"
    );
    assert_eq!(team.decision(minute + 3, "ines", "ohp").await, "stop");
    assert_ne!(team.decision(minute + 3, "ines", "squat").await, "stop");
    let out = team.say(minute + 4, "adair", "/attention").await;
    assert!(says(&out, "pain (shoulder)"), "{out:#?}");
}

#[test]
fn a_place_is_lifted_by_itself_on_every_engine() {
    engines::on_every_engine(async |place| a_place_is_lifted_by_itself(place.open().await).await);
}

#[tokio::test]
async fn a_doctor_s_word_on_the_chest_opens_no_hurt_back() {
    let mut team = evening(store().await).await;
    let minute = EVENING + 11;
    let told = "row 60x9, tweaked my back and my chest is tight";
    let out = team.say(minute, "ines", told).await;
    assert!(says(&out, "local emergency number"), "{out:#?}");
    let out = team.say(minute + 1, "adair", "/attention").await;
    assert!(
        says(&out, "warning sign (chest)") && says(&out, "pain (back)"),
        "{out:#?}"
    );
    let out = team.say(minute + 2, "adair", "/clear ines chest").await;
    let (reply, yes) = button(&out, "doctor.yes");
    team.press(minute + 3, "adair", &reply, &yes).await;
    assert_eq!(team.decision(minute + 4, "ines", "deadlift").await, "stop");
    assert_ne!(team.decision(minute + 4, "ines", "bench").await, "stop");
}

#[tokio::test]
async fn what_a_doctor_s_word_lifts_beside_is_named_and_the_member_is_told() {
    let mut team = evening(store().await).await;
    let minute = EVENING + 11;
    team.say(minute, "ines", "my knee hurts").await;
    team.say(minute + 1, "ines", "chest pain").await;
    let out = team.say(minute + 2, "adair", "/clear ines").await;
    assert!(
        says(&out, "A yes lifts this, too:\n - pain (knee)"),
        "{out:#?}"
    );
    let (reply, yes) = button(&out, "doctor.yes");
    let out = team.press(minute + 3, "adair", &reply, &yes).await;
    assert!(
        to(&out, "ines").concat().contains("adair has cleared you"),
        "{out:#?}"
    );
    for card in ["back squat", "barbell row", "bench press"] {
        let text = format!("ines, {card}: a coach has cleared this");
        assert!(says(&out, &text), "{out:#?}");
    }
    assert_ne!(team.decision(minute + 4, "ines", "squat").await, "stop");
}

#[tokio::test]
async fn another_coach_lifts_a_coach_s_own_warning_sign() {
    let mut team = evening(store().await).await;
    team.say(EVENING + 11, "adair", "chest pain").await;
    let out = team.say(EVENING + 12, "adair", "/clear adair").await;
    assert!(says(&out, "ask blair"), "{out:#?}");
    assert!(
        out.iter()
            .all(|one| one["buttons"].as_array().is_none_or(Vec::is_empty))
    );
    let out = team.say(EVENING + 13, "adair", "/attention").await;
    assert!(says(&out, "Your own: see a doctor"), "{out:#?}");
    let out = team.say(EVENING + 14, "blair", "/clear adair").await;
    assert!(says(&out, "Has a doctor cleared them"), "{out:#?}");
    let (reply, yes) = button(&out, "doctor.yes");
    // Nor may they press it where it stands.
    team.press(EVENING + 15, "adair", &reply, &yes).await;
    assert_eq!(team.decision(EVENING + 16, "adair", "row").await, "stop");
    team.press(EVENING + 17, "blair", &reply, &yes).await;
    assert_ne!(team.decision(EVENING + 18, "adair", "row").await, "stop");
}

#[tokio::test]
async fn the_only_coach_is_asked_about_themselves() {
    let mut team = Team::new(store().await);
    team.say(0, "adair", "hi").await;
    let out = team.say(EVENING, "adair", "chest pain").await;
    assert!(!says(&out, "tell yours yourself"), "{out:#?}");
    assert!(says(&out, "tell someone near you"), "{out:#?}");
    let out = team.say(EVENING + 1, "adair", "/clear adair").await;
    assert!(says(&out, "Has a doctor cleared you to train?"), "{out:#?}");
}

#[tokio::test]
async fn who_calls_for_help_for_another_is_no_patient() {
    let mut team = evening(store().await).await;
    let told = "a guy next to me just collapsed and isn't moving";
    let out = team.say(EVENING + 11, "ines", told).await;
    assert!(says(&out, "If the person"), "{out:#?}");
    let (reply, id) = button(&out, "no-injury");
    let out = team.say(EVENING + 12, "adair", "/attention").await;
    assert!(says(&out, "a call for help for somebody else"), "{out:#?}");
    assert!(!says(&out, "doctor"), "{out:#?}");
    let out = team.press(EVENING + 13, "ines", &reply, &id).await;
    assert!(
        says(&out, "nobody needs help") && says(&out, "You get loads again"),
        "{out:#?}"
    );
    let coach = to(&out, "adair").concat();
    assert!(
        !coach.contains("no loads") && !coach.contains("injury"),
        "{out:#?}"
    );
    assert_ne!(team.decision(EVENING + 14, "ines", "row").await, "stop");
    let told = "my mate collapsed, he is not breathing";
    team.say(EVENING + 20, "ines", told).await;
    let out = team.say(EVENING + 21, "adair", "/clear ines").await;
    assert!(!says(&out, "Has a doctor"), "{out:#?}");
}

#[tokio::test]
async fn words_after_thoughts_of_suicide_fit_them() {
    let mut team = evening(store().await).await;
    let minute = EVENING + 11;
    let out = team
        .say(minute, "ines", "i don't want to be alive anymore")
        .await;
    let (reply, id) = button(&out, "no-injury");
    for text in ["/next bench", "/today", "what next?"] {
        let out = team.say(minute + 1, "ines", text).await;
        assert!(says(&out, "Talk to someone you trust first"), "{out:#?}");
        assert!(!says(&out, "doctor has seen you"), "{out:#?}");
    }
    let out = team.press(minute + 2, "ines", &reply, &id).await;
    assert!(!to(&out, "adair").concat().contains("injury"), "{out:#?}");
    assert!(!says(&out, "injury"), "{out:#?}");
    let out = team.say(minute + 3, "adair", "/clear ines").await;
    assert!(
        says(&out, "Have they talked with someone who can help"),
        "{out:#?}"
    );
    assert!(!says(&out, "cleared them to train"), "{out:#?}");
    let (reply, yes) = button(&out, "doctor.yes");
    let out = team.press(minute + 4, "adair", &reply, &yes).await;
    assert!(
        to(&out, "ines").concat().contains("crisis line"),
        "{out:#?}"
    );
    assert_ne!(team.decision(minute + 5, "ines", "row").await, "stop");
    let mut alone = Team::new(store().await);
    let out = alone
        .say(EVENING, "ines", "i don't want to be alive anymore")
        .await;
    assert!(!says(&out, "tell yours yourself"), "{out:#?}");
}

#[tokio::test]
async fn an_undo_beside_a_new_report_lifts_none() {
    for undo in ["undo, wrist hurts", "/undo wrist hurts"] {
        let mut team = evening(store().await).await;
        team.say(EVENING + 11, "ines", "tweaked my lower back")
            .await;
        let out = team.say(EVENING + 12, "ines", undo).await;
        assert!(says(&out, "I undid nothing"), "{undo}: {out:#?}");
        for exercise in ["deadlift", "bench"] {
            let decision = team.decision(EVENING + 13, "ines", exercise).await;
            assert_eq!(decision, "stop", "{undo}: {exercise}");
        }
    }
}

#[tokio::test]
async fn a_report_names_only_what_loads_its_own_place() {
    let mut team = evening(store().await).await;
    team.say(EVENING + 11, "ines", "sharp pain in my shoulder")
        .await;
    let out = team.say(EVENING + 12, "ines", "my knee hurts").await;
    let answer = texts(&out)
        .into_iter()
        .find(|text| text.contains("your knee"));
    let answer = answer.unwrap();
    assert!(answer.contains("(back squat)"), "{answer}");
    assert!(!answer.contains("bench press"), "{answer}");
}

#[tokio::test]
async fn an_emergency_goes_before_a_caution() {
    let mut team = evening(store().await).await;
    let told = "i have a heart condition and my chest hurts";
    let out = team.say(EVENING + 11, "ines", told).await;
    assert!(says(&out, "local emergency number"), "{out:#?}");
    assert!(!says(&out, "before you train on"), "{out:#?}");
}

#[tokio::test]
async fn what_tore_is_seen_today() {
    let mut team = evening(store().await).await;
    let out = team
        .say(EVENING + 11, "ines", "felt something tear in my pec")
        .await;
    assert!(says(&out, "have a doctor look at it today"), "{out:#?}");
    assert!(!says(&out, "in a few days"), "{out:#?}");
}

async fn pain_of_a_teammate_is_theirs(store: Store) {
    let mut team = evening(store).await;
    team.say(EVENING, "zoe", "squat 60x8, 2 left").await;
    let minute = EVENING + 11;
    let out = team.say(minute, "adair", "zoe has chest pain").await;
    assert!(says(&out, "If the person doesn't respond"), "{out:#?}");
    assert!(
        to(&out, "blair")
            .concat()
            .contains("Warning sign of zoe, told by adair"),
        "{out:#?}"
    );
    assert!(
        to(&out, "zoe").concat().contains("adair wrote about you"),
        "{out:#?}"
    );
    assert!(says(&out, "zoe, back squat: no load from me"), "{out:#?}");
    assert_eq!(team.decision(minute + 1, "zoe", "squat").await, "stop");
    assert_ne!(team.decision(minute + 1, "adair", "squat").await, "stop");
    let out = team.say(minute + 2, "blair", "/attention").await;
    assert!(
        says(&out, "zoe") && says(&out, "adair: “zoe has chest pain”"),
        "{out:#?}"
    );
    assert!(!says(&out, " adair\n"), "{out:#?}");
    // Told by a teammate, and pain without a sign.
    let out = team.say(minute + 3, "zoe", "ines tweaked her knee").await;
    assert!(says(&out, "Noted for ines"), "{out:#?}");
    assert!(!to(&out, "adair").is_empty(), "{out:#?}");
    assert_eq!(team.decision(minute + 4, "ines", "squat").await, "stop");
    assert_ne!(team.decision(minute + 4, "ines", "bench").await, "stop");
    // Nobody of the team goes by that name.
    let out = team
        .say(minute + 5, "ines", "my knee hurts, rowan has seen it")
        .await;
    assert!(
        to(&out, "blair").concat().contains("ines reports pain"),
        "{out:#?}"
    );
    // Who wrote it is erased, and their words with them.
    let asked = team.say(minute + 6, "zoe", "/forget").await;
    let (reply, id) = button(&asked, "everything");
    team.press(minute + 7, "zoe", &reply, &id).await;
    let out = team.say(minute + 8, "adair", "/attention").await;
    assert!(says(&out, "ines") && !says(&out, "zoe"), "{out:#?}");
}

#[test]
fn pain_of_a_teammate_is_theirs_on_every_engine() {
    engines::on_every_engine(async |place| pain_of_a_teammate_is_theirs(place.open().await).await);
}

#[tokio::test]
async fn no_other_exercise_is_offered_against_what_hurts() {
    let ask = [
        "can i do something else instead of bench?",
        "can i swap bench for db press",
        "what can i do instead of squats?",
    ];
    let mut team = evening(store().await).await;
    team.say(
        0,
        "adair",
        "/plan ines\nwed: back squat 3x5-8; bench press 3x6-10",
    )
    .await;
    team.say(EVENING + 11, "ines", "chest pain").await;
    for text in ask {
        let out = team.say(EVENING + 12, "ines", text).await;
        assert!(
            !says(&out, "/catalogue") && !says(&out, "any planned session"),
            "{out:#?}"
        );
    }
    let out = team.say(EVENING + 13, "ines", "/summary").await;
    assert!(
        says(&out, "Session over") && !says(&out, "Next, Wednesday"),
        "{out:#?}"
    );
    assert!(says(&out, "until a doctor has seen you"), "{out:#?}");
    let mut team = evening(store().await).await;
    team.say(EVENING + 11, "ines", "my knee hurts").await;
    let out = team.say(EVENING + 12, "ines", ask[2]).await;
    let text = texts(&out).concat();
    assert!(
        text.contains("what loads your knee") && text.contains("bench press"),
        "{text}"
    );
    assert!(
        !text.contains("leg press") && !text.contains("back squat"),
        "{text}"
    );
}

async fn an_erased_warning_sign_is_told_to_coaches(store: Store) {
    let mut team = evening(store).await;
    team.say(EVENING + 11, "ines", "chest pain since the pelican set")
        .await;
    let asked = team.say(EVENING + 12, "ines", "/forget").await;
    let (reply, id) = button(&asked, "everything");
    let out = team.press(EVENING + 13, "ines", &reply, &id).await;
    let coach = to(&out, "adair").concat();
    assert!(coach.contains("A warning sign was open"), "{out:#?}");
    assert!(!coach.contains("pelican"), "{out:#?}");
    assert!(says(&out, "See a doctor before you train on"), "{out:#?}");
}

#[test]
fn an_erased_warning_sign_is_told_to_coaches_on_every_engine() {
    engines::on_every_engine(async |place| {
        an_erased_warning_sign_is_told_to_coaches(place.open().await).await
    });
}

async fn a_coach_who_comes_later_is_told_what_is_open(store: Store) {
    let mut team = Team::new(store);
    team.say(EVENING, "ines", "chest pain").await;
    let out = team.say(EVENING + 1, "adair", "hello").await;
    assert!(
        to(&out, "adair").concat().contains("warning sign (chest)"),
        "{out:#?}"
    );
    let out = team.say(EVENING + 2, "adair", "hello").await;
    assert!(
        !to(&out, "adair").concat().contains("warning sign"),
        "{out:#?}"
    );
}

#[test]
fn a_coach_who_comes_later_is_told_what_is_open_on_every_engine() {
    engines::on_every_engine(async |place| {
        a_coach_who_comes_later_is_told_what_is_open(place.open().await).await
    });
}

#[tokio::test]
async fn without_a_plan_nothing_that_loads_what_hurts_is_due() {
    let mut team = evening(store().await).await;
    team.say(EVENING + 11, "ines", "my knee hurts").await;
    let out = team.say(EVENING + 12, "ines", "/today").await;
    let text = texts(&out).concat();
    assert!(text.contains("Quads: held back"), "{text}");
    assert!(!text.contains("back squat"), "{text}");
}

#[tokio::test]
async fn a_caution_stands_wherever_a_load_does() {
    let mut team = evening(store().await).await;
    team.say(
        0,
        "adair",
        "/plan ines\nmon: back squat 3x5-8; bench press 3x6-10",
    )
    .await;
    let minute = EVENING + 11;
    let out = team
        .say(minute, "ines", "20 weeks pregnant, can i deadlift?")
        .await;
    let card = |one: &Value| one["type"] == "update" && one["advice"]["exercise"] == "bench press";
    let card = out.iter().find(|one| card(one)).unwrap();
    assert!(
        card["text"]
            .as_str()
            .unwrap()
            .contains("takes no account of pregnancy"),
        "{card}"
    );
    let mut rung = Vec::new();
    for later in 1..5 {
        rung.extend(team.clock(minute + later).await);
    }
    assert!(says(&rung, "takes no account of pregnancy"), "{rung:#?}");
    for text in ["/warmup bench", "/fit 30"] {
        let out = team.say(minute + 6, "ines", text).await;
        assert!(
            says(&out, "takes no account of pregnancy"),
            "{text}: {out:#?}"
        );
    }
}

#[tokio::test]
async fn a_caution_in_an_edit_changes_the_card() {
    let mut team = evening(store().await).await;
    let text = "bench 80x8, 2 left (8 weeks pregnant)";
    let out = team.edit(EVENING + 11, 5, text).await;
    let cards = out.iter().filter(|one| one["type"] == "update");
    let mut texts = cards.filter_map(|one| one["text"].as_str());
    assert!(
        texts.any(|text| text.contains("takes no account of pregnancy")),
        "{out:#?}"
    );
}

#[tokio::test]
async fn who_asks_how_to_be_cleared_is_told_who_does_it() {
    let mut team = evening(store().await).await;
    team.say(EVENING + 11, "ines", "chest pain").await;
    let later = EVENING + 11 + 90;
    let out = team.say(later, "ines", "that was no injury").await;
    assert!(says(&out, "Your coach can lift"), "{out:#?}");
    let out = team.say(later + 1, "ines", "how do i get cleared?").await;
    assert!(
        says(&out, "adair or blair") && says(&out, "whether a doctor"),
        "{out:#?}"
    );
    let out = team.say(later + 2, "ines", "doc cleared me").await;
    assert!(
        to(&out, "adair")
            .concat()
            .contains("says that a doctor has cleared"),
        "{out:#?}"
    );
    assert_eq!(team.decision(later + 3, "ines", "row").await, "stop");
    for text in [
        "it was nothing",
        "my bad, no injury",
        "not hurt, was joking",
        "all good now, false alarm",
    ] {
        let mut team = evening(store().await).await;
        team.say(EVENING + 11, "ines", "my knee hurts").await;
        team.say(EVENING + 12, "ines", text).await;
        assert_ne!(
            team.decision(EVENING + 13, "ines", "squat").await,
            "stop",
            "{text}"
        );
    }
}

#[tokio::test]
async fn words_in_a_command_are_kept_whole_and_its_number_is_taken() {
    let mut team = evening(store().await).await;
    team.say(EVENING + 11, "ines", "/fit 30 i tweaked my back")
        .await;
    team.say(EVENING + 12, "ines", "/bodyweight 82 and my hip is hurting")
        .await;
    let out = team.say(EVENING + 13, "ines", "/bodyweight").await;
    assert!(says(&out, "82"), "{out:#?}");
    let out = team.say(EVENING + 14, "adair", "/attention").await;
    assert!(says(&out, "“/fit 30 i tweaked my back”"), "{out:#?}");
    assert!(says(&out, "82 and my hip is hurting"), "{out:#?}");
    // A coach's own pain behind a member's name.
    let out = team
        .say(EVENING + 15, "adair", "/clear ines my own shoulder hurts")
        .await;
    assert!(
        to(&out, "blair").concat().contains("adair reports pain"),
        "{out:#?}"
    );
    assert_eq!(
        team.decision(EVENING + 16, "ines", "deadlift").await,
        "stop"
    );
    let out = team.say(EVENING + 17, "adair", "/help clear").await;
    assert!(says(&out, "/clear NAME [NUMBER|PLACE|all]"), "{out:#?}");
    let out = team.say(EVENING + 18, "ines", "/help").await;
    assert!(says(&out, "no emergency service"), "{out:#?}");
}
