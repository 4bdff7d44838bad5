//! What lifters tell in a roundabout way, put as a set is written: `bumped it to 75 and got 6`, `squat with just the
//! bar, 10 reps`, `skipped squats, leg press 100x10`.
//!
//! Each idea is a row of patterns ([`Phrases`]) and what takes their place, where `$1` is the first number or name of
//! the phrase as it was written, `$k` the lifter's unit and `$b` the load of an empty bar. The message is then read anew, and judged as what it comes to.

use super::phrase::{Found, Phrases};
use super::scan::Scan;
use crate::domain::quantities::catalogue::{Basis, Catalogue, Equipment};
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::mass::Unit;
use crate::message::reading::SetReading;
use crate::message::words::token::{Kind, Mark};
use crate::message::words::vocabulary::W;

/// When a row holds.
#[derive(Clone, Copy, Debug, PartialEq)]
enum When {
    Always,
    /// Another exercise is named too.
    NamedElse,
    /// It goes on from a set.
    Behind,
    /// The first number is far more than the second, so that they are a load and repetitions.
    LoadFirst,
    /// The last number before is one less.
    OneMore,
    /// The exercise is done with a bar.
    Bar,
    /// The same, and no load is told behind: `just the bar (20 kilos)`.
    EmptyBar,
    /// The set before was done with dumbbells, and two are counted.
    Pair,
    /// The load before is heavier.
    Falls,
    /// The same, and it is told more than once.
    FallsTwice,
    /// The last of the repetitions before were not done alone.
    Helped,
}

struct Row(When, Phrases, &'static str);

static ROWS: [Row; 27] = [
    // What was not done.
    Row(
        When::Always,
        Phrases::new(&[
            "=incline|decline|front|smith|machine|dumbbell|dumbbells|db|cable|seated|standing instead of ?the|my|doing ~",
        ]),
        "$1 $2",
    ),
    Row(
        When::NamedElse,
        Phrases::new(&[
            "instead of ?the|my|doing ~",
            "rather than ?the|my|doing ~",
            "in place of ?the|my ~",
            "?i skipped|skipping|skip|ditched|dropped ?the|my|out ?on ~ ?today|again ,",
            "?i skipped|skipping|skip|ditched|dropped ?the|my|out ?on ~ ?today|again + ?did",
            "?i swapped|switched|traded|subbed|replaced ?out ?the|my ~ for|with|to",
            "couldnt|cant do|get ?the|my|on|to ~ ,|+|so",
        ]),
        "",
    ),
    Row(
        When::NamedElse,
        Phrases::new(&[
            "because|since|cause|cos|cuz|as ?all ?of ?the|my|both ~ ?rack|racks|station|stations|machine|bench|benches|platform was|were|is|are ?all ?still ?in busy|taken|full|occupied|broken|packed|gone|use",
        ]),
        "",
    ),
    Row(
        When::Always,
        Phrases::new(&[
            "because|since|cause|cos|cuz|as ?all ?of ?the|my|both rack|racks|station|stations|machine|machines|benches|platform|gym|cables|place was|were|is|are ?all ?still ?in busy|taken|full|occupied|broken|packed|gone|use",
        ]),
        "",
    ),
    // What was meant, and what was done.
    Row(
        When::Always,
        Phrases::new(&[
            "?i ?was ?had planned|plan|supposed|wanted|meant|aimed|hoped ?on ?to ?do|for|hit #u * # ?reps ?on|for|with|in ?the ~ ?, ?but|and ?i ?only|just ?actually did|got|hit|made|managed|ended ?up ?with|doing #u *",
        ]),
        "$3 $4 x",
    ),
    Row(
        When::Always,
        Phrases::new(&[
            "?i ?was ?had planned|plan|supposed|wanted|meant|aimed|hoped ?on ?to ?do|for|hit #u * # ?reps ?, ?but|and ?i ?only|just ?actually did|got|hit|made|managed|ended ?up ?with|doing #u *",
        ]),
        "$3 x",
    ),
    Row(
        When::Always,
        Phrases::new(&[
            "?i ?was ?had planned|plan|supposed|wanted|meant|aimed|hoped ?on ?to ?do|for|hit #u * # ?reps ?, ?but|and ?i ?only|just ?actually did|got|hit|made|managed|ended ?up ?with|doing # ?reps .",
        ]),
        "$1 x $3",
    ),
    // A load and what was done with it, in a sentence.
    Row(
        When::LoadFirst,
        Phrases::new(&[
            "?i ?then ?just stayed|kept|stuck|sticking|staying|held|left|stay|repeated ?it|things|that|there at|with|on #u ?, ?and|then ?i ?only|just ?got|did|made|hit|managed|for ?a ?set ?of # ?reps",
            "?i ?then ?just|ended ?up went|bumped|bump|moved|jumped|pushed|dropped|going|upped|took|cranked|backed|backing|came|lowered|raised|brought|worked|ramped|built ?it|that|things|the ?weight|bar ?up|down|off|back to|for|with|at #u ?, ?+ ?i ?only|just got|did|made|hit|managed|for|at|repped ?only|out ?a|another ?set ?of # ?reps",
            "?i ?then ?just tried|attempted|loaded|threw|chucked|whacked ?up|on #u ?on ?the|bar ?, ?+ ?i ?only|just got|did|made|hit|managed|repped ?only|out # ?reps",
            "#uu ?, ?+ ?i ?only|just got|did|made|hit|managed|repped ?only|out # ?reps",
        ]),
        "$1 x $2",
    ),
    Row(
        When::Behind,
        Phrases::new(&["?and ?then ramping|ramped|working|building up ?to #u *"]),
        "$1 x",
    ),
    // What was done before, told now.
    Row(
        When::Always,
        Phrases::new(&[
            "?oh ?i forgot|forgotten ?to ?say|mention|log|post|add|note|write ?down|here ?, ?that ?i also|did|had ?did",
        ]),
        "did",
    ),
    Row(
        When::Always,
        Phrases::new(&[
            "?oh ?i forgot|forgotten to say|mention|log|post|add|note|write ?down|here ?, ?about ?the|my ~",
            "?oh ?i forgot|forgotten , ?about ?the|my ~",
        ]),
        "$1",
    ),
    Row(
        When::NamedElse,
        Phrases::new(&["# earlier ?on ?too ."]),
        "$1",
    ),
    Row(
        When::Always,
        Phrases::new(&[
            "last night|nights session|workout|training|lift|lifts|gym|stuff ?:",
            "?this ?is|was ?my|the session|workout|training|lift|lifts|stuff ?is|was from last night|nights ?session",
        ]),
        "last night",
    ),
    Row(
        When::Always,
        Phrases::new(&[
            "?this ?is|was ?my|the session|workout|training|lift|lifts|stuff ?is|was from yesterday",
        ]),
        "yesterday",
    ),
    // How it was done.
    Row(
        When::Always,
        Phrases::new(&[
            "?, ?with|and ?a # s|sec|secs|second|seconds pause|pauses|paused ?at ?on ?the|my ?bottom|chest|top ?each ?rep",
        ]),
        ", paused",
    ),
    Row(
        When::Always,
        Phrases::new(&[
            "?, ?with|and ?a ?slow # s|sec|secs|second|seconds down|lowering|negative|negatives|eccentric|eccentrics",
        ]),
        ", tempo",
    ),
    Row(
        When::OneMore,
        Phrases::new(&["?, ?and|then|but failed|missed|died|fail ?on|at|the ?the|number|rep # ."]),
        ", to failure",
    ),
    Row(
        When::Helped,
        Phrases::new(&[
            "?, ?but ?my _ helped|assisted|spotted|helping ?me ?with|on|for ?the last ?# ?reps|one|rep",
            "?, ?but ?the last ?# ?reps|one|rep ?were|was ?with ?had ?a|some|my ?bit ?of help|spot|spotter|assisted|helped|spotted|assistance",
        ]),
        ", to failure",
    ),
    // What hangs on a bar.
    Row(
        When::Bar,
        Phrases::new(&[
            "?put|had|with|did|loaded|threw ?on ?the # s ?on each|either|both|per|a side|sides|end ?, ?and|for|then|* ?i ?did|got ?for # ?more ?reps",
            "?then go|went|going|moved|up|down ?up|down|back to # s ?on each|either|both|per|a side|sides ?, ?and|for|then|* ?did|got # ?more ?reps",
        ]),
        "$1 $k a side for $2",
    ),
    Row(
        When::EmptyBar,
        Phrases::new(&[
            "?with|using|on|at ?just ?the|an|a empty|naked|unloaded|plain bar|barbell ?only|alone",
            "?with|using|on|at just|only ?the|an|a ?empty bar|barbell",
            "?with|using|on|at ?the bar|barbell only|alone",
            "?with|using|on|at ?the bar|barbell ?, no|without|zero plates|weight|weights",
        ]),
        "$b",
    ),
    Row(When::Pair, Phrases::new(&["# * # for|* #"]), "$2 s x $3"),
    // Loads of a stack that no number gives.
    Row(
        When::Always,
        Phrases::new(&[
            "?the full|whole|entire|max stack + ?a ?an|the # ?kg|lb|lbs|s ?plate|pin|on|top",
            "?the full|whole|entire|max stack",
            "stack + ?a ?an|the # ?kg|lb|lbs|s ?plate|pin",
        ]),
        "pin 1",
    ),
    Row(
        When::Always,
        Phrases::new(&["# ?down|plates ?on|of|down the|a stack"]),
        "pin $1",
    ),
    // Weight taken off without rest.
    Row(
        When::Falls,
        Phrases::new(&[
            "?, ?and ?then strip|stripped|stripping ?it|some ?down|off to #u *|for",
            "?, ?and ?then ?went|dropped straight|right|immediately ?down|into to #u *|for",
        ]),
        " drop $1 x",
    ),
    Row(
        When::FallsTwice,
        Phrases::new(&["?, ?and ?then dropped|drop ?it|down to #u *|for"]),
        " drop $1 x",
    ),
    Row(
        When::Behind,
        Phrases::new(&["?and ?then straight|immediately ?down|into to #u *|for # ?reps"]),
        "$1 x $2 dropset",
    ),
    Row(
        When::NamedElse,
        Phrases::new(&["tri|giant|super set ?, ~"]),
        "superset $1",
    ),
];

/// Tokens of a message that tells of an empty bar and of nothing else.
const MOST_OF_A_BAR: usize = 14;

/// What a message is read against.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Floor<'f> {
    pub catalogue: &'f Catalogue,
    pub unit: Unit,
    pub last: Option<&'f SetReading>,
}

/// The message in the words of sets, where it tells some in others.
pub(crate) fn restated(scan: &Scan<'_>, floor: Floor<'_>) -> Option<String> {
    let mut out = String::new();
    let (mut copied, mut at) = (0, 0);
    while at < scan.tokens.len() {
        let fitting = |row: &Row| {
            let found = row.1.find(scan, at)?;
            (found.to > at && fits(row.0, scan, at, &found, floor)).then_some(found)
        };
        let found = ROWS.iter().find_map(|row| Some((row, fitting(row)?)));
        let Some((row, found)) = found else {
            at += 1;
            continue;
        };
        write(&mut out, scan, copied, at);
        if row.0 == When::Helped {
            let alone = without_last(&mut out, found.numbers.first().copied().unwrap_or(1.0))?;
            out.push_str(&alone);
        }
        put(&mut out, row.2, scan, &found, floor.unit);
        at = found.to;
        copied = at;
    }
    write(&mut out, scan, copied, scan.tokens.len());
    (copied > 0).then_some(out)
}

/// Writes tokens as they stood in the message.
fn write(out: &mut String, scan: &Scan<'_>, from: usize, to: usize) {
    for (place, token) in scan
        .tokens
        .get(from..to)
        .unwrap_or_default()
        .iter()
        .enumerate()
    {
        if !token.glued || place == 0 {
            out.push(' ');
        }
        match token.kind {
            Kind::Word => out.push_str(scan.text.text_of(token)),
            Kind::Number => out.push_str(&token.value.to_string()),
            Kind::Clock => {
                let (whole, part) = (token.value.div_euclid(60.0), token.value.rem_euclid(60.0));
                out.push_str(&format!("{whole}:{part:02}"));
            }
            Kind::Date => {
                let date = token.value.to_string();
                let (year, rest) = date.split_at(date.len().min(4));
                let (month, day) = rest.split_at(rest.len().min(2));
                out.push_str(&format!("{year}-{month}-{day}"));
            }
            Kind::Mark(mark) => out.push_str(mark.written()),
        }
    }
}

/// Takes the last number off `out`; it, less so many.
fn without_last(out: &mut String, less: f64) -> Option<String> {
    let kept = out
        .trim_end()
        .trim_end_matches(|c: char| c.is_ascii_digit())
        .len();
    let reps: f64 = out.get(kept..)?.trim().parse().ok()?;
    out.truncate(kept);
    (reps > less).then(|| (reps - less).to_string())
}

/// Writes what takes the place of a phrase.
fn put(out: &mut String, with: &str, scan: &Scan<'_>, found: &Found, unit: Unit) {
    let mut parts = with.split('$');
    out.push(' ');
    out.push_str(parts.next().unwrap_or_default());
    for part in parts {
        let (mark, rest) = part.split_at(1);
        match (mark, unit) {
            ("k", _) => out.push_str(unit.symbol()),
            ("b", Unit::Kg) => out.push_str("20 kg"),
            ("b", Unit::Lb) => out.push_str("45 lb"),
            _ => {
                let at = mark.parse::<usize>().unwrap_or_default().saturating_sub(1);
                let (from, to) = found.spans.get(at).copied().unwrap_or_default();
                write(out, scan, from, to);
            }
        }
        out.push_str(rest);
    }
    out.push(' ');
}

fn fits(when: When, scan: &Scan<'_>, at: usize, found: &Found, floor: Floor<'_>) -> bool {
    let number = |at: usize| found.numbers.get(at).copied().unwrap_or_default();
    let before: Vec<f64> = (0..at).filter_map(|at| scan.digits(at)).collect();
    let falls = || {
        before.len() > 1
            && before
                .iter()
                .rev()
                .nth(1)
                .is_some_and(|load| *load > number(0))
    };
    match when {
        When::Always => true,
        When::NamedElse => named(scan, 0..at)
            .or_else(|| named(scan, found.to..scan.tokens.len()))
            .is_some(),
        When::Behind => floor.last.is_some(),
        When::LoadFirst => number(0) >= 15.0 && number(0) > 1.5 * number(1) && number(1) <= 30.0,
        When::OneMore => before
            .last()
            .is_some_and(|reps| (reps + 1.0 - number(0)).abs() < 1e-9),
        When::EmptyBar => {
            // A story may go on to what hung on the bar later.
            let short = scan.tokens.len() <= MOST_OF_A_BAR;
            let open = usize::from(scan.is(found.to, Mark::Open));
            let unit = scan
                .count(found.to + open)
                .map_or(W::None, |(_, to)| scan.w(to));
            short
                && !matches!(unit, W::Kg | W::Lb | W::K)
                && fits(When::Bar, scan, at, found, floor)
        }
        When::Bar => {
            let named = named(scan, 0..scan.tokens.len());
            let exercise = named.or_else(|| floor.last.map(|last| last.exercise));
            exercise.is_some_and(|id| floor.catalogue.exercise(id).equipment == Equipment::Barbell)
        }
        When::Pair => {
            let hands = floor
                .last
                .is_some_and(|last| last.load.basis == Basis::PerHand);
            hands && at == 0 && (number(0) - 2.0).abs() < 1e-9
        }
        When::Falls => falls(),
        When::FallsTwice => {
            let told = scan.tokens.iter().filter(|token| {
                token.kind == Kind::Word && matches!(scan.text.text_of(token), "drop" | "dropped")
            });
            falls() && told.count() > 1
        }
        When::Helped => !before.is_empty(),
    }
}

/// The first exercise that is named among these tokens.
fn named(scan: &Scan<'_>, mut among: std::ops::Range<usize>) -> Option<ExerciseId> {
    let end = among.end;
    among
        .find_map(|at| {
            scan.names
                .exercise_at(scan.tokens, at)
                .filter(|found| found.to <= end)
        })
        .map(|found| found.id)
}

/// The message with zeros where letters stand for them: `60x1o`, `6ox10`, `60 x lO`.
pub(crate) fn with_zeros(text: &str) -> Option<String> {
    let letters: Vec<char> = text.chars().collect();
    let digit = |at: usize| letters.get(at).is_some_and(char::is_ascii_digit);
    let zero = |at: usize| letters.get(at).is_some_and(|c| matches!(c, 'o' | 'O'));
    let apart = |at: usize| {
        letters
            .get(at)
            .is_none_or(|c| !c.is_alphanumeric() && *c != '\'' || matches!(c, 'x' | 'k' | 'l'))
    };
    let mut out = letters.clone();
    for at in 1..letters.len() {
        if zero(at) && digit(at - 1) && (digit(at + 1) || apart(at + 1)) {
            out[at] = '0';
        }
        // `x lO`: a ten in letters.
        let one = matches!(letters[at - 1], 'l' | 'I') && letters[at] == 'O';
        if one && apart(at + 1) && (at < 2 || matches!(letters[at - 2], 'x' | ' ' | '×')) {
            (out[at - 1], out[at]) = ('1', '0');
        }
    }
    (out != letters).then(|| out.into_iter().collect())
}

/// The message with arrows between falling loads put into words: `60x12 -> 50x8 -> 40x8`.
pub(crate) fn without_arrows(text: &str) -> Option<String> {
    let parts: Vec<&str> = text
        .split("->")
        .flat_map(|part| part.split(['→', '>']))
        .collect();
    let load = |part: &&str| {
        let load = part.trim().rsplit_once(['x', '×'])?.0.trim_end();
        let digits = load
            .rfind(|c: char| !c.is_ascii_digit() && c != '.')
            .map_or(0, |at| at + 1);
        load.get(digits..)?.parse::<f64>().ok()
    };
    let loads: Option<Vec<f64>> = parts.iter().map(load).collect();
    let falls = loads
        // One arrow alone is the way down to a lighter set.
        .filter(|loads| loads.len() > 2)?
        .windows(2)
        .all(|pair| pair[0] > pair[1]);
    (falls && !text.contains("twice")).then(|| parts.join(" drop "))
}

/// The message without the marks that part a superset: `A1 bench 60x10 A2 row 50x12`, and of its next round
/// `A1 9 A2 11`.
pub(crate) fn unlabelled(text: &str) -> Option<String> {
    let words: Vec<&str> = text.split_inclusive(char::is_whitespace).collect();
    let label = |word: &str| {
        let word = word.trim().trim_end_matches([':', '.', ')']).to_lowercase();
        let mut letters = word.chars();
        match (letters.next(), letters.next(), letters.next()) {
            (Some(part @ 'a'..='e'), Some(place @ '1'..='4'), None) => Some((part, place)),
            _ => None,
        }
    };
    let labels: Vec<(char, char)> = words.iter().filter_map(|word| label(word)).collect();
    let rises = labels
        .windows(2)
        .all(|pair| pair[0].0 == pair[1].0 && pair[0].1 < pair[1].1);
    if labels.len() < 2 || !rises || label(words.first()?).is_none() {
        return None;
    }
    let parts = words
        .split(|word| label(word).is_some())
        .map(|part| part.concat());
    let parts: Vec<String> = parts
        .map(|part| part.trim().trim_matches(',').to_owned())
        .filter(|part| !part.is_empty())
        .collect();
    let named = parts
        .iter()
        .any(|part| part.chars().filter(|c| c.is_alphabetic()).count() > 1);
    Some(match named {
        true => format!("superset {}", parts.join(", ")),
        false => parts.join("/"),
    })
}
