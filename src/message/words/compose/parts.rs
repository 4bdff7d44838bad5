//! Words and phrases of exercise names, as flat lists: no logic here.

use crate::message::words::variants::List;

/// What a part says of a movement.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Role {
    /// What makes it this movement and no other: `squat`, `front`, `reverse`.
    Movement,
    /// What is held: `barbell`, `cable`.
    Implement,
    /// How the body is placed: `seated`.
    Position,
    /// One limb or in turn: `one-arm`.
    Side,
    /// How the bar is held: `wide-grip`.
    Grip,
    /// How the feet are placed.
    Stance,
    /// How it is done, whatever it is: `paused`, `strict`.
    Manner,
    /// What one lies, sits or stands on. Behind a word that joins (`on a bench`) it may be told
    /// apart; else it is part of the movement: `floor press`.
    Prop,
}

/// Parts that are no movement.
#[rustfmt::skip]
pub(super) const ROLES: &[(Role, &str)] = &[
    (
        Role::Implement,
        "barbell bar dumbbell kettlebell cable rope machine ez smith plate bodyweight band landmine handle \
         suspension ring sandbag plate-loaded",
    ),
    (Role::Position, "seated standing lying kneeling half-kneeling bent-over flat incline decline angled"),
    (Role::Side, "one-arm one-leg single alternating two-arm double"),
    (
        Role::Grip,
        "wide-grip close-grip neutral-grip underhand overhand medium-grip hook-grip snatch-grip clean-grip grip",
    ),
    (Role::Stance, "wide-stance narrow-stance"),
    (
        Role::Manner,
        "paused tempo slow strict weighted heavy light deep full assisted explosive touch competition \
         beltless belted raw deadstop eccentric strap feet-up controlled regular standard normal classic \
         plain basic speed dynamic fast vest cheat braced",
    ),
    (Role::Prop, "bench box floor wall step block pad platform rack stand towel station"),
];

/// Parts, and the words and phrases that stand for them.
#[rustfmt::skip]
pub(super) const SPELLINGS: &[(&str, &str)] = &[
    ("plate-loaded", "plate loaded, plateloaded"),
    ("clean jerk", "c and j, c j"),
    ("front-foot-elevated", "front foot elevated, front foot raised, front leg elevated, ffe"),
    ("bulgarian", "rear foot elevated, rear leg elevated, rear foot raised, back foot elevated, rfe"),
    ("braced", "bench supported, back supported, back support, with support"),
    ("clean-grip", "clean grip, rack grip, cross arm, cross grip"),
    ("hold", "iso hold, isometric hold, static hold"),
    ("low-to-high", "low to high, low high, up angled"),
    ("high-to-low", "high to low, high low, down angled"),
    (
        "alternating",
        "alt, alternate, alternate arm, alternate leg, alternated, alternating arm, \
         alternating arms, alternating leg",
    ),
    ("angled", "45, deg, degree, degrees, °, 45 degree, 30 degree"),
    ("axle", "axle bar, fat bar, thick bar"),
    ("b-stance", "b stance, bstance, kick stand, kickstand, split stance, staggered stance"),
    ("back extension", "back ext, hyper, hyper extension, hyperextension"),
    (
        "ball",
        "balance ball, exercise ball, fit ball, fitball, gym ball, physio ball, stability \
         ball, swiss ball",
    ),
    (
        "band",
        "banded, bands, elastic band, loop band, mini band, power band, resistance band, \
         rubber band",
    ),
    ("band-assisted", "band assisted"),
    (
        "barbell",
        "bar bell, bar bells, barbel, bb, oly bar, olympic bar, power bar, straight barbell, \
         texas bar",
    ),
    ("behind-the-back", "behind back, behind body, behind the back, behind the body"),
    ("behind-the-neck", "behind head, behind neck, behind the head, behind the neck, btn"),
    ("belt squat", "beltsquat"),
    ("bench", "benches"),
    ("bench press", "bench pressing, benched, benching, benchpress, bp"),
    ("bent-over", "bend over, bent, bent over, bentover, bo"),
    ("biceps", "bicep"),
    ("bodyweight", "body weight, bw"),
    ("bulgarian", "bulg"),
    (
        "bulgarian split squat",
        "bss, bulgarian lunge, bulgarian squat, bulgarians, rear foot elevated split squat, \
         rear foot raised split squat, rear leg elevated split squat, rfess",
    ),
    ("cable", "cable machine, cable stack, cable tower, cables, crossover machine, pulley"),
    ("calf", "calfs, calve, calves"),
    ("calf raise", "calve raise, heel raise"),
    ("cambered-bar", "cambered squat bar"),
    ("chest press", "chestpress"),
    ("chest-supported", "chest support, chest supported, cs, pad supported, supported chest"),
    ("chin-up", "chin up, chinup"),
    ("clean", "clean and"),
    (
        "close-grip",
        "cg, close grip, close hand, close handle, mag grip, narrow, narrow grip, narrow \
         hand, shoulder width, shoulder width grip, triangle, triangle handle, v bar, v \
         handle",
    ),
    ("close-grip bench press", "cgbp"),
    ("competition", "comp"),
    ("crossover", "cross over, crossovers, xover"),
    ("curl", "arm curl, bi curl, bicep curl, biceps curl, curled, curling"),
    ("deadlift", "dead lift, deadlifted, deadlifting, deadlit, deads, dl, dlift, dls"),
    ("deadstop", "dead stop, dead stopped"),
    ("decline", "dec, decl, declined"),
    ("delt", "delts"),
    ("dumbbell", "d b, db, dbs, dmbbell, dumb bell, dumb bells, dumbell, dumbell bell, dumbells"),
    ("eccentric", "eccentrics, negative, negatives, slow eccentric, slow negative"),
    ("elevated", "raised"),
    ("extension", "ext, extensions, extention, extn, exts"),
    (
        "ez",
        "cambered bar, curl bar, curling bar, e z, e z bar, easy bar, easy curl bar, ez bar, \
         ez barbell, ez curl bar, ezbar",
    ),
    ("farmer", "farmer s, farmers"),
    ("farmer walk", "farmer carries, farmer carry, farmers carry"),
    ("feet-up", "feet up, legs up"),
    ("fly", "flie, flies, flye, flyers, flyes, flys"),
    (
        "front-foot-elevated split squat",
        "ffess, front foot elevated split squat, front foot raised split squat",
    ),
    ("full", "full range, full range of motion, full rom"),
    ("get-up", "get up, getup, getups"),
    ("glute-ham raise", "ghr, glute ham, glute ham raise"),
    ("good morning", "gm, goodmorning"),
    ("half-kneeling", "half kneel, half kneeling, half knelt, hk"),
    ("hamstring", "ham"),
    (
        "handle",
        "attachment, bar attachment, d handle, single handle, stirrup, straight bar, straight \
         bar attachment, straight handle",
    ),
    ("handstand push-up", "handstand pressup, hspu"),
    ("high-bar", "high bar"),
    ("hip abduction", "abduction, outer thigh, thigh abduction"),
    ("hip adduction", "adduction, inner thigh, thigh adduction"),
    ("hip thrust", "hip thruster, hipthrust, thrusts"),
    ("hook-grip", "hook grip"),
    (
        "incline",
        "high incline, inc, incl, inclined, inclne, low incline, on an incline, slight \
         incline, up incline",
    ),
    ("inverted row", "body row, bodyweight row, horizontal row, ring row, suspension row"),
    ("kettlebell", "k bell, kb, kbs, ketllebell, kettle bell, kettlebel"),
    ("kick back", "kickbacks"),
    ("kickback", "kick back"),
    ("kneeling", "knelt, on knees, tall kneeling"),
    ("landmine", "land mine, landmine bar"),
    (
        "lat pulldown",
        "lat pull, lat pull down, lat pull in front, lat pulley, lateral pulldown, latpull, \
         latpulldown, lpd, pulldown to chest, pulldown to front",
    ),
    ("lateral", "side lateral"),
    (
        "lateral raise",
        "lat raise, laterals, lats raise, medial raise, side delt raise, side lateral raise, \
         side raise, side raises",
    ),
    (
        "leg curl",
        "ham curl, hammies curl, hammy curl, hammy curls, hams curl, hamstring curl, knee \
         flexion",
    ),
    ("leg extension", "knee extension, quad extension, quads extension"),
    ("low-bar", "low bar"),
    (
        "lying",
        "chest down, face down, face up, laid down, lay down, laying, on back, prone, supine, \
         supine lying",
    ),
    (
        "lying triceps extension",
        "lte, nose breaker, nosebreaker, scullcrusher, skull, skull crusher, skullcrusher, \
         skullcrushers, skulls",
    ),
    (
        "machine",
        "converging, diverging, iso lateral, isolateral, leverage, mach, mch, pin loaded, \
         selectorised, selectorized, weight machine",
    ),
    ("med ball", "mb, medball, medicine ball"),
    ("medium-grip", "medium grip, mid grip, normal grip"),
    ("muscle-up", "muscle up"),
    ("narrow-stance", "close stance, narrow stance"),
    (
        "neutral-grip",
        "hammer grip, neutral, neutral grip, ng, palms facing, palms facing each other, palms \
         in, parallel grip, parallel handle, semi supinated",
    ),
    ("nordic curl", "nordic ham curl, nordic hamstring curl, nordic leg curl, nordics, russian leg curl"),
    (
        "one-arm",
        "1 arm, one arm, one armed, one hand, one handed, onearm, sa, single arm, single \
         armed, single arms, single hand, single handed, singlearm, unilateral arm",
    ),
    (
        "one-leg",
        "1 leg, one leg, one legged, oneleg, single leg, single leg stance, single legged, \
         singleleg, sl, unilateral leg",
    ),
    (
        "overhand",
        "overhand grip, palm down, palms down, pronated, pronated grip, pronated hand, prone \
         grip",
    ),
    ("overhead", "oh, over head, over the head"),
    ("overhead press", "mil press, military, military press, ohp"),
    ("overhead triceps extension", "french press, ote, triceps french press"),
    ("paused", "pause, pausing, with pause"),
    ("pec deck", "pec dec"),
    ("plate", "bumper, bumper plate, weight plate"),
    ("press", "pres, pressed, pressing"),
    ("pull-apart", "pull apart"),
    ("pull-through", "pull through"),
    ("pull-up", "pull up, pull upps, pullup, pullups"),
    ("pulldown", "pd, pull down, pulldn"),
    ("pullover", "pull over"),
    ("push-up", "press up, pressup, push up, pushup"),
    ("pushdown", "press down, pressdown, push down, pushdn"),
    ("rear delt", "posterior delt, rear deltoid, rear shoulder"),
    (
        "rear delt fly",
        "bent over lateral raise, bent over raise, rear delt raise, rear \
         delts, rear fly, rear raise, reverse fly, reverse \
         flye",
    ),
    ("reverse", "backward, backwards, rev, revers"),
    ("ring", "gymnastic ring, gymnastics ring"),
    ("rollout", "roll out"),
    ("romanian", "romain"),
    ("romanian deadlift", "rdl, roman deadlift, romanian dl, romanians"),
    ("rope", "rope attachment, rope handle"),
    ("russian twist", "russians"),
    ("safety-bar", "safety bar, safety squat bar, ssb"),
    ("seated", "seat, sitting"),
    ("shoulder", "shldr"),
    ("shoulder press", "shoulderpress"),
    ("single", "unilateral"),
    ("sit-up", "sit up, situp"),
    ("smith", "sm, smith bar, smith machine, smith rack, smithmachine, smiths"),
    ("snatch-grip", "sg, snatch grip"),
    ("squat", "sq, sqt, sqts, squatted, squatting"),
    ("standing", "stand"),
    ("step-up", "step up, stepup"),
    (
        "stiff-leg",
        "stiff leg, stiff legged, stiff legs, stiffed leg, stiffleg, straight leg, straight \
         legged, straight legs",
    ),
    ("stiff-leg deadlift", "sldl"),
    ("straight", "str8, strait"),
    ("strap", "lifting strap, strapped, straps, wrist strap, ankle strap, ankle cuff"),
    ("supported", "supp"),
    ("suspension", "straps trainer, suspended, suspension straps, suspension trainer"),
    ("swiss-bar", "american bar, football bar, multi grip bar, neutral grip bar, swiss bar"),
    ("t-bar", "t bar, tbar"),
    ("tempo", "slow tempo, tempo work"),
    ("trap-bar", "hex bar, hexagonal bar, hexbar, trap bar, trap hex bar, trapbar"),
    ("triceps", "tri, tricep, tris"),
    (
        "triceps pushdown",
        "cable pushdown, tpd, tricep pulldown, triceps press down, triceps pressdown, triceps \
         pulldown",
    ),
    ("two-arm", "two arm"),
    (
        "underhand",
        "palm up, palms up, reverse grip, reverse hand, supinated, supinated grip, under \
         hand, underhand grip",
    ),
    ("vest", "weight vest, weighted vest, weights vest"),
    ("walk", "walking, walks"),
    (
        "weighted",
        "added load, added weight, loaded, plus weight, plate on lap, plate on chest, plate on back, weight on lap, vest on",
    ),
    ("wide-grip", "snatch width, wg, wide, wide grip, wide handle"),
    ("wide-stance", "wide stance"),
    ("woodchop", "cable chop, chop, chopper, wood chop, wood chopper, woodchopper"),
    ("zercher squat", "zerchers"),
];

/// Words that only join parts, or say nothing of the movement.
pub(super) static JOINTS: List = List::of(
    "on|with|the|to|of|off|from|in|a|an|w|using|for|across|over|against|at|into|via|my|style|variation|version\
     |exercise|movement|one|ones",
);

/// Parts that stand in names of many kinds, and make none of them likely.
pub(super) const VAGUE: &[&str] = &["lift", "hold", "drop", "side", "front", "up"];

/// Parts that say the same: a name with the first ones is also known with the second ones in their place.
pub(super) const ALIKE: &[(&str, &str)] = &[
    ("bench press", "bench"),
    ("overhead press", "shoulder press"),
    ("shoulder press", "overhead press"),
    ("lateral raise", "lateral"),
    ("calf raise", "calf"),
    ("calf raise", "calf press"),
    ("hip thrust", "thrust"),
    ("lat pulldown", "pulldown"),
    ("pulldown", "lat pulldown"),
    ("romanian deadlift", "romanian"),
    ("sumo deadlift", "sumo"),
    ("bulgarian split squat", "bulgarian"),
    ("preacher curl", "preacher"),
    ("walk", "carry"),
    ("carry", "walk"),
    ("rear delt fly", "rear delt"),
    ("rear delt fly", "bent-over lateral raise"),
    ("rear delt fly", "bent-over lateral"),
    ("rear delt fly", "rear lateral raise"),
    ("rear delt fly", "rear lateral"),
    ("rear delt fly", "bent-over reverse fly"),
    ("goblet squat", "goblet"),
    ("hammer curl", "hammer"),
    ("lateral raise", "side delt"),
    ("overhead triceps extension", "overhead extension"),
    ("lying triceps extension", "lying extension"),
    ("triceps pushdown", "pushdown"),
    ("pushdown", "triceps pushdown"),
    ("glute bridge", "hip bridge"),
    ("fly", "chest fly"),
    ("fly", "crossover"),
    ("curl", "biceps curl"),
    ("upright row", "upright"),
    ("back squat", "squat"),
];
