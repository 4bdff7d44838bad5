//! The words of the training floor and of chat around it, as flat lists: no logic here.
//!
//! A word may stand in several rows; its first grammar word holds, its roles add up. Apostrophes
//! are cut before a word is looked up: `aren't` is `arent`, `head's` is `head`.

pub(crate) mod ends;

use super::word::{Roles, W};

const NONE: Roles = Roles(0);
const FILL: Roles = Roles::FILL;
const ASK: Roles = Roles::ASK;
const FIT: Roles = Roles::FIT;
const FIX: Roles = Roles::FIX;
/// Small words that fit anywhere.
const ANY: Roles = FILL.with(ASK).with(FIT).with(FIX);
const FILL_FIT: Roles = FILL.with(FIT);
const FILL_ASK: Roles = FILL.with(ASK);
const FILL_FIX: Roles = FILL.with(FIX);
const FILL_ASK_FIX: Roles = FILL.with(ASK).with(FIX);
const FILL_FIT_FIX: Roles = FILL.with(FIT).with(FIX);
const ASK_FIX: Roles = ASK.with(FIX);
const ASK_FIT: Roles = ASK.with(FIT);
const FILL_ASK_FIT: Roles = FILL.with(ASK).with(FIT);
const DID: Roles = Roles::DID.with(FILL);

/// Words with their grammar word and roles.
#[rustfmt::skip]
pub(crate) const WORDS: &[(&str, W, Roles)] = &[
    // Persons.
    ("i im ive", W::I, ANY),
    ("you your yours ur ya youre yall yourself", W::You, Roles::OTHER),
    ("me", W::Me, ANY),
    ("my", W::My, ANY),
    ("mine", W::None, FILL),
    ("myself", W::Myself, FILL),
    (
        "he she they hes shes theyre his her hers their \
         theirs them him himself herself we our ours us weve everyone everybody someone \
         somebody people others nobody",
        W::None, Roles::OTHER,
    ),
    (
        "brother sister dad father mum mom mother wife husband girlfriend boyfriend fiance physio \
         therapist doctor doc dentist boss kid kids son daughter cousin uncle aunt nephew niece \
         dog cat pet horse roommate flatmate neighbour neighbor grandma grandpa gran grandad colleague teammate \
         trainer captain opponent says said told tells wants reckons thinks asked apparently averaged loser winner whoever suggested suggests advice pros \
         allegedly supposedly rumour rumor heard saw seen watched watching legend video clip crew guy \
         girl lady woman women men fella bloke novice novices juniors seniors rookie newbie",
        W::None, Roles::OTHER,
    ),
    (GIVEN_NAMES, W::None, Roles::OTHER),
    (
        "coach mate bro dude man guys team buddy pal lad lads ladies boys girls folks", W::None,
        Roles::PERSON.with(FIT),
    ),
    ("anyone anybody who whos whose why where wheres wheres", W::None, Roles::WHO),
    // Units.
    ("kg kgs kilo kilos kilogram kilograms kgms", W::Kg, FILL_ASK_FIX),
    ("lb lbs pound pounds", W::Lb, FILL_ASK_FIX),
    ("k", W::K, NONE),
    ("s", W::S, NONE),
    ("sec secs second seconds", W::Sec, FILL_ASK_FIT),
    ("min mins minute minutes", W::Min, FILL_ASK_FIT),
    ("m", W::M, Roles::MEASURE),
    ("h hr hrs hour hours", W::Hour, Roles::MEASURE),
    (
        "metre metres meter meters pace paces deg degree degrees ° km kms cm mm mile miles yard yards ft feet foot inch inches am \
         pm oclock degrees watts bpm cal cals kcal calories litre litres liter liters ml g gram \
         grams gb mb pages chapters months years ish pax",
        W::None, Roles::MEASURE,
    ),
    // Sets and repetitions.
    ("set sets serie series", W::Sets, ANY),
    ("round rounds rds", W::Rounds, FILL),
    ("rep reps repetition repetitions", W::Reps, FILL_ASK_FIX),
    ("of", W::Of, ANY),
    ("for", W::For, ANY),
    ("at", W::At, FILL_ASK_FIX),
    ("with", W::With, FILL_ASK),
    ("w", W::Wi, FILL),
    ("on", W::On, ANY),
    ("by", W::By, NONE),
    ("each ea every apiece", W::Each, FILL),
    ("per", W::Per, NONE),
    ("hand hands", W::Hand, NONE),
    ("side sides", W::Side, FILL),
    ("leg legs arm arms", W::Limb, FIT),
    ("both", W::Both, FILL_FIT),
    ("e", W::E, NONE),
    ("l", W::L, NONE),
    ("r", W::R, NONE),
    ("u", W::U, Roles::OTHER),
    ("bw bodyweight bodywt unweighted unloaded", W::Bw, FILL),
    ("body", W::Body, NONE),
    ("weight weights wt", W::Weight, FILL_ASK_FIX),
    ("weighted", W::Weighted, FILL),
    ("assisted assist assistance assistant", W::Assist, FILL),
    ("added extra", W::Add, FILL_ASK),
    ("total altogether", W::Total, FILL_ASK),
    ("plus", W::Plus, FILL),
    ("minus", W::Minus, FILL),
    ("bar", W::Bar, FILL_ASK_FIX),
    ("empty", W::Empty, FILL),
    ("plates plate", W::Plates, NONE),
    ("dumbbell dumbbells db dbs dumbell dumbells", W::Dumbbell, Roles::MOVE.with(FILL)),
    ("twice", W::Twice, FILL),
    // Effort.
    ("rir", W::Rir, FILL_ASK_FIX),
    ("rpe", W::Rpe, FILL_ASK_FIX),
    ("left", W::Left, ANY.with(Roles::SIDE)),
    ("tank", W::Tank, FILL_FIX),
    ("reserve", W::Reserve, FILL_FIX),
    ("in", W::In, ANY),
    ("failure fail", W::Failure, FILL_ASK_FIX),
    ("f", W::F, NONE),
    ("failed failing missed fails", W::Failed, FILL),
    ("could couldve coulda", W::Could, NONE),
    ("couldnt", W::Couldnt, FILL.with(Roles::NEG)),
    ("to", W::To, ANY),
    ("till until til", W::Till, FILL_ASK),
    ("nothing none zilch nowt", W::Nothing, FILL_FIT),
    ("more", W::More, ANY),
    ("spare", W::Spare, Roles::TRADE),
    ("had", W::Had, FILL),
    ("have", W::Have, FILL_ASK_FIT),
    ("maybe probably prob probs perhaps prolly possibly reckon think guess", W::Maybe, ANY),
    ("th st nd rd", W::Th, NONE),
    ("couple", W::Couple, FILL),
    ("all", W::All, ANY),
    ("or", W::Or, ASK_FIX.with(FILL)),
    ("about approx around roughly", W::About, ANY),
    ("be been being", W::Be, ANY),
    ("just", W::Just, ANY),
    ("number no1", W::Number, FILL_FIX),
    // Rest.
    ("after", W::After, FILL_ASK),
    ("rest rested break breather", W::Rest, FILL_ASK_FIT),
    ("resting", W::Resting, FILL_ASK_FIT),
    ("between btw btwn", W::Between, FILL_ASK),
    ("later", W::Later, FILL),
    ("took", W::Took, FILL),
    // Days.
    ("yesterday yesterdays yday yest ystrday", W::Yesterday, NONE),
    ("day days", W::Day, FILL),
    ("ago", W::Ago, Roles::PAST),
    ("last", W::Last, ANY),
    ("night", W::Night, NONE),
    ("week wk weeks wks", W::Week, ASK),
    ("today todays", W::Today, ANY),
    ("morning afternoon evening noon lunch", W::Morning, FILL),
    ("tomorrow tmrw tmr tomo tomoz", W::Tomorrow, Roles::INTENT.with(Roles::PLAN)),
    ("tonight", W::Tonight, Roles::INTENT),
    ("this", W::This, ANY),
    ("before", W::Before, FILL_ASK),
    // Technique and kind of set.
    ("paused pause pauses pausing", W::Paused, FILL),
    ("dropset dropsets", W::Dropset, FILL),
    ("drop drops dropping dropped", W::Drop, FILL_ASK),
    ("superset supersets supersetted superseted ss supersetting", W::Superset, FILL),
    ("super", W::Super, FILL_FIT),
    ("partials partial halves", W::Partials, FILL),
    ("tempo", W::Tempo, FILL),
    ("cluster clusters", W::Cluster, FILL),
    ("warmup warmups wu wus", W::Warmup, FILL),
    ("warm warming warmed", W::Warm, FILL),
    ("up", W::Up, FILL_ASK_FIT),
    ("work working worksets workset worked", W::Work, FILL_ASK),
    // Carry-on.
    ("same ditto", W::Same, FILL_ASK),
    ("again", W::Again, ANY),
    ("another", W::Another, FILL_ASK_FIT),
    ("down", W::Down, FILL_ASK_FIT),
    ("back", W::Back, FILL_FIT_FIX),
    ("then", W::Then, ANY),
    ("now", W::Now, ANY),
    ("and n plus", W::And, ANY),
    ("but tho though although however except apart", W::But, ANY),
    // Asking.
    ("how hows", W::How, ASK),
    ("long", W::Long, FILL_ASK),
    ("longer", W::Longer, ASK_FIT),
    ("many", W::Many, ASK),
    ("much", W::Much, ASK_FIT),
    ("what whats wat", W::What, ASK),
    ("which", W::Which, ASK),
    ("when whens", W::When, ASK.with(Roles::HYPO)),
    ("can", W::Can, ASK),
    ("should shall", W::Should, ASK.with(Roles::HYPO)),
    ("shoulda shouldve", W::Should, FIX.with(Roles::HYPO)),
    ("do", W::Do, ASK.with(FILL)),
    ("am", W::Am, ASK_FIT),
    ("go", W::Go, FILL_ASK_FIT),
    ("going", W::Going, ASK_FIT.with(Roles::INTENT)),
    ("stay stick remain hold", W::Stay, ASK),
    ("keep repeat", W::Stay, ASK.with(FILL)),
    ("heavier bump increase raise", W::Heavier, FILL_ASK),
    ("lighter decrease reduce lower", W::Lighter, FILL_ASK),
    ("next", W::Next, ASK_FIT),
    ("show send gimme give see view display", W::Show, ASK),
    ("load loads", W::Load, FILL_ASK_FIX),
    ("put", W::Put, FILL_ASK),
    ("add", W::AddVerb, ASK),
    ("take", W::Take, ASK_FIX),
    ("off", W::Off, FILL_ASK_FIX),
    ("some bit", W::Some, FILL_ASK_FIT),
    ("need needed", W::Need, ASK_FIT.with(Roles::INTENT)),
    ("enough", W::Enough, FILL_ASK_FIT),
    ("time", W::Time, FILL_ASK_FIT),
    ("still", W::Still, ANY),
    ("yet", W::Yet, ASK_FIT),
    ("volume", W::Volume, ASK),
    ("summary overview recap", W::Show, ASK),
    ("look looks looking", W::Look, FILL_ASK),
    ("is isit", W::Is, ANY),
    ("are r", W::Are, ASK_FIT),
    ("was", W::Was, ANY),
    ("were", W::Was, FIX),
    ("it", W::It, ANY),
    ("its", W::It, ANY),
    ("that", W::That, ANY),
    ("the", W::The, ANY),
    ("there", W::There, FILL_ASK_FIT),
    ("a an", W::A, ANY),
    ("so", W::So, ANY),
    ("behind track lagging", W::Behind, ASK),
    ("where", W::None, ASK),
    ("if would could", W::None, ASK),
    ("nah nope", W::None, ANY),
    ("far", W::Far, ASK),
    ("done", W::Done, FILL_ASK_FIT.with(Roles::SPENT)),
    ("get getting", W::Get, ASK_FIT.with(FILL)),
    ("got", W::Got, DID.with(ASK).with(FIT)),
    ("does", W::Do, ASK),
    ("doing", W::Doing, FILL_ASK),
    ("did", W::Did, DID.with(ASK)),
    ("weigh heavy", W::Heavy, FILL_FIT.with(ASK)),
    ("too", W::Too, ANY),
    ("light", W::Light, FILL_ASK_FIT),
    ("till", W::Till, FILL_ASK),
    ("pls please plz thanks thx ty cheers ta", W::None, ANY),
    ("want wanna hoping hope hopefully wish", W::None, Roles::INTENT),
    ("use wait begin about", W::None, ASK),
    ("say says said", W::None, FIX),
    ("start starting starts", W::Start, ASK.with(FILL)),
    ("try", W::Try, ASK),
    // Readiness.
    ("ready rdy", W::Ready, ASK_FIT),
    ("recovered", W::Ready, ASK_FIT.with(Roles::WELL)),
    ("good fine ok okay okey alright solid great", W::Good, ANY.with(Roles::WELL)),
    ("better", W::Good, FILL_FIT.with(ASK)),
    ("fresh", W::Good, FILL_FIT.with(Roles::WELL)),
    ("out", W::Out, FILL_FIT),
    ("breath breathing breathe", W::Breath, FIT),
    ("blowing puffing panting huffing gasping wheezing", W::Blow, FIT),
    ("winded puffed", W::Blow, FIT),
    ("breathless", W::Breathless, FIT),
    ("cant cannot", W::Cant, FIT.with(Roles::NEG)),
    ("hard", W::Hard, FILL_FIT),
    ("short", W::Short, FILL_FIT.with(ASK)),
    ("less", W::Less, ASK.with(FILL)),
    ("chest", W::Chest, FILL.with(Roles::PLACE)),
    ("gone", W::Gone, FIT.with(Roles::SPENT)),
    ("racing pounding hammering thumping rate settled high", W::None, FIT),
    ("lungs lung wind", W::Lung, FIT),
    ("cardio conditioning", W::Cardio, NONE),
    ("heart pulse heartbeat", W::Heart, FIT),
    ("normal", W::None, FIT.with(Roles::WELL)),
    ("anymore roll", W::None, FIT),
    ("puff", W::Breath, FIT),
    ("gassed", W::Gassed, FILL_FIT.with(Roles::SPENT)),
    ("caught catching catch", W::Catch, FIT),
    ("head heads mind brain focus motivation drive mentally mojo", W::Head, FIT),
    ("psyched fired motivated focused focussed", W::Keen, FIT),
    ("unmotivated", W::Unkeen, FIT),
    ("feel feels feeling felt", W::Feel, FILL_FIT.with(ASK)),
    ("strong", W::Strong, FILL_FIT),
    ("not", W::Not, FIT.with(FIX).with(FILL)),
    ("arent isnt aint", W::Not, FIT),
    ("wasnt", W::Not, FIX),
    ("no", W::No, FILL_FIT_FIX),
    ("fully totally completely absolutely proper properly all-out", W::Fully, ANY),
    ("almost nearly", W::Nearly, FILL_FIT),
    ("quite", W::None, FILL_FIT),
    (
        "fried toast toasted shot cooked smoked torched spent knackered trashed wrecked nuked \
         gone empty jelly destroyed buggered blasted burnt burned",
        W::None,
        Roles::SPENT.with(FIT),
    ),
    ("dead tired exhausted heavy", W::Dead, Roles::SPENT.with(FIT)),
    ("giving slipping", W::Giving, FIT),
    ("burning fire sucking elsewhere clear moment cold", W::None, FIT),
    ("sore soreness doms achy stiff", W::Sore, NONE),
    ("from since", W::From, FILL_ASK),
    ("recovering", W::Recovering, FIT),
    ("back", W::Back, FIT),
    ("returned returning", W::None, FIT),
    ("like", W::Like, FILL_ASK_FIT),
    ("lets", W::None, FILL_FIT.with(ASK)),
    ("really very super pretty properly just only actually definitely deffo def rather", W::None, ANY),
    // Corrections.
    ("undo", W::Undo, FIX),
    ("scratch strike", W::Scratch, FIX),
    ("delete remove cancel ignore erase disregard", W::Remove, FIX),
    ("correction typo correct", W::Correction, FIX),
    ("make", W::Make, FIX),
    ("change edit fix", W::Change, FIX),
    ("meant mean", W::Meant, FIX),
    ("wrong mistake miscounted mistyped misread", W::Wrong, FIX.with(FILL)),
    ("actually", W::Actually, ANY),
    ("sorry", W::Sorry, ANY),
    ("oops whoops woops wait oh ah err er uh um hang my bad", W::None, FILL_FIX.with(FIT)),
    ("one", W::One, ANY),
    ("entry post message msg count counted number bar", W::None, FIX),
    ("instead", W::Instead, FIX.with(Roles::NEG)),
    // Hurt.
    ("pain pains painful", W::Pain, Roles::PAIN),
    ("hurt hurts hurting", W::Hurt, Roles::PAIN),
    ("tweaked tweak tweaking", W::Tweaked, Roles::PAIN),
    (
        "strained sprained tore torn pulled popped popping pop snapped pinched jarred wrenched \
      twisted twinged rolled injured bruised dislocated snap tear snapping tearing rip ripping",
        W::Tweaked, Roles::PAIN,
    ),
    ("twinge twinging niggle niggling pinch pinching spasm spasmed spasming throbbing", W::Pain, Roles::PAIN),
    ("sharp stabbing shooting stinging searing", W::Sharp, Roles::PAIN),
    ("ache aching discomfort", W::Ache, Roles::PAIN),
    ("numb numbness tingling tingly tingles needles", W::Numb, Roles::PAIN),
    ("swollen swelling", W::Swollen, Roles::PAIN),
    ("something", W::Something, FILL),
    ("killing", W::Killing, Roles::PAIN),
    ("threw", W::Threw, Roles::PAIN),
    ("gave", W::Gave, FILL_FIT.with(Roles::PAIN)),
    ("went", W::Went, FILL_FIT.with(Roles::PAIN)),
    ("elsewhere", W::Elsewhere, FIT),
    ("fire", W::Fire, FIT),
    ("tight tightness pressure tightening squeezing", W::Tight, NONE),
    (
        "dizzy dizziness lightheaded woozy faint fainted fainting palpitations nauseous nausea \
      vertigo giddy disoriented seizure convulsions",
        W::Symptom, NONE,
    ),
    ("headed", W::Headed, NONE),
    ("headache migraine", W::Headache, NONE),
    ("saddle", W::Saddle, NONE),
    ("passed blacked passing blacking pass", W::PassedOut, NONE),
    ("collapsed collapsing collapse keeled buckled", W::Collapsed, NONE),
    ("conscious consciousness unconscious", W::Conscious, NONE),
    ("spinning", W::Spin, NONE),
    ("blood", W::Blood, NONE),
    ("seeing", W::Seeing, FILL),
    ("saw", W::Seeing, NONE),
    ("stars spots", W::Stars, NONE),
    ("vision", W::Vision, NONE),
    ("urine pee wee piss", W::Urine, NONE),
    ("bladder bowel bowels", W::Bladder, NONE),
    ("dark cola brown coloured colored black blurry", W::Dark, NONE),
    ("ouch ow oww owww", W::Ouch, FILL),
    ("right", W::Right, FILL_FIT.with(Roles::SIDE)),
    ("upper mid middle inner outer front rear lower", W::None, Roles::SIDE),
    (
        "shoulder shoulders elbow elbows wrist wrists knee knees hip hips back neck groin \
         hamstring hamstrings hammy hammies ham quad quads calf calves ankle ankles chest pec pecs \
         bicep biceps tricep triceps forearm forearms finger fingers thumb hand hands foot feet toe \
         toes rib ribs shin shins achilles glute glutes adductor adductors abductor spine trap \
         traps lat lats delt delts cuff jaw arm arms leg legs tendon tailbone sternum collarbone \
         abdomen stomach oblique obliques abs si ac piriformis bum butt",
        W::None, Roles::PLACE,
    ),
    // What a set is not.
    (
        "chasing chase eyeing towards toward gonna gunna thinking considering will wont ll tryna gotta try trying attempt attempting aim aiming aims planning \
         intend intending supposed scheduled programmed prescribed needs must soon someday \
         eventually upcoming",
        W::None, Roles::INTENT,
    ),
    (
        "challenge test target targets targeting goal goals plan plans planned program programme programmes \
         programs template schedule menu todo prescription sheet spreadsheet",
        W::None, Roles::PLAN,
    ),
    (
        "mondays tuesdays wednesdays thursdays fridays saturdays sundays example examples eg format \
         imagine usually normally always daily weekly typically generally often sometimes if could shoulda coulda woulda would might may unless imagine dream dreaming dreamt \
         suppose couldve shouldve wouldve bet",
        W::None, Roles::HYPO,
    ),
    (
        "injury surgery accident ever best old school uni university college years year season seasons lifetime alltime \
         formerly former history previously previous youth junior rm 1rm max maxes maxed",
        W::None, Roles::PAST,
    ),
    (
        "dont didnt doesnt cant cannot never skip skipped skipping havent hasnt wouldnt shouldnt \
         chickened chickening bailed bailing cancelled",
        W::None, Roles::NEG,
    ),
    (
        "sale selling sell sold buy buying bought price priced cost costs borrow lend lent lost \
         found lot order ordered ordering delivery deliver delivered store shop shopping euro \
         euros quid bucks eur usd gbp pay paid pays deposit fee ticket tickets rent rental repair \
         repaired broken replace replaced install installed taken free available booked \
         booking reserved swap queue",
        W::None, Roles::TRADE,
    ),
    (
        "erg ergs ergo rowing rowed boat boats regatta cox coxed scull sculls sculling oar oars \
         eight fours quads pairs sprint sprints interval intervals split splits rate stroke \
         strokes watts ran swam swim jog jogged relay lap laps piece pieces steady ut2 ut1 river lake pontoon lightweight",
        W::None, Roles::ROWING,
    ),
    ("club playlist notebook room rooms hotel dinner bus train parking wifi password office", W::None, NONE),
    // Having done it.
    (
        "hit hits made managed finished completed pulled pushed lifted repped benched squatted \
         pressed rowed curled deadlifted banged smashed crushed ground grinded cranked nailed \
         knocked logged posted performed moved ripped blasted",
        W::Did2, DID,
    ),
    ("lifts lift squats benches deadlifts presses rows curls", W::None, Roles::DID),
    ("do doing", W::None, FILL),
    // Movements and machines, known to the catalogue or not.
    (
        "machine machines cable cables barbell bb kettlebell kettlebells kb press presses \
         pull pulls row rows curl curls raise raises squat squats lunge lunges fly flye flyes flys \
         extension extensions ext pulldown pulldowns pushdown pushdowns pullover pullovers \
         deadlift deadlifts thrust thrusts bridge bridges crunch crunches twist twists carry \
         carries swing swings snatch clean jerk kickback kickbacks sled dip dips kick kicks \
         complex walkout rotation rotations abduction adduction thruster thrusters",
        W::None, Roles::MOVE,
    ),
    (
        "smith deficit box pin ssb cambered \
         banded sissy pistol cossack landmine seal gorilla renegade copenhagen sumo \
         guillotine hex axle log yoke sandbag atlas farmer farmers suitcase snatch-grip \
         kneeling pendulum kneel ring rings towel plyo jump jumping single \
         reverse wide-grip behind overhead seated standing incline decline hanging",
        W::None, Roles::VARIANT,
    ),
    (COMMON, W::None, FILL),
    (COMMON_FIT, W::None, FILL_FIT),
    (COMMON_FIX, W::None, ANY),
    (NEUTRAL, W::None, NONE),
];

/// Words with a number: numerals, ordinals, weekdays (Monday is 0).
pub(crate) const NUMBERS: &[(&str, W, u8, Roles)] = &[
    ("zero", W::Numeral, 0, FILL_FIX),
    ("nil", W::Numeral, 0, NONE),
    ("one", W::One, 1, ANY),
    ("two", W::Numeral, 2, FILL_FIX),
    ("three", W::Numeral, 3, FILL_FIX),
    ("four", W::Numeral, 4, FILL_FIX),
    ("five", W::Numeral, 5, FILL_FIX),
    ("six", W::Numeral, 6, FILL_FIX),
    ("seven", W::Numeral, 7, FILL_FIX),
    ("eight", W::Numeral, 8, FILL_FIX),
    ("nine", W::Numeral, 9, FILL_FIX),
    ("ten", W::Numeral, 10, FILL_FIX),
    ("eleven", W::Numeral, 11, FILL_FIX),
    ("twelve", W::Numeral, 12, FILL_FIX),
    ("thirteen", W::Numeral, 13, FILL_FIX),
    ("fourteen", W::Numeral, 14, FILL_FIX),
    ("fifteen", W::Numeral, 15, FILL_FIX),
    ("sixteen", W::Numeral, 16, FILL_FIX),
    ("seventeen", W::Numeral, 17, FILL_FIX),
    ("eighteen", W::Numeral, 18, FILL_FIX),
    ("nineteen", W::Numeral, 19, FILL_FIX),
    ("twenty", W::Numeral, 20, FILL_FIX),
    ("thirty", W::Numeral, 30, FILL_FIX),
    ("forty", W::Numeral, 40, FILL_FIX),
    ("fourty", W::Numeral, 40, FILL_FIX),
    ("fifty", W::Numeral, 50, FILL_FIX),
    ("sixty", W::Numeral, 60, FILL_FIX),
    ("seventy", W::Numeral, 70, FILL_FIX),
    ("eighty", W::Numeral, 80, FILL_FIX),
    ("ninety", W::Numeral, 90, FILL_FIX),
    ("hundred", W::Hundred, 100, FILL_FIX),
    // Sets by their repetitions: `a triple`, `three fives`.
    ("single", W::RepNoun, 1, NONE),
    ("singles", W::RepNoun, 1, FILL),
    ("double", W::RepNoun, 2, NONE),
    ("doubles", W::RepNoun, 2, FILL),
    ("triple", W::RepNoun, 3, NONE),
    ("triples", W::RepNoun, 3, FILL),
    ("twos", W::RepNoun, 2, FILL),
    ("threes", W::RepNoun, 3, FILL),
    ("fours", W::RepNoun, 4, FILL),
    ("fives", W::RepNoun, 5, FILL),
    ("sixes", W::RepNoun, 6, FILL),
    ("sevens", W::RepNoun, 7, FILL),
    ("eights", W::RepNoun, 8, FILL),
    ("nines", W::RepNoun, 9, FILL),
    ("tens", W::RepNoun, 10, FILL),
    ("elevens", W::RepNoun, 11, FILL),
    ("twelves", W::RepNoun, 12, FILL),
    ("thirteens", W::RepNoun, 13, FILL),
    ("fourteens", W::RepNoun, 14, FILL),
    ("fifteens", W::RepNoun, 15, FILL),
    ("sixteens", W::RepNoun, 16, FILL),
    ("seventeens", W::RepNoun, 17, FILL),
    ("eighteens", W::RepNoun, 18, FILL),
    ("nineteens", W::RepNoun, 19, FILL),
    ("twenties", W::RepNoun, 20, FILL),
    ("couple", W::Couple, 2, FILL),
    ("first", W::Ordinal, 1, FILL_FIX),
    ("third", W::Ordinal, 3, FILL_FIX),
    ("fourth", W::Ordinal, 4, FILL_FIX),
    ("fifth", W::Ordinal, 5, FILL_FIX),
    ("sixth", W::Ordinal, 6, FILL_FIX),
    ("seventh", W::Ordinal, 7, FILL_FIX),
    ("eighth", W::Ordinal, 8, FILL_FIX),
    ("ninth", W::Ordinal, 9, FILL_FIX),
    ("tenth", W::Ordinal, 10, FILL_FIX),
    ("eleventh", W::Ordinal, 11, FILL_FIX),
    ("twelfth", W::Ordinal, 12, FILL_FIX),
    ("mon", W::Weekday, 0, NONE),
    ("monday", W::Weekday, 0, NONE),
    ("mondays", W::Weekday, 0, NONE),
    ("tue", W::Weekday, 1, NONE),
    ("tues", W::Weekday, 1, NONE),
    ("tuesday", W::Weekday, 1, NONE),
    ("tuesdays", W::Weekday, 1, NONE),
    ("wed", W::Weekday, 2, NONE),
    ("weds", W::Weekday, 2, NONE),
    ("wednesday", W::Weekday, 2, NONE),
    ("wednesdays", W::Weekday, 2, NONE),
    ("thu", W::Weekday, 3, NONE),
    ("thur", W::Weekday, 3, NONE),
    ("thurs", W::Weekday, 3, NONE),
    ("thursday", W::Weekday, 3, NONE),
    ("thursdays", W::Weekday, 3, NONE),
    ("fri", W::Weekday, 4, NONE),
    ("friday", W::Weekday, 4, NONE),
    ("fridays", W::Weekday, 4, NONE),
    ("sat", W::Weekday, 5, NONE),
    ("saturday", W::Weekday, 5, NONE),
    ("saturdays", W::Weekday, 5, NONE),
    ("sun", W::Weekday, 6, NONE),
    ("sunday", W::Weekday, 6, NONE),
    ("sundays", W::Weekday, 6, NONE),
];

/// Harmless beside a set: how it went, what was worn, the state of the lifter and of the room.
const COMMON: &str = "\
easy hard tough brutal rough slow slower fast faster quick nice smooth crisp ugly clean cleaner \
grindy grind grinding grinder grinders shaky wobbly sloppy messy flew fly came went goes come \
moved moving speed snappy bouncy tidy spicy nasty horrible awful terrible decent okayish meh \
killer brutal beast beastly monster huge massive lovely sweet happy proud pleased chuffed \
surprised amazing awesome epic insane mad crazy wild savage filthy lads woo woohoo wow boom bang \
yay yeah yep yes yup aye hell damn bloody fucking effing fuck shit crap goddamn god jesus christ \
omg ffs wtf lol lmao rofl haha hahaha hehe heh ha ugh phew pfft hmm mm mhm yo hey hi hello \
morning finally today session workout training trained train gym lifting lift lifted block wave \
pb pr pbs prs record records personal new lifetime reps rep top backoff backoffs downset feeder \
opener opening main accessory accessories update result results report final closing finisher burnout amrap straight light heavy heaviest lightest \
first second third start started starting finish finished end ended ending belt belted beltless \
survived conquered used straps strapped sleeves wraps wrapped chalk chalked shoes heels barefoot socks grip grips wide \
narrow close neutral overhand underhand supinated pronated mixed hook stance high low deep \
depth deeper full range rom touch touched chest ass grass atg eccentric eccentrics negative \
negatives controlled control form technique tech spotter spotted spot unspotted solo seat pin \
notch hole setting setup rack racks angle foot feet hands elbows knees stack machine cable bench \
strict cheated cheating cheat momentum squeeze squeezed stretch stretched pump pumped pumping \
burn burns burning sweaty sweat sweating hot cold room heat music focus energy sleep slept \
sleepy coffee caffeine breakfast food eaten ate fasted cut cutting bulk bulking deload \
technical weird odd different familiar usual normal standard same similar few lot lots \
least most over under around about approx approximately roughly ca circa near exactly else \
because cos cuz since as than also too even well right there here where while during into onto \
onwards through thru away along together without within against everything anything thing \
things stuff way much many little less better best bad worse worst worth sure cool perfect \
beautiful not no any been being be were had has have having these those one's only total \
double triple single pair pairs round rounds number numbers count counting counted got \
sticky stuck sticking lockout locked bar path hips position tall short weak weaker stronger \
strongest legs calls call called shows shown show posting post posts forgot forget forgotten \
missed late early again today's it'd thats felt feels feel was is did done do made make \
comfortable comfortably uncomfortable honest honestly tbh imo ngl fyi btw guess reckon suppose \
plenty easily barely hardly basically literally kinda sorta somewhat abit slight slightly more \
up down off on out in at to by of for from with and or but so then if'n plus minus last previous \
next'd beat matched match another extra added changing added adding jump jumped \
increase increased reset finally nailed joy relief rusty jetlagged hungover tired sluggish \
flat fresh sharp good great ok okay fine alright aight solid strong x xx";

/// Harmless beside a word on readiness.
const COMMON_FIT: &str = "\
yes yeah yep nope ok let lets go sec moment minute tho though haha lol ugh phew today tonight \
man boy god damn bloody bit little totally fully already finally feeling hard heavily steam \
engine train whale horse freight god here be been quite as well too lot gimme give gotta another \
couple one two more few sec secs start started everything body whole set last those these the \
hit went after mentally physically minutes guess think just yet at all really everything all";

/// Harmless beside a correction.
const COMMON_FIX: &str = "oh ah oops sorry pls please wait hang lol haha bad my mate thx \
nvm nevermind forget";

/// Ordinary words of chat that look like slips of a name, or like part of one, and are neither.
const NEUTRAL: &str = "\
tried \
beach branch bunch bend bent bread wench wrench benches trench bench's french quench launch \
lunch lunches hunch punch punches crunchy squad squads squid squash square squares squatter \
press pressed pressing dress dressed cress express pressure rose rope rope's road rod raw bow \
low cow mow sow tow crow grow throw rowdy bow curly cure cured cut curb cult call hurl girl \
deadline deadlines deadly dread headline shred lunge lounge plunge lung lungs luge dip dig dim \
did deep ship chip chips chin china shin skin chain chair cheap chop shrug drug shrub rug bug \
face faces fact fast race race's pace place fall pull full bull hull pulley polls pill puller \
hip hop help hips ship shop thrust trust thrash thirst cable table tables fable able case cabin \
leg log lag led legend pee peck pet pen pack deck desk neck dock duck week weak preacher teacher \
reach reacher hammer hamster hummer summer hamper lateral literal later rear year bear fear gear \
ear real read ready raised rise rice rate race good food mood wood goods morning mornings mourn \
front font frond split spilt splits spit step stop steps steep stem stair stairs wall walk \
walks talk chalk half calf calm cat chest chess cheat crest crust back pack black bank bake \
bike hack hacked hike lack sack jack tack overhead overheard incline inline recline decline \
machine magazine matches match marine medicine push bush rush pushy pusher sit site sits city \
plank plan planks blank thank tank wheel whole wheat wheels wrist list lists twist waist writ \
trap trip tramp wrap strap bar car far bat bag bad ban tar var glute flute flutes bridge ridge \
bride fridge crossover cross across close chosen floor flour flood door poor cool pool tool \
board bored hard yard card cord word world dumb thumb bumper bell belle tell sell bill ball \
swing swim wing swung string spring goblet goblin couplet pistol piston hexagon hero zero \
around row rows roe rowan roman romania bulgaria bulgarian nordic nordics sumo sum arm \
barn carry curry marry carrot step-dad raisin raising praise braised raises good-bye cleaner";

/// Given names: the subject of "NAME hit 100x5". Names that are also words of the floor (`rob`,
/// `mark`, `will`, `jack`) are left out.
const GIVEN_NAMES: &str = "\
mara tom thomas tim timothy anna anne ann ana hanna hannah jonas lena lina leon luca lukas lucas \
luke paul paula peter pete petra sara sarah sophie sofia sophia emma emily mia mila ella elena \
helen helena maria marie mary martha marta martin martina max'd maxim michael mike mick mikey \
michelle nick nicholas nicola nina nora nadia natalie nathan noah olivia oliver ollie oscar otto \
patrick paddy philip phil pia rachel rebecca becca becky robert robin roger rosa ruth ryan sam \
samuel samantha sandra sean shaun simon sonja stefan stephen steven steve stella susan susanne \
sven tanja tara theo tina tobias toby tony ursula vera victor viktor vicky victoria walter yuki \
yusuf zoe alex alexander alexandra ali alice alina amir amy andre andrea andreas andrew andy \
angela anja anton arthur astrid ben benjamin bernd bert bianca bjorn bob bruno carl carla carlos \
carol caroline charlie charlotte chloe chris christian christina claire clara claudia daniel \
danny dave david debbie deniz dennis diana dirk dominic doris dylan eddie edward elias elif \
elisabeth elizabeth ellen eric erik erika ethan eva evan felix finn fiona florian frances frank \
franz fred freda freya fritz gabi george georgia gerd greg greta gustav hans harry hassan heidi \
henrik henry holly hugo ian ida igor ina ines ingrid irina isabel isla ivan ivo jacob jakob james \
jamie jan jana jane janina jason jasper jenny jens jessica jim jimmy joanna joe joel johan \
johanna johannes john johnny jon jonathan jordan jorge josef joseph josh joshua juan judith julia \
julian julie jutta kai karen karim karin karl katharina kate katie kathrin katja kay keith kevin \
kim kirsten klaus kristin lara lars laura lea leah leo lewis liam linda lisa liv lizzy lola \
lorena lotta louis louise lucia lucy luis lydia maja malte manuel marc marco marcus margaret \
marion markus mathias matilda matt matthew maya mehmet melanie mohammed monika moritz nico niels \
niklas nils oskar owen pablo pascal pedro priya rafael ralf raj ravi rene ricardo rita robbie \
ronny sabine sandy sanjay sascha sebastian silke silvia sina sonia suki tariq tess thea thorsten \
till's torben udo ulf ulrich uwe valentina vanessa wanda wendy werner wolfgang xavier yasmin yan \
zara zac zach odette ottilie bram wout joris femke sanne maarten piet tomasz ewa agata jarek \
dan ross hank kirk jose brent boris rick kris cory corey cody jody bridget kyle brad chad zack \
abby steph kelly gary barry darren craig stuart lauren megan gemma heather leon mo omar \
kasia magda piotr wojtek aoife niamh saoirse ciaran siobhan conor declan";
