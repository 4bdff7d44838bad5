//! Signs that call for medical help, against the published lists, and what is none.
//!
//! Sources, from memory: ACSM's Guidelines for Exercise Testing and Prescription, signs and
//! symptoms (chest, arms, jaw, dizziness, palpitations); Finucane LM et al. 2020, J Orthop Sports
//! Phys Ther 50(7):350-372 (saddle numbness, bladder or bowel change, both legs); general medical
//! teaching on muscle breakdown (dark urine), on sudden headache and on numbness of one side; PAR-Q+
//! (loss of consciousness).

use chalkbell::config;
use chalkbell::domain::quantities::mass::Unit;
use chalkbell::domain::quantities::warning::WarningSign;
use chalkbell::message::reading::Hurt;
use chalkbell::message::{Context, Reader};

/// Whether each message tells a hurt, and then whether it is a red flag.
fn check(cases: &[(&str, Option<bool>)]) {
    let reader = Reader::new(config::built_in());
    for &(text, expected) in cases {
        let reading = reader.read(text, &Context::alone(Unit::Kg));
        let found = reading.hurt.as_ref().map(Hurt::urgent);
        assert_eq!(found, expected, "{text}");
    }
}

#[test]
fn signs_of_the_heart_are_red_flags() {
    check(&[
        ("chest tightness", Some(true)),
        ("chest pain after that set", Some(true)),
        ("felt dizzy", Some(true)),
        ("palpitations", Some(true)),
        ("pain down my left arm", Some(true)),
        ("left arm went numb", Some(true)),
    ]);
}

#[test]
fn signs_of_the_spine_are_red_flags() {
    check(&[
        ("numb between my legs", Some(true)),
        ("both legs are going numb", Some(true)),
        ("lost control of my bladder", Some(true)),
        ("my bowels leaked on that pull", Some(true)),
    ]);
}

#[test]
fn signs_of_muscle_breakdown_are_red_flags() {
    check(&[("my pee is brown", Some(true)), ("dark urine", Some(true))]);
}

#[test]
fn signs_of_the_brain_are_red_flags() {
    check(&[
        ("I collapsed after that set", Some(true)),
        ("passed out", Some(true)),
        ("lost consciousness for a second", Some(true)),
        ("vision went black", Some(true)),
        ("everything went black", Some(true)),
        ("worst headache ever", Some(true)),
        ("can't feel my legs", Some(true)),
        ("no feeling in my right arm", Some(true)),
        ("my face went numb", Some(true)),
        ("can't feel my hand", Some(true)),
    ]);
}

#[test]
fn a_heart_out_of_step_is_a_red_flag_and_a_racing_one_is_none() {
    check(&[
        ("heart racing weirdly", Some(true)),
        ("heart won't slow down", Some(true)),
        ("heart keeps skipping beats", Some(true)),
        ("heart still racing", None),
    ]);
}

#[test]
fn breath_is_a_red_flag_where_no_set_explains_it() {
    check(&[
        ("can't breathe", Some(true)),
        ("can't breathe properly after that set", Some(true)),
        ("still out of breath after 15 min", Some(true)),
        ("can't breathe yet", None),
        ("can't breathe after that set", None),
        ("cant breathe lol", None),
        ("out of breath", None),
    ]);
}

#[test]
fn what_befalls_others_or_things_is_no_sign() {
    check(&[
        ("the rack collapsed", None),
        ("Tomasz collapsed at the finish line", None),
        ("knees collapsed in on the last rep", None),
        ("can't feel my lats on pulldowns", None),
        ("can't feel my legs lol", None),
        ("can't feel my legs 😂", None),
        ("the screen went black again", None),
        ("passed out on the sofa", None),
    ]);
}

/// Bleeding in pregnancy; general medical teaching, from memory.
#[test]
fn bleeding_in_pregnancy_is_a_red_flag() {
    check(&[
        ("im 24 weeks pregnant and bleeding", Some(true)),
        ("12 weeks pregnant, some blood after squats", Some(true)),
        ("my sister was pregnant and bled for a week", None),
    ]);
}

/// Too much of a medicine, and doses, food, packs carried off and numbers of other things. Whether what else is
/// said in the harmless lines is asked about or answered as a plain pain is learned, and not of this rule.
#[test]
fn too_much_of_a_medicine_is_a_red_flag() {
    let reader = Reader::new(config::built_in());
    let rows = include_str!("../data/pain/overdose.tsv").lines();
    let wrong: Vec<_> = rows
        .filter_map(|row| {
            let (want, text) = row.split_once('\t')?;
            let hurt = reader.read(text, &Context::alone(Unit::Kg)).hurt;
            let got = hurt
                .and_then(|hurt| hurt.sign)
                .map_or("none", WarningSign::word);
            (got != want).then(|| format!("{text}: {got}"))
        })
        .collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Words for whoever is beside somebody in danger: the writer is not the patient.
#[test]
fn somebody_beside_the_writer_is_not_the_writer() {
    let reader = Reader::new(config::built_in());
    for text in [
        "my mate has chest pain, he is sat on the floor",
        "coach is unconscious",
        "guy next to me just collapsed",
    ] {
        let hurt = reader.read(text, &Context::alone(Unit::Kg)).hurt;
        let sign = hurt.and_then(|hurt| hurt.sign);
        assert_eq!(sign, Some(WarningSign::Bystander), "{text}");
    }
}

#[test]
fn plain_hurts_are_no_red_flags() {
    check(&[
        ("tweaked my back", Some(false)),
        ("sharp pain in my left shoulder", Some(false)),
        ("heard a pop in my knee", Some(false)),
        ("my knee just buckled", Some(false)),
    ]);
}

#[test]
fn effort_and_soreness_are_no_hurt() {
    check(&[
        ("legs are dead", None),
        ("chest is sore", None),
        ("going down to 60 next", None),
        ("need to find a toilet, tiny bladder", None),
    ]);
}
