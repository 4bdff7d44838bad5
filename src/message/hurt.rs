//! Pain and warning signs, apart from effort and soreness.
//!
//! Only what is told as happening to the writer now: somebody else's, an old, a denied or a feared
//! pain is chatter. A sign that calls for medical help is marked as a red flag.
//! Source of the signs: ACSM's Guidelines for Exercise Testing and Prescription (signs and
//! symptoms); Finucane LM et al. 2020, J Orthop Sports Phys Ther 50(7):350-372 (spine);
//! general medical teaching on muscle breakdown. All from memory, as listed for the project.

use super::clause::{Bag, Clause};
use super::item::{Item, Spanned, item_at};
use super::reading::Hurt;
use super::scan::Scan;
use super::token::{Kind, Mark};
use super::vocabulary::{Roles, W};

/// The first hurt that the message tells.
pub(super) fn hurt(scan: &Scan<'_>, items: &[Spanned], clauses: &[Clause]) -> Option<Hurt> {
    let named = |at: usize| in_long_name(items, at);
    let (clause, mut found) = clauses
        .iter()
        .filter(|clause| !is_told_of_others(scan, clauses, clause))
        .find_map(|clause| Some((clause, in_clause(scan, clause, &named)?)))?;
    if found.body.is_none() {
        // `my left knee doesn't feel right, sharp pain`: the place stands in the next clause.
        found.body = clauses
            .iter()
            .filter(|other| other.sentence == clause.sentence)
            .find_map(|other| {
                let at = (other.from..other.to).find(|&at| place(scan, at, &named))?;
                Some(with_side(scan, other, at))
            });
    }
    Some(found)
}

/// Tokens of a name of several words name no place: the `leg` of `leg press`.
fn in_long_name(items: &[Spanned], at: usize) -> bool {
    item_at(items, at).is_some_and(|s| matches!(s.item, Item::Name(_)) && s.to - s.from > 1)
}

/// Somebody else's, asked about, long ago, feared or denied.
fn is_told_of_others(scan: &Scan<'_>, clauses: &[Clause], clause: &Clause) -> bool {
    let mut sentence = clauses.iter().filter(|c| c.sentence == clause.sentence);
    let roles_in = |c: &Clause, roles: Roles| {
        (c.from..c.to).any(|at| scan.token(at).is_some_and(|t| t.word.roles.any(roles)))
    };
    let own = Roles::INTENT
        .with(Roles::WHO)
        .with(Roles::PAST)
        .with(Roles::TRADE);
    let years = (clause.from..clause.to).any(|at| {
        scan.w(at) == W::Last && matches!(scan.w(at + 1), W::Week)
            || scan.w(at) == W::Ago
            || scan.text.text_of(&scan.tokens[at]) == "if"
            || scan
                .token(at)
                .is_some_and(|t| t.kind == Kind::Number && t.value > 1900.0 && t.value < 2100.0)
    });
    // `going numb` happens now, `going to hurt` is still to come; `lost control` is no lost bottle.
    let text = |at: usize| scan.token(at).map(|t| scan.text.text_of(t));
    let is_sign = |at: usize| match scan.w(at) {
        W::Going => scan.w(at + 1) == W::Numb,
        _ => text(at) == Some("lost") && text(at + 1) == Some("control"),
    };
    let set_aside = (clause.from..clause.to)
        .any(|at| scan.token(at).is_some_and(|t| t.word.roles.any(own)) && !is_sign(at));
    let others = sentence.any(|c| {
        let tells = c.from <= clause.from || speaks(scan, c);
        tells && roles_in(c, Roles::OTHER) && !says_it_hurts_me(scan, c)
    });
    let named = has_subject(scan, clause);
    others || named || set_aside || years || clause.end == Some(Mark::Question)
}

/// `otis felt dizzy`: an unknown word at the start, right before what was felt.
fn has_subject(scan: &Scan<'_>, clause: &Clause) -> bool {
    let stranger = scan.token(clause.from).is_some_and(|t| {
        t.kind == Kind::Word && !t.word.roles.any(Roles::KNOWN) && t.word.w == W::None
    });
    let verb = clause.from + 1;
    stranger
        && verb < clause.to
        && (matches!(
            scan.w(verb),
            W::Feel | W::Tweaked | W::Hurt | W::Got | W::Had
        ) || scan
            .token(verb)
            .is_some_and(|t| matches!(scan.text.text_of(t), "has" | "gets" | "passed")))
}

/// `he said`, `according to her`, `she's fine`: what stands before was somebody else's.
fn speaks(scan: &Scan<'_>, clause: &Clause) -> bool {
    (clause.from..clause.to).any(|at| {
        scan.token(at).is_some_and(|t| {
            matches!(
                scan.text.text_of(t),
                "said"
                    | "says"
                    | "told"
                    | "tells"
                    | "reckons"
                    | "thinks"
                    | "according"
                    | "he"
                    | "hes"
                    | "she"
                    | "shes"
                    | "they"
                    | "theyre"
            )
        })
    })
}

/// `told`, `said` and the like beside `my` still speak of the writer's own body; so does `tweaked
/// my back picking up the dog`, where others come in only behind.
fn says_it_hurts_me(scan: &Scan<'_>, clause: &Clause) -> bool {
    let mine = (clause.from..clause.to).any(|at| matches!(scan.w(at), W::My | W::I));
    let hurts_my = (clause.from..clause.to).find(|&at| {
        scan.token(at)
            .is_some_and(|t| t.word.roles.any(Roles::PAIN))
    });
    let only_behind = hurts_my.is_some_and(|pain| {
        let my_place = (pain + 1..clause.to.min(pain + 4)).find(|&at| scan.w(at) == W::My);
        my_place.is_some_and(|my| {
            !speaks(scan, clause)
                && (clause.from..=my).all(|at| {
                    scan.token(at)
                        .is_none_or(|t| !t.word.roles.any(Roles::OTHER))
                })
        })
    });
    if only_behind {
        return true;
    }
    let persons = (clause.from..clause.to)
        .filter(|&at| {
            scan.token(at)
                .is_some_and(|t| t.word.roles.any(Roles::OTHER))
        })
        .all(|at| scan.w(at) == W::You);
    mine && persons
}

fn in_clause(scan: &Scan<'_>, clause: &Clause, named: &impl Fn(usize) -> bool) -> Option<Hurt> {
    let bag = Bag::of(scan, clause.from, clause.to, named);
    if is_denied(scan, clause, &bag) {
        return None;
    }
    symptom(scan, clause, &bag, named).or_else(|| pain(scan, clause, &bag, named))
}

/// `no pain`, `doesn't hurt`, `pain free`, `pain's gone`.
fn is_denied(scan: &Scan<'_>, clause: &Clause, bag: &Bag) -> bool {
    let text = |at: usize| {
        scan.token(at)
            .map(|t| scan.text.text_of(t))
            .unwrap_or_default()
    };
    let gone = (clause.from..clause.to).any(|at| {
        matches!(
            text(at),
            "gone"
                | "healed"
                | "settled"
                | "free"
                | "disappeared"
                | "vanished"
                | "without"
                | "never"
                | "zero"
        )
    });
    // `sharp pain in my elbow and no, not from the beer` denies no pain.
    let last = (clause.from..clause.to).rev().find(|&at| {
        scan.token(at)
            .is_some_and(|t| t.word.w == W::Symptom || t.word.roles.any(Roles::PAIN))
    });
    let reach = last.map_or(clause.to, |last| clause.to.min(last + 4));
    let deny = (clause.from..reach).any(|at| {
        matches!(scan.w(at), W::No | W::Not)
            || matches!(
                text(at),
                "doesnt" | "dont" | "didnt" | "isnt" | "wasnt" | "hasnt" | "havent" | "stopped"
            )
    });
    let good_now =
        bag.has(W::Good) && !bag.any(&[W::Not, W::No]) && bag.any(&[W::Now, W::Again, W::Fully]);
    // `not good` and `not right` beside a pain deny nothing.
    let denies_good = (clause.from..clause.to).any(|at| {
        matches!(scan.w(at), W::Not | W::No | W::Feel)
            && matches!(scan.w(at + 1), W::Good | W::Right)
    });
    gone || good_now || deny && !denies_good
}

fn place(scan: &Scan<'_>, at: usize, named: &impl Fn(usize) -> bool) -> bool {
    let Some(token) = scan.token(at) else {
        return false;
    };
    if !token.word.roles.any(Roles::PLACE) || named(at) {
        return false;
    }
    if is_anothers(scan, at) {
        return false;
    }
    if token.word.w != W::Back && token.word.w != W::Hand {
        return true;
    }
    // `back` is a place only where words say so: `my back`, `lower back`, `back hurts`.
    let led = at > 0
        && scan.token(at - 1).is_some_and(|t| {
            matches!(t.word.w, W::My | W::The | W::In) || t.word.roles.any(Roles::SIDE)
        });
    let followed = scan
        .token(at + 1)
        .is_some_and(|t| t.word.roles.any(Roles::PAIN) || matches!(t.word.w, W::Is | W::Just));
    led || followed
        && (at == 0
            || scan
                .token(at - 1)
                .is_some_and(|t| t.kind != Kind::Word || t.word.w == W::My))
}

/// `gwen's knee`, `gwens left knee`: an unknown word in the genitive before the place.
fn is_anothers(scan: &Scan<'_>, at: usize) -> bool {
    let mut owner = at;
    while owner > 0
        && scan
            .token(owner - 1)
            .is_some_and(|t| t.word.roles.any(Roles::SIDE.with(Roles::PLACE)))
    {
        owner -= 1;
    }
    owner
        .checked_sub(1)
        .and_then(|at| scan.token(at))
        .is_some_and(|t| {
            t.kind == Kind::Word
                && !t.word.roles.any(Roles::KNOWN)
                && t.word.w == W::None
                && t.end - t.start >= 4
                && (t.possessive || t.capital && scan.text.text_of(t).ends_with('s'))
        })
}

/// The place nearest behind `trigger`, else nearest before it, with its side.
fn body_near(
    scan: &Scan<'_>,
    clause: &Clause,
    trigger: usize,
    named: &impl Fn(usize) -> bool,
) -> Option<String> {
    let behind = (trigger + 1..clause.to).find(|&at| place(scan, at, named));
    let before = (clause.from..trigger)
        .rev()
        .find(|&at| place(scan, at, named));
    // `knee popped`: the place directly before the word is meant, whatever follows.
    let close = before.filter(|&at| trigger - at <= 3 && behind.is_none_or(|b| b - trigger > 3));
    let at = close.or(behind).or(before)?;
    Some(with_side(scan, clause, at))
}

fn with_side(scan: &Scan<'_>, clause: &Clause, at: usize) -> String {
    let mut from = at;
    while from > clause.from
        && scan.token(from - 1).is_some_and(|t| {
            t.word.roles.any(Roles::SIDE)
                || t.word.roles.any(Roles::PLACE) && t.word.w != W::Back
                || t.is(Mark::Minus)
                || scan.text.text_of(t) == "rotator"
                || t.word.w == W::Both
        })
    {
        from -= 1;
    }
    words(scan, from, at + 1)
}

fn words(scan: &Scan<'_>, from: usize, to: usize) -> String {
    let mut out = String::new();
    for token in scan.tokens.get(from..to).unwrap_or_default() {
        if token.kind != Kind::Word {
            out.push_str(if token.is(Mark::Minus) { "-" } else { "" });
            continue;
        }
        if !out.is_empty() && !out.ends_with('-') {
            out.push(' ');
        }
        out.push_str(scan.text.text_of(token));
    }
    out
}

fn symptom(
    scan: &Scan<'_>,
    clause: &Clause,
    bag: &Bag,
    named: &impl Fn(usize) -> bool,
) -> Option<Hurt> {
    let flag = |body: String| {
        Some(Hurt {
            body: Some(body),
            red_flag: true,
        })
    };
    for at in clause.from..clause.to {
        let text = scan
            .token(at)
            .map(|t| scan.text.text_of(t))
            .unwrap_or_default();
        match scan.w(at) {
            W::Symptom if text == "faint" && !bag.has(W::Feel) => {}
            W::Symptom => {
                return Some(Hurt {
                    red_flag: !matches!(text, "nauseous" | "nausea"),
                    body: Some(text.to_owned()),
                });
            }
            W::Headache => {
                return Some(Hurt {
                    body: Some(text.to_owned()),
                    red_flag: false,
                });
            }
            W::Headed if at > 0 => {
                let from = if scan.is(at - 1, Mark::Minus) {
                    at.saturating_sub(2)
                } else {
                    at - 1
                };
                if scan.w(from) == W::Light {
                    return flag(words(scan, from, at + 1));
                }
            }
            W::PassedOut if scan.w(at + 1) == W::Out => return flag(words(scan, at, at + 2)),
            W::Stars if at > 0 && scan.text.text_of(&scan.tokens[at - 1]) == "seeing" => {
                return flag(words(scan, at - 1, at + 1));
            }
            W::Vision
                if bag.any(&[W::My, W::Feel])
                    || (clause.from..clause.to).any(|i| {
                        scan.token(i).is_some_and(|t| {
                            matches!(
                                scan.text.text_of(t),
                                "blurry" | "blurred" | "black" | "dark" | "tunnel" | "went"
                            )
                        })
                    }) =>
            {
                return flag(text.to_owned());
            }
            W::Urine if bag.has(W::Dark) => return flag(dark_urine(scan, clause, at)),
            W::Bladder if loses_control(scan, clause) => return flag(words(scan, at, at + 1)),
            W::Chest if !named(at) => {
                if let Some(body) = chest(scan, clause, at, bag) {
                    return flag(body);
                }
            }
            W::Heart
                if (clause.from..clause.to).any(|i| {
                    scan.token(i).is_some_and(|t| {
                        matches!(
                            scan.text.text_of(t),
                            "skipping"
                                | "skipped"
                                | "fluttering"
                                | "fluttered"
                                | "irregular"
                                | "flutter"
                                | "hurts"
                                | "hurting"
                                | "pain"
                        )
                    })
                }) =>
            {
                return flag(text.to_owned());
            }
            W::Breathless | W::Breath if is_at_rest(scan, clause) => {
                return flag(words(scan, at, at + 1));
            }
            W::Numb
                if bag.any(&[W::Both, W::Saddle])
                    || (clause.from..clause.to).any(|i| {
                        scan.token(i)
                            .is_some_and(|t| matches!(scan.text.text_of(t), "legs" | "groin"))
                    }) =>
            {
                let body = body_near(scan, clause, at, named).unwrap_or_else(|| text.to_owned());
                return flag(body);
            }
            _ => {}
        }
    }
    None
}

fn dark_urine(scan: &Scan<'_>, clause: &Clause, at: usize) -> String {
    let from = (clause.from..at)
        .rev()
        .find(|&i| scan.w(i) != W::Dark)
        .map_or(clause.from, |i| i + 1);
    words(scan, from, at + 1)
}

/// `lost control of my bladder`, `bowels leaked`: the spine's sign, not a visit.
fn loses_control(scan: &Scan<'_>, clause: &Clause) -> bool {
    (clause.from..clause.to).any(|at| {
        scan.token(at).is_some_and(|t| {
            matches!(
                scan.text.text_of(t),
                "control" | "lost" | "leaked" | "leaking" | "leaks"
            )
        })
    })
}

/// `pain down my left arm`, `left arm went numb`: the heart's sign rather than the arm's.
fn radiates(scan: &Scan<'_>, clause: &Clause, bag: &Bag, body: &str) -> bool {
    let down = (clause.from..clause.to).any(|at| {
        scan.token(at)
            .is_some_and(|t| scan.text.text_of(t) == "down")
    });
    body == "left arm" && (down || bag.has(W::Numb))
}

/// `chest tightness` and `chest pain` are symptoms as a whole; `tight` or `pain` elsewhere in the
/// clause makes the chest the place.
fn chest(scan: &Scan<'_>, clause: &Clause, at: usize, bag: &Bag) -> Option<String> {
    let text = |at: usize| {
        scan.token(at)
            .map(|t| scan.text.text_of(t))
            .unwrap_or_default()
    };
    if at + 1 < clause.to && matches!(text(at + 1), "tightness" | "pain" | "pains" | "pressure") {
        return Some(words(scan, at, at + 2));
    }
    let tight = (clause.from..clause.to).any(|i| {
        matches!(
            text(i),
            "tight" | "tightness" | "pressure" | "tightening" | "squeezing" | "crushing"
        )
    });
    let worse = tight || bag.any(&[W::Pain, W::Hurt, W::Sharp, W::Ache]);
    worse.then(|| with_side(scan, clause, at))
}

fn is_at_rest(scan: &Scan<'_>, clause: &Clause) -> bool {
    (clause.from..clause.to).any(|at| scan.w(at) == W::At && scan.w(at + 1) == W::Rest)
}

fn pain(
    scan: &Scan<'_>,
    clause: &Clause,
    bag: &Bag,
    named: &impl Fn(usize) -> bool,
) -> Option<Hurt> {
    for at in clause.from..clause.to {
        let w = scan.w(at);
        let body = match w {
            W::Pain if is_idiom(scan, at) => continue,
            W::Pain | W::Sharp | W::Numb | W::Swollen => body_near(scan, clause, at, named),
            W::Hurt | W::Killing if bag.any(&[W::From, W::Sore]) => {
                body_near(scan, clause, at, named).filter(|b| is_joint(b))
            }
            W::Hurt if bag.has(W::Myself) => {
                body_near(scan, clause, at, named).or(Some(String::new()))
            }
            W::Hurt => body_near(scan, clause, at, named),
            W::Tweaked if is_lifting(scan, at) => continue,
            W::Tweaked => body_near(scan, clause, at, named)
                .or_else(|| bag.has(W::Something).then(String::new)),
            W::Killing => body_near(scan, clause, at, named).filter(|b| is_joint(b)),
            W::Gave if scan.w(at + 1) == W::Out => {
                body_near(scan, clause, at, named).filter(|b| is_joint(b))
            }
            W::Went => place_just_before(scan, clause, at, named),
            W::Threw | W::Put => thrown_out(scan, clause, at, named),
            W::Feel if scan.w(at + 1) == W::Right && bag_denies(scan, clause) => {
                body_near(scan, clause, at, named)
            }
            W::Wrong | W::Off if bag.has(W::Something) => (at..clause.to)
                .find(|&i| place(scan, i, named))
                .map(|i| with_side(scan, clause, i)),
            W::Ache if bag.any(&[W::From, W::Sore]) => continue,
            W::Ache => body_near(scan, clause, at, named).filter(|b| is_joint(b)),
            _ => continue,
        };
        if let Some(body) = body {
            let red_flag = body.contains("jaw") && bag.any(&[W::Breath, W::Breathless, W::Limb])
                || radiates(scan, clause, bag, &body);
            return Some(Hurt {
                body: Some(body).filter(|b| !b.is_empty()),
                red_flag,
            });
        }
        let strong = w == W::Sharp && bag.has(W::Pain) || w == W::Pain && bag.has(W::Sharp);
        if strong {
            return Some(Hurt {
                body: None,
                red_flag: false,
            });
        }
    }
    None
}

/// Whether something in the clause is denied.
fn bag_denies(scan: &Scan<'_>, clause: &Clause) -> bool {
    (clause.from..clause.to).any(|at| {
        scan.w(at) == W::Not
            || scan
                .token(at)
                .is_some_and(|t| matches!(scan.text.text_of(t), "doesnt" | "dont" | "didnt"))
    })
}

/// `threw my back out`, `put my back out`.
fn thrown_out(
    scan: &Scan<'_>,
    clause: &Clause,
    at: usize,
    named: &impl Fn(usize) -> bool,
) -> Option<String> {
    let place = (at + 1..clause.to).find(|&i| place(scan, i, named))?;
    let out = scan.w(at + 1) == W::My && place + 1 < clause.to && scan.w(place + 1) == W::Out;
    out.then(|| with_side(scan, clause, place))
}

/// `my back went`: the place directly before the word, and no way that it went.
fn place_just_before(
    scan: &Scan<'_>,
    clause: &Clause,
    at: usize,
    named: &impl Fn(usize) -> bool,
) -> Option<String> {
    let mut before = at.checked_sub(1).filter(|before| *before >= clause.from)?;
    if scan.w(before) == W::Just && before > clause.from {
        before -= 1;
    }
    let led = before > clause.from
        && scan
            .token(before - 1)
            .is_some_and(|t| t.word.w == W::My || t.word.roles.any(Roles::SIDE));
    let ends = at + 1 >= clause.to || matches!(scan.w(at + 1), W::On | W::Again | W::Out);
    (led && ends && place(scan, before, named)).then(|| with_side(scan, clause, before))
}

/// `a pain in the neck` is a nuisance; `pulled 140` is a lift.
fn is_idiom(scan: &Scan<'_>, at: usize) -> bool {
    let a = at > 0 && scan.w(at - 1) == W::A
        || at > 1 && scan.w(at - 2) == W::A && !matches!(scan.w(at - 1), W::Sharp | W::None);
    a && scan.w(at + 1) == W::In && scan.w(at + 2) == W::The
}

fn is_lifting(scan: &Scan<'_>, at: usize) -> bool {
    scan.text.text_of(&scan.tokens[at]) == "pulled" && scan.digits(at + 1).is_some()
}

fn is_joint(body: &str) -> bool {
    [
        "shoulder", "elbow", "wrist", "knee", "hip", "back", "neck", "ankle", "groin", "jaw", "rib",
    ]
    .iter()
    .any(|joint| body.contains(joint))
}
