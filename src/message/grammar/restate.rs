//! What lifters tell in a roundabout way, put as a set is written: `bumped it to 75 and got 6`, `squat with just the
//! bar, 10 reps`, `skipped squats, leg press 100x10`.
//!
//! Each idea is a row of patterns ([`Phrases`]) and what takes their place, where `$1` is the first number or name of
//! the phrase as it was written, `$n` the value of the first number, `$k` the lifter's unit and `$b` the load of an empty bar, `$w` the same without its unit. The message is then read anew, and judged as what it comes to.

use super::phrase::{Found, Phrases};
use super::scan::Scan;
use crate::domain::quantities::catalogue::{Basis, Catalogue, Equipment};
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::mass::Unit;
use crate::message::reading::SetReading;
use crate::message::words::token::{Kind, Mark, Token};
use crate::message::words::vocabulary::{Roles, W, Word};

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
    /// It stands first.
    First,
    /// It ends a superset.
    Superset,
    /// The second number is no more than are sets.
    FewSets,
    /// So many discs of one kind hang there.
    Discs,
    /// A clause behind numbers is of somebody else.
    Other,
    /// Behind a set.
    AfterASet,
    /// No number stands before.
    Leads,
    /// A day is all that follows.
    BeforeADay,
    /// It stands first, behind a day.
    OfADay,
    /// Its two parts are written as one word.
    Glued,
    /// There is a movement of the name with a band.
    Banded,
    /// Seven low, seven high and seven whole repetitions.
    TwentyOnes,
    /// So many are sets, behind a set.
    Few,
    /// The exercise is done with a bar, and no load or name goes on in the word.
    LoneBar,
    /// The exercise has a stack.
    Stack,
    /// The same, and the number is more likely a place on it than a load.
    LowPin,
}

struct Row(When, Phrases, &'static str);

static ROWS: [Row; 65] = [
    // What somebody else did, and when in the day it was.
    Row(
        When::Other,
        Phrases::new(&[
            "?my|her|his|our _ ?only|then|just did|got|hit|had|made|managed|pulled|pressed|benched|squatted|deadlifted|lifted|repped #u *|for # ?, ?# ?, ?#",
            "?my|her|his|our _ ?, #u *|for # ?, ?# ?, ?#",
        ]),
        "",
    ),
    // What was done beside the weights.
    Row(
        When::NamedElse,
        Phrases::new(&[
            "# min|mins|minutes|k|km|miles|mile ?easy|light ?on ?the|a bike|run|treadmill|walk|jog|cycle|cycling|stairs|elliptical|spin|skipping|swim|cardio .",
            "bike|biked|run|ran|treadmill|walk|jog|cycle|cycling|stairs|elliptical|spin|skipping|swim|cardio ?for|, # min|mins|minutes|k|km|miles|mile ?easy|light .",
        ]),
        "",
    ),
    // What was wished for or done once, behind what was done now.
    Row(
        When::AfterASet,
        Phrases::new(&[
            "?my|the ?old|previous|last|current pb|pr|record|best was|is #u *|for #",
            "?my|the coach|plan|program|programme|sheet|spreadsheet wanted|said|says|asked|had|called ?for #u *|for #",
            "should|shouldve ?have ?been|done|hit #u *|for #",
            "?was|were supposed|meant to be|do #u *|for #",
            "?my|the goal|target|plan|planned|prescribed|aim ?was|is ?, #u *|for #",
        ]),
        "",
    ),
    Row(
        When::First,
        Phrases::new(&["?gym|session|workout|training|lifting am|pm ,"]),
        "",
    ),
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
    Row(
        When::BeforeADay,
        Phrases::new(&[
            "that|this|it|these|those|all was|is|were|are ?all ?done|from|on|of",
            "from",
        ]),
        "",
    ),
    Row(
        When::OfADay,
        Phrases::new(&["session|workout|training|gym|lifts ?,"]),
        "",
    ),
    // Warm-ups that were over before.
    Row(
        When::Leads,
        Phrases::new(&[
            "?a|my|some|the ?quick|short|brief|long|proper|good|little|few|usual|general warmup|warmups|warm ?, ?up|ups ?sets ?is|are|all then|done|over|finished ?, ?then|now|and ?,",
            "after ?a|my|some|the ?quick|short|brief|long|proper|good|little|few|usual|general warmup|warmups|warm|warming ?, ?up|ups ?sets ?,",
            "?i ?am|was ?already|all|fully|nicely warmed up ?to ?#u .",
            "?with no|without|skipped|skipping|skip|didnt|forgot ?do|to ?any|the|my|a warmup|warmups|warm|warming ?, ?up|ups ?sets ?today ?,",
        ]),
        ",",
    ),
    Row(
        When::Always,
        Phrases::new(&["to get going|started|moving ."]),
        "",
    ),
    Row(
        When::AfterASet,
        Phrases::new(&[
            "?, those|these|they|all was|were|are ?all ?just|only ?my|the warmup|warmups|warm ?, ?up|ups ?sets .",
        ]),
        " all warmups",
    ),
    Row(
        When::Few,
        Phrases::new(&["?, # of them|these|those ."]),
        ", $1 sets",
    ),
    Row(
        When::Always,
        Phrases::new(&["with #u ?of ?counterweight support|assist|assistance|help|counterweight"]),
        "assisted $1",
    ),
    Row(
        When::Always,
        Phrases::new(&["each|either|both way|ways|direction|directions"]),
        "each side",
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
        When::AfterASet,
        Phrases::new(&[
            "?, ?with|and ?a # s|sec|secs|second|seconds hold|holds|squeeze|stretch ?at ?in ?on ?the|my ?bottom|chest|top|end ?each ?rep",
            "?, ?and pause|paused|hold|held|squeeze|stretch ?for # s|sec|secs|second|seconds ?at ?in ?on ?the|my ?bottom|chest|top|end ?each ?rep",
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
        When::LoneBar,
        Phrases::new(&[
            "?just ?the bar|barbell ?only ?, *|for ?a # ?reps",
            "?just ?the bar|barbell ?only # ?reps .",
        ]),
        "$w x $1",
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
    Row(
        When::Discs,
        Phrases::new(&["# # s ?on a|per|each|either side|end"]),
        "$p $k a side",
    ),
    Row(
        When::FewSets,
        Phrases::new(&["# r ?,|* # s ."]),
        "$1 reps $2 sets",
    ),
    Row(
        When::Always,
        Phrases::new(&["?* amrap ?, # ?reps ."]),
        "x $1",
    ),
    Row(
        When::Superset,
        Phrases::new(&[", # * .", ", * # ."]),
        ", $1 rounds",
    ),
    Row(
        When::Leads,
        Phrases::new(&[
            "circuit|circuits|rounds ?of * # ?,",
            "circuit|circuits * # ?, ?of",
        ]),
        "$1 rounds:",
    ),
    // What is counted behind its word, and for which limb.
    Row(
        When::Always,
        Phrases::new(&[
            "?, reps|rep ?, # ?for|per|a|each ?leg|side|arm|hand ?, sets|series ?, # .",
        ]),
        " x $1 x $2",
    ),
    Row(
        When::Always,
        Phrases::new(&["=reps|rep|kg|lb|lbs|kilos for =hand|leg|side|arm ."]),
        "$1 each $2",
    ),
    // Repetitions with what hangs on the body.
    Row(
        When::Always,
        Phrases::new(&["# / bw|bodyweight"]),
        "bw x $1",
    ),
    Row(When::Always, Phrases::new(&["# / + #u"]), "+$2 x $1"),
    Row(When::Pair, Phrases::new(&["# * # for|* #"]), "$2 s x $3"),
    // How heavy the one set was that others led up to.
    Row(
        When::Always,
        Phrases::new(&[
            "?i ?then worked|built|ramped|went|got ?up to ?a|an|one ?nice|solid|heavy|hard|top|tough|big =single|double|triple ?, ?of|at|with ?on|in|for ?the ~ ?, ?of|at|with|@ #u",
            "?i ?then worked|built|ramped|went|got ?up to ?a|an|one ?nice|solid|heavy|hard|top|tough|big =single|double|triple ?on|in|for ?the ~ ?, ?of|at|with|@ #u",
        ]),
        "$2 $3 for a $1",
    ),
    Row(
        When::Always,
        Phrases::new(&[
            "?i ?then worked|built|ramped|went|got ?up to ?a|an|one ?nice|solid|heavy|hard|top|tough|big =single|double|triple ?, ?of|at|with|@ #u",
        ]),
        "$2 for a $1",
    ),
    // A band, which has no load, and a kettlebell, which is called what it weighs.
    Row(
        When::Banded,
        Phrases::new(&[
            "green|red|yellow|blue|black|purple|orange|grey|gray|light|medium|heavy|thick|thin|mini band|bands ~",
        ]),
        "banded $1",
    ),
    Row(
        When::Banded,
        Phrases::new(&["~ # ?reps ?, banded|band"]),
        "banded $1 $2 reps",
    ),
    Row(
        When::TwentyOnes,
        Phrases::new(&["# s ?of ~ ?, ?with|at|on #u ."]),
        "$2 $3 x 21",
    ),
    Row(
        When::TwentyOnes,
        Phrases::new(&["~ ?, # s ?, ?with|at|on #u ."]),
        "$1 $3 x 21",
    ),
    Row(
        When::Always,
        Phrases::new(&["pyramid|pyramids|ramped|ramping ?set|sets ?of|on ~"]),
        "$1",
    ),
    Row(When::Glued, Phrases::new(&["# es"]), "$1 each side"),
    Row(
        When::Always,
        Phrases::new(&["# kb|kbs|kettlebell ?, #"]),
        "$1 $k $2",
    ),
    Row(
        When::Banded,
        Phrases::new(&[
            "?assisted ~ ?, ?with|w|using|on ?a|an|the|my ?light|medium|heavy|thick|thin|small|mini ?_ band|bands ?assist|assistance|help",
        ]),
        "banded $1",
    ),
    Row(When::Glued, Phrases::new(&["# kb|kbs ~"]), "$1 $k kb $2"),
    Row(When::Glued, Phrases::new(&["# kb|kbs"]), "$1 $k"),
    // Places on a stack.
    Row(
        When::Stack,
        Phrases::new(&["?on|at ?the ?pin|plate|hole|stack number|no|nr # ?, ?for|* # ?reps ."]),
        "pin $1, $2 reps",
    ),
    Row(
        When::LowPin,
        Phrases::new(&["on # ?, ?for|* # ?reps ."]),
        "pin $1, $2 reps",
    ),
    Row(
        When::Stack,
        Phrases::new(&["?on|at ?the #th pin|hole|notch|slot|plate ?down ?, ?for|* # ?reps ."]),
        "pin $n, $2 reps",
    ),
    // Loads of a stack that no number gives.
    Row(
        When::Always,
        Phrases::new(&[
            "?the full|whole|entire|max stack + ?a ?an|the # ?kg|lb|lbs|s ?plate|pin|on|top",
            "?the full|whole|entire|max stack ?for",
            "stack + ?a ?an|the # ?kg|lb|lbs|s ?plate|pin",
        ]),
        "empty bar",
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
    /// The message as it was written.
    pub text: &'f str,
}

impl Floor<'_> {
    /// Whether what stands at `at` is of an exercise that is done with one of these.
    fn is_of(&self, scan: &Scan<'_>, at: usize, equipment: &[Equipment]) -> bool {
        let named = named_before(scan, at).or_else(|| named(scan, 0..scan.tokens.len()));
        let exercise = named.or_else(|| self.last.map(|last| last.exercise));
        exercise.is_some_and(|id| equipment.contains(&self.catalogue.exercise(id).equipment))
    }
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
        let told = done_of_planned(scan, at, floor.catalogue)
            .or_else(|| left_in_brackets(scan, at))
            .or_else(|| load_in_brackets(scan, at));
        if let Some((text, to)) = told {
            write(&mut out, scan, copied, at);
            out.push_str(&text);
            (at, copied) = (to, to);
            continue;
        }
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

/// More of them are repetitions. Common practice, no source.
const MOST_OF_THEM: f64 = 6.0;

/// Up to here a machine is put on a place of its stack rather than on a load. Common practice, no source.
const LOW_PINS: f64 = 10.0;
/// What a plate weighs that is counted and not named. Common practice, no source.
const PLATE: [(Unit, &str, f64); 2] = [(Unit::Lb, "lb", 45.0), (Unit::Kg, "kg", 20.0)];

/// The message with plates that are counted on each side put as what they weigh, where it holds some.
pub(crate) fn with_plates_weighed(scan: &Scan<'_>, unit: Unit) -> Option<String> {
    static PLATES: Phrases = Phrases::new(&[
        "?with|plus|on # plate|plates ?on a|per|each|either side|end|arm ?plus|and ?the ?sled|machine ?, ?for|*",
    ]);
    let at = (0..scan.tokens.len()).find(|at| PLATES.stand(scan, *at))?;
    let found = PLATES.find(scan, at)?;
    let (_, unit, plate) = PLATE.iter().find(|(of, ..)| *of == unit)?;
    let mut out = String::new();
    write(&mut out, scan, 0, at);
    let weight = found.numbers.first()? * plate;
    let reps = if scan.count(found.to).is_some() {
        " for"
    } else {
        ""
    };
    out.push_str(&format!(" {weight} {unit} a side{reps}"));
    write(&mut out, scan, found.to, scan.tokens.len());
    Some(out)
}

/// `Incline (115) 10-9-8`: a load in brackets between a name and its repetitions; the token behind.
fn load_in_brackets(scan: &Scan<'_>, at: usize) -> Option<(String, usize)> {
    let load = scan.digits(at + 1).filter(|_| scan.is(at, Mark::Open))?;
    let unit = usize::from(matches!(scan.w(at + 2), W::Kg | W::Lb | W::K));
    let reps = scan.digits(at + unit + 3)?;
    let closed = scan.is(at + unit + 2, Mark::Close);
    let from = (at.saturating_sub(NAMED_NEAR)..at).find(|from| {
        scan.names
            .exercise_at(scan.tokens, *from)
            .is_some_and(|found| found.to == at)
    });
    let apart = load > MOST_REPS && load > 2.0 * reps;
    (closed && apart && from.is_some()).then_some(())?;
    let mut text = String::new();
    write(&mut text, scan, at + 1, at + unit + 2);
    Some((format!("{text}:"), at + unit + 3))
}

/// Reserves in brackets behind repetitions, one for each set: `10, 9, 8 (2, 1, 0)`, `10(2) 9(1) 8(0)`; the token behind.
fn left_in_brackets(scan: &Scan<'_>, at: usize) -> Option<(String, usize)> {
    let part = |at: usize| scan.is(at, Mark::Comma) || scan.is(at, Mark::Slash);
    if scan.is(at, Mark::Open) {
        let mut left = vec![scan.digits(at + 1)?];
        let mut to = at + 2;
        while part(to) {
            left.push(scan.digits(to + 1)?);
            to += 2;
        }
        let mut before = Vec::new();
        let mut from = at;
        while let Some(reps) = from.checked_sub(1).and_then(|at| scan.digits(at)) {
            before.insert(0, reps);
            from -= 1;
            match from.checked_sub(1).filter(|at| part(*at)) {
                Some(comma) => from = comma,
                None => break,
            }
        }
        let of_sets = before.len() == left.len() && are_left(&left, &before);
        let list: Vec<String> = left.iter().map(f64::to_string).collect();
        return (scan.is(to, Mark::Close) && of_sets)
            .then(|| (format!(" rir {}", list.join(",")), to + 1));
    }
    let one = |at: usize| {
        let (reps, left) = (scan.digits(at)?, scan.digits(at + 2)?);
        (scan.is(at + 1, Mark::Open) && scan.is(at + 3, Mark::Close)).then_some((
            reps,
            left,
            at + 4,
        ))
    };
    // Behind a load: `35 (8), 40 (6)` are loads themselves.
    let unit = |at: usize| matches!(scan.w(at), W::Kg | W::Lb | W::K);
    let behind = at.checked_sub(1)?;
    let behind = behind
        - usize::from(
            behind > 0
                && (part(behind) || scan.is(behind, Mark::Colon) || scan.is(behind, Mark::Times)),
        );
    (unit(behind) || scan.digits(behind).is_some()).then_some(())?;
    let (mut reps, mut left, mut to) = (Vec::new(), Vec::new(), at);
    while let Some((done, rir, end)) = one(to + usize::from(part(to) && !reps.is_empty())) {
        reps.push(done);
        left.push(rir);
        to = end;
    }
    let told = reps
        .iter()
        .zip(&left)
        .map(|(reps, left)| format!("{reps} rir {left}"));
    let told: Vec<String> = told.collect();
    (reps.len() > 1 && are_left(&left, &reps)).then(|| (format!(" {}", told.join(", ")), to))
}

/// Whether numbers are what these sets left: few, and no more from set to set.
fn are_left(left: &[f64], reps: &[f64]) -> bool {
    let falls = left.windows(2).all(|two| two[1] <= two[0]);
    let few = left
        .iter()
        .zip(reps)
        .all(|(left, reps)| *left < MOST_LEFT && left < reps && *reps <= MOST_REPS);
    left.len() > 1 && falls && few
}

/// So many are not left in brackets.
const MOST_LEFT: f64 = 5.0;
/// More are no repetitions there.
const MOST_REPS: f64 = 30.0;

/// Fewer kilograms or pounds are no load without a unit.
const LEAST_LOAD: f64 = 15.0;
/// The name of an exercise stands at most so many tokens before its scheme.
const NAMED_NEAR: usize = 8;
/// So many more repetitions than were planned are still done.
const MOST_OVER: f64 = 10.0;

/// What was done where it stands behind what was planned, a number for each set: `3x8 at 60: 8 8 7`, `5x5 @100 -> 5 5 5
/// 5 3`, `pull ups 3x8 (8, 7, 6)`; the token behind it.
fn done_of_planned(scan: &Scan<'_>, at: usize, catalogue: &Catalogue) -> Option<(String, usize)> {
    let cross = |at: usize| scan.is(at, Mark::Times);
    let lone = |at: usize| {
        scan.digits(at)
            .filter(|_| !at.checked_sub(1).is_some_and(cross))
    };
    let times = |at: usize| {
        let pair = (lone(at)?, scan.digits(at + 2)?);
        (cross(at + 1) && !cross(at + 3)).then_some((pair, at + 3))
    };
    let load = |at: usize| {
        let value = scan.digits(at)?;
        let unit = matches!(scan.w(at + 1), W::Kg | W::Lb | W::K);
        let to = at + 1 + usize::from(unit);
        (unit || value >= LEAST_LOAD).then(|| {
            let mut text = String::new();
            write(&mut text, scan, at, to);
            (text, to)
        })
    };
    let led = |at: usize| {
        let reps = at + usize::from(scan.w(at) == W::Reps);
        let joined = matches!(scan.token(reps)?.kind, Kind::Mark(Mark::At | Mark::Comma))
            || matches!(scan.w(reps), W::At | W::With);
        Some(reps + usize::from(joined))
    };
    let scheme_first = || {
        let (pair, to) = times(at)?;
        let (load, to) = load(led(to)?)?;
        Some((load, pair, to))
    };
    let in_a_row = || {
        let (load, to) = load(at)?;
        let (reps, sets) = (scan.digits(to + 1)?, scan.digits(to + 3)?);
        let crossed = cross(to) && cross(to + 2) && !cross(to + 4);
        crossed.then_some((load, (sets, reps), to + 4))
    };
    let load_first = || {
        let (load, to) = load(at)?;
        let skip = usize::from(scan.is(to, Mark::Comma) || scan.is(to, Mark::Colon));
        let (pair, to) = times(to + skip)?;
        Some((load, pair, to))
    };
    let on_body = || {
        let (pair, to) = times(at)?;
        // The name stands right before; looked for in all of a long list it takes the square of the time.
        let near = at.saturating_sub(NAMED_NEAR)..at;
        let body = named(scan, near).is_some_and(|id| catalogue.exercise(id).basis == Basis::Body);
        body.then(|| (String::new(), pair, to))
    };
    let (load, (sets, reps), to) = scheme_first()
        .or_else(in_a_row)
        .or_else(load_first)
        .or_else(on_body)?;
    let verb = |at: usize| matches!(scan.text_at(at), "got" | "did" | "hit" | "made" | "managed");
    let arrow = |at: usize| {
        let of = [Mark::Minus, Mark::Slash, Mark::Other];
        of.iter().any(|mark| scan.is(at, *mark))
    };
    let comma = usize::from(scan.is(to, Mark::Comma));
    let mut next = match scan.token(to)?.kind {
        _ if verb(to + comma) => to + comma + 1,
        Kind::Mark(Mark::Colon | Mark::Open) => to + 1,
        _ if arrow(to) && !scan.glued(to) => to + 1 + usize::from(arrow(to + 1)),
        _ => return None,
    };
    let mut done = Vec::new();
    while let Some(value) = scan.digits(next).filter(|value| *value <= reps + MOST_OVER) {
        done.push(value.to_string());
        next += 1;
        let part = matches!(
            scan.token(next).map(|t| t.kind),
            Some(Kind::Mark(Mark::Comma | Mark::Slash | Mark::Minus))
        );
        next += usize::from(part && scan.digits(next + 1).is_some());
    }
    let goes_on =
        cross(next) || matches!(scan.w(next), W::Kg | W::Lb) || scan.digits(next).is_some();
    let many = (2..=10).contains(&done.len()) && done.len().to_string() == sets.to_string();
    (many && !goes_on).then(|| {
        let to = next + usize::from(scan.is(next, Mark::Close));
        let joint = if load.is_empty() { "" } else { " x" };
        (format!(" {load}{joint} {}", done.join(", ")), to)
    })
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
            ("w", Unit::Lb) => out.push_str("45"),
            ("w", _) => out.push_str("20"),
            ("b", Unit::Lb) => out.push_str("45 lb"),
            ("b", _) => out.push_str("20 kg"),
            ("n", _) => out.push_str(
                &found
                    .numbers
                    .first()
                    .copied()
                    .unwrap_or_default()
                    .to_string(),
            ),
            ("p", _) => out.push_str(&found.numbers.iter().product::<f64>().to_string()),
            _ => {
                let at = mark.parse::<usize>().unwrap_or_default().saturating_sub(1);
                let (from, to) = found.spans.get(at).copied().unwrap_or_default();
                let mut own = String::new();
                write(&mut own, scan, from, to);
                let glued = out.ends_with('+');
                out.push_str(if glued { own.trim_start() } else { &own });
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
        When::First => at == 0,
        When::Superset => {
            let word = |token: &Token| token.word.w == W::Superset;
            let closed = usize::from(scan.is(found.to, Mark::Close));
            found.to + closed == scan.tokens.len() && scan.tokens.iter().any(word)
        }
        When::FewSets => (2.0..=10.0).contains(&number(1)),
        When::Discs => {
            let disc = DISCS.contains(&number(1));
            disc && (2.0..=4.0).contains(&number(0)) && fits(When::Bar, scan, at, found, floor)
        }
        When::Other => {
            let owned = matches!(scan.text_at(at), "my" | "her" | "his" | "our");
            let one = at + usize::from(owned && scan.digits(at + 1).is_none());
            let told = scan
                .token(one + 1)
                .is_some_and(|t| t.kind == Kind::Word || t.is(Mark::Colon));
            let known = scan
                .token(one)
                .is_some_and(|t| t.word.roles.any(Roles::OTHER));
            let other = (told || known) && is_somebody(scan, one, floor.text);
            // `she squatted 60x5, I did 40x8`
            let mut behind = (found.to..scan.tokens.len()).map(|at| scan.text_at(at));
            let own = matches!(scan.text_at(at), "she" | "he" | "they")
                && behind.any(|word| matches!(word, "i" | "me" | "mine"));
            (!before.is_empty() && opens(scan, at) || own) && other
        }
        When::AfterASet => before.len() > 1,
        When::Leads => before.is_empty(),
        When::BeforeADay => {
            let day = matches!(scan.w(found.to), W::Yesterday | W::Weekday);
            let below = at.checked_sub(1).is_some_and(|at| scan.is(at, Mark::Line));
            let led = found.to > at + 1 || below;
            !before.is_empty() && day && led && found.to + 1 == scan.tokens.len()
        }
        When::OfADay => at
            .checked_sub(1)
            .is_some_and(|day| day <= 1 && matches!(scan.w(day), W::Yesterday | W::Weekday)),
        When::Glued => scan.glued(at + 1),
        When::Banded => found.spans.first().is_some_and(|&(from, to)| {
            let mut name = "banded".to_owned();
            write(&mut name, scan, from, to);
            scan.names.named(&name).is_some()
        }),
        When::TwentyOnes => (number(0) - 21.0).abs() < 1e-9,
        When::Stack => floor.is_of(scan, at, &[Equipment::Stack, Equipment::PlateMachine]),
        When::LowPin => number(0) <= LOW_PINS && fits(When::Stack, scan, at, found, floor),
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
        When::Few => !before.is_empty() && (2.0..=MOST_OF_THEM).contains(&number(0)),
        When::LoneBar => {
            let last = at.checked_sub(1);
            let loaded = last.is_some_and(|at| {
                scan.digits(at).is_some() || matches!(scan.w(at), W::Kg | W::Lb | W::K)
            });
            // `trap bar 130`
            let in_name = last.is_some_and(|last| {
                let whole = scan.names.exercise_at(scan.tokens, last);
                whole.is_some_and(|whole| whole.to > at)
                    && scan.names.named(scan.text_at(last)).is_none()
            });
            !loaded && !in_name && fits(When::Bar, scan, at, found, floor)
        }
        When::Bar => floor.is_of(scan, at, &[Equipment::Barbell]),
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

/// Whether a clause begins at `at`.
fn opens(scan: &Scan<'_>, at: usize) -> bool {
    let before = at.checked_sub(1).and_then(|at| scan.token(at));
    before.is_some_and(|token| {
        let joins = matches!(token.word.w, W::And | W::But);
        let joins = joins || matches!(scan.text.text_of(token), "while" | "whilst" | "when");
        // `w/u 60x5`
        matches!(token.kind, Kind::Mark(mark) if mark != Mark::Slash) || joins
    })
}

/// Whether the word at `at` is another person: one of those words, or a name that nothing else is called.
fn is_somebody(scan: &Scan<'_>, at: usize, written: &str) -> bool {
    let word = scan.text_at(at);
    let is_name = || {
        let mut words = written.split(|c: char| !c.is_alphanumeric());
        words.any(|one| one.to_lowercase() == word && one.starts_with(char::is_uppercase))
    };
    scan.token(at).is_some_and(|token| {
        let other = token.word.roles.any(Roles::OTHER) && !WE.contains(&word);
        other || token.word == Word::default() && named(scan, at..at + 1).is_none() && is_name()
    })
}

/// Others with whom the writer did it, too.
const WE: [&str; 5] = ["we", "weve", "everyone", "everybody", "our"];

/// Discs that hang on bars, in either unit. Common practice, no source.
const DISCS: [f64; 7] = [2.5, 5.0, 10.0, 15.0, 20.0, 25.0, 45.0];

/// The last exercise that is named before `at`.
fn named_before(scan: &Scan<'_>, at: usize) -> Option<ExerciseId> {
    let mut last = None;
    let mut from = 0;
    while from < at {
        let found = scan.names.exercise_at(scan.tokens, from);
        let found = found.filter(|found| found.to <= at);
        last = found.as_ref().map(|found| found.id).or(last);
        from = found.map_or(from + 1, |found| found.to.max(from + 1));
    }
    last
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

/// A lighter load is none in a table without a head.
const LEAST_IN_A_CELL: f64 = 20.0;

/// The message without the lines of a table: `Squat | 60 | 5`, below `Lift | kg | Reps` or by itself.
pub(crate) fn without_cells(text: &str) -> Option<String> {
    let rows = text.lines().map(str::trim);
    let rows = rows.filter(|row| row.contains(char::is_alphanumeric));
    let rows: Vec<Vec<&str>> = rows
        .map(|row| row.trim_matches('|').split('|').map(str::trim).collect())
        .collect();
    let first = rows.first().filter(|row| row.len() > 2)?;
    let headed = !first.concat().contains(|c: char| c.is_ascii_digit());
    let head: Vec<String> = match headed {
        true => first.iter().map(|cell| cell.to_lowercase()).collect(),
        false => ["", "load", "reps"].map(str::to_owned).to_vec(),
    };
    let column = |names: &[&str]| head.iter().position(|cell| names.contains(&cell.as_str()));
    let (load, reps) = (
        column(&["load", "weight", "wt", "kg", "kgs", "lb", "lbs"])?,
        column(&["reps", "rep"])?,
    );
    let sets = column(&["sets", "set"]);
    let effort = column(&["rpe", "rir"]);
    if head.len() != 3 + usize::from(sets.is_some()) + usize::from(effort.is_some()) {
        return None;
    }
    // `Leg press | 3 | 10` is as likely sets and repetitions, `80x10 | 80x9` a list.
    let is_set = |load: &str, reps: &str| {
        let amount = load.trim_end_matches(|c: char| c.is_alphabetic() || c == ' ');
        let heavy = amount
            .parse()
            .is_ok_and(|load: f64| load >= LEAST_IN_A_CELL);
        headed || reps.parse::<u32>().is_ok() && (heavy || amount.is_empty())
    };
    let line = |row: &Vec<&str>| {
        let cell = |at: usize| row.get(at).filter(|cell| !cell.is_empty());
        let unit = match head.get(load)?.as_str() {
            unit @ ("kg" | "kgs" | "lb" | "lbs") => unit,
            _ => "",
        };
        let sets = sets.and_then(cell).map(|sets| format!(" x {sets}"));
        let left = effort.and_then(|at| Some(format!(", {} {}", head.get(at)?, cell(at)?)));
        (row.len() == head.len() && is_set(row.get(load)?, row.get(reps)?)).then_some(())?;
        Some(format!(
            "{} {}{unit} x {}{}{}",
            row.first()?,
            cell(load)?,
            cell(reps)?,
            sets.unwrap_or_default(),
            left.unwrap_or_default()
        ))
    };
    let lines: Option<Vec<String>> = rows.iter().skip(usize::from(headed)).map(line).collect();
    lines.map(|lines| lines.join("\n"))
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
