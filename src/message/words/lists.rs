//! The words and phrases of each concept, as flat lists: no logic here.
//!
//! A star stands for any ending. The longest phrase wins over its words. Apostrophes are cut before
//! a word is looked up: `can't` is `cant`, `knee's` is `knee`.

use super::concept::Concept::{self, *};

/// Lists of words with what each stands for.
#[rustfmt::skip]
pub(super) const LISTS: &[(&[Concept], &str)] = &[
    // Places.
    (
        &[Joint],
        "shoulder, shoulders, shoulderblade*, elbow, elbows, wrist, wrists, knee, knees, hip, hips, ankle, ankles, jaw, jaws, kneecap*, patella*, rotator cuff*, \
         rotator*, ac joint, acl, mcl, pcl, lcl, meniscus, labrum, sacroiliac, si joint, big toe joint, \
         knuckle*, joint, joints, thumb joint, cuff, achilles, achillies, achilies, shoulderblade*, \
         shoulder blade*, delt, delts, tfcc, ucl, it band, itb, scapula*, hip flexor*, cartilage*, ligament*, ligs",
    ),
    (
        &[Back],
        "back, spine, disc, discs, \
         vertebra*, sciatic*, lats, lat, trap, traps, rhomboid*, ql, spinal",
    ),
    (
        &[Back, OwnBack],
        "lower back, upper back, mid back, low back, middle back, lumbar, tailbone, coccyx, lower bak, lowerback, sacrum, ql",
    ),
    (
        &[Back, OwnBack, Injury],
        "hurt my back, hurt me back, tweaked my back, pulled my back, strained my back, put my back out, threw my back out, threw my back, thrown my back out, did my back in, done my back in, did my back, done my back, back went out, my back out",
    ),
    (&[Back, OwnBack, My], "my back, my bak, me back, ma back, my spine"),
    (&[Neck], "neck, necks, cervical, nape"),
    (&[Head], "head, skull, temple, forehead, noggin, me head, bonce, noggen, scalp, nut, brain"),
    (
        &[Face],
        "face, cheek, smile, eyebrow, eyelid, one side, side of my body, half my body, corner of my mouth, half of my face, left side, right side, whole side, side of my face, side of the face",
    ),
    (&[Throat], "throat, tongue, lips, lip, mouth, airway*, windpipe"),
    (&[Eyes], "eye, eyes, vision, sight, eyesight, pupils, seeing, visual"),
    (
        &[Chest],
        "chest, breastbone, sternum, rib cage, ribcage, behind the ribs, breast bone, behind my ribs, cheast, ches, chst",
    ),
    (&[HeartAttack], "heart attack, heart attacks, cardiac arrest, angina, heart failure"),
    (
        &[Heart],
        "heart, hearts, pulse, heartbeat*, heart beat, hr, ticker, heart rate, resting pulse, heartrate, resting hr, hart, bpm",
    ),
    (
        &[Limb],
        "arm, arms, leg, legs, limb, limbs, whole arm, whole leg, down my arm, down my leg, forearm*, thigh*, upper arm",
    ),
    (
        &[Hand],
        "hand, hands, foot, feet, finger*, toe, toes, thumb*, palm, palms, heel*, sole, pinky, pinkie, \
         instep, big toe, little finger, ring finger, arch, plantar*, grip",
    ),
    (&[Calf], "calf, calves, calfs, lower leg, behind the knee, behind my knee, shin, shins, soleus"),
    (
        &[Muscle],
        "quad, quads, hamstring*, hammy, hammie*, hammies, ham, hams, bicep*, tricep*, pec, pecs, glute*, \
         adductor*, abductor*, muscle*, tendon*, core, abs, ab, obliques, oblique, bum, butt, buttock*, bum cheek, piriformis, \
         forearms, delts, hamstrng, pectoral*, inner thigh, serratus, nerve, nerves, tendinitis, tendonitis, tendinopathy",
    ),
    (
        &[Belly],
        "groin, stomach, tummy, belly, abdomen, guts, gut, hernia, lower tummy, pelvis, bollock*, testicle*, kidney*, flank, stitch",
    ),
    (
        &[Saddle, Belly],
        "between my legs, between the legs, down there, saddle, undercarriage, inner thighs, private parts, privates, genitals, \
         perineum, crotch, when i wipe, nether regions, where i sit, bits down below, down below, sit bones",
    ),
    (
        &[Bone],
        "bone, bones, rib, ribs, collarbone*, collar bone*, clavicle, tibia, fibula, radius, ulna, femur, humerus, metatarsal*, \
         nose, tooth, teeth, chin, ear",
    ),
    (&[Skin], "skin, nail, nails, callus*, blister*, skin off"),
    (&[Side], "left, right, both, rite, lt, rt, l, r, one sided, same side"),
    (&[Body], "body, insides, inside, everything"),
    // Complaints.
    (
        &[Pain],
        "pain, pains, painful*, pained, paining, pian, paine, hurt, hurts, hurting, hurtin, hert, hurtz, huert, ache, aches, aching, achey, achy, ached, achin, agony, ow, oww, ouch, owie, owwie, \
         ouchie, killing, excruciating, discomfort, smarts, in bits, in agony, throb*, tender, bothers, bothering, bothered, bother, sciatica, \
         shin splint*, tennis elbow, golfers elbow, golfer elbow, jumpers knee, runners knee, dolor, duele, dolore, mal au, schmerz*",
    ),
    (
        &[Sharp, Pain],
        "sharp, stab, stabs, stabby, stabbing, stabbed, stabby, shooting, shoots, shot up, stinging, stings, sting, searing, burning pain, twinge*, twinging, niggle*, niggling, niggly, nigly, \
         pinch, pinched, pinches, pinching, pinchy, jab, jabbing, zing, zaps, zap, zapped, electric shock*, like a needle, like a knife, hot needle, hot knife, like a nail, pang, pangs, knife, needle, catches, catching",
    ),
    (
        &[Grumble],
        "cranky, dodgy, dodgey, dodge, iffy, ropey, ropy, angry, grumpy, grumbl*, moan*, complain*, unhappy, not happy, aint happy, isnt happy, playing up, acting up, \
         play up, played up, flared up, flare up, flaring up, flares up, flaring, flared, giving me grief, giving me gip, giving me jip, gip, gyp, jip, giving me trouble, giving me bother, giving me hell, \
         giving me stick, screaming, says no, said no, says nah, said nah, not right, doesnt feel right, dont feel right, isnt right, feels off, feels wrong, not feeling right, feels weird, feels funny, feels odd, feel weird, is off, wonky, \
         gammy, knackered, buggered, banjaxed, fucked, effed, messed up, jacked up, dicky, tricky, gone again, kicking off, has gone, talking to me, nag, nags, nagging, niggled, irritat*, inflamed, cheesed, crunchy, \
         grinding, clunky, clunk, clunks, clicky, clicks, clicking, creak*, gravel, shonky, janky, wrecked, no bueno, bad shape, wonkey, touchy, temperamental, aggravat*, irked, cross with me, protesting, protests, barking, tweaky, twingey, pissed off, sulking, \
         not having it, hates, is back, bad again, acting weird, acting funny, in a mood, in a strop, had enough, is toast again, bites, barked, annoying me, annoyed, worse, worsened, getting worse",
    ),
    (
        &[Injury],
        "injured, injury, injure*, injuries, hurted, did smth, did a number, done my, done me, did my, did me, did in, done in, tweak*, strain, strained, straining, \
         sprain*, pulled, pull, pulling, tore, torn, tears, rolled, twisted, jammed, wrenched, jarred, yanked, dislocat*, sublux*, slipped disc, slipped a disc, herniat*, bulging, threw my, thrown my, threw out, put out, put my back out, put my back, back out, went out, \
         crick, cricked, whiplash, impinge*, impingement, overdid, stubbed, squashed, squished, crushed, trapped, trapped nerve, torn my, busted, bust, buggered up, screwed up, messed, tendonitis, tendinitis, bursitis, fasciitis, tweeked, twinged, \
         hurt it, hurt my, hurt me, hurt the, hurt again, re injured, reinjured, blown, blew, blew out, blew my, popped my, pulled my, wrecked my, stress fracture*, ruptur*, sprung, ricked, put it out, mangled",
    ),
    (
        &[Hurt, Injury],
        "hurt myself, hurt meself, hurt me self, injured myself, injured meself, im injured, am injured, got injured, ive injured, picked up an injury, picked up a knock, done myself, did myself, mischief, pulled something, pulled summat, pulled smth, pulled sth, tweaked something, tweaked smth, tweaked summat, strained something, strained smth, tore something, something popped, something snapped, something tore, something went, something gave, something pinged, something twanged, something ripped, \
         summat went, smth went, smth popped, summat popped, felt something go, felt something pop, felt something snap, felt something tear, felt summat go, felt a pop, felt a snap, felt a tear, felt a rip, felt a ping, felt a twang, felt a crack, heard a pop, heard a snap, heard a crack, something not right, something isnt right, somethings not right, something is not right, something wrong with my, in pain, in agony, crocked, got hurt, i hurt, did something to my, done something to my, did something to me, done something to me",
    ),
    (
        &[Hurt, Injury, Sharp, Pain],
        "sharp pain*, stabbing pain*, shooting pain*, stinging pain*, searing pain*, piercing pain*",
    ),
    (
        &[Sound],
        "pop, pops, popped, popping, snap, snaps, snapped, snapping, crack, cracked, cracking, crunch, crunched, crunches, ping, pinged, twang, twanged, tear, tearing, tore, rip, ripped, ripping, \
         tugged, tugging, tug, tweak, jolt, jerked, clunk, clunked, noise, gave a crack, grab, grabbed, grabs, grabby, slid, shifted, slipped, slips, seized, sproing, boing, clicked, knack, spasmed",
    ),
    (
        &[Something],
        "something, smth, smthn, smthing, sth, summat, somethin, sumthin, sumthing, sumfin, somefing, somthing, thingy, thing, one of them, a bit of me",
    ),
    (&[Went], "went, gone, go, goes, going, gave, let go, went pop, goes pop, gone pop"),
    (
        &[Buckled],
        "buckle*, buckling, gave way, gives way, giving way, give way, gave out, gives out, giving out, gave on me, gave out on me, unstable, wobbles, collapsed under, collapses under, folded, wont hold me, cant hold me",
    ),
    (
        &[Swollen],
        "swell*, swollen, swolen, swole up, swoll*, puffy, puffed up, ballooned, balloon, blown up, blew up, the size of, size of a, twice the size, fat, lump, bump, bulge, egg, puffing up, massive, huge, bigger than the other, bigger than",
    ),
    (
        &[Locked],
        "stiff, stiffness, locked, locks, locking, locked up, seized up, seized, spasm*, cramp*, lock up, tightened, tightens, like a board, made of glass, wont turn, wont bend, wont straighten, wont move, stuck",
    ),
    (
        &[Unable],
        "cant, cannot, can not, couldnt, couldn, unable, wont, can barely, barely, cudnt, can hardly, hardly, struggling to, struggle to, impossible, doesnt bend, no longer, difficult to, trouble, wouldnt, cnt, caint, can t, cant even, not able",
    ),
    (
        &[Moves],
        "lift, raise, raised, move, bend, straighten, turn, walk, grip, hold, reach, close, make a fist, stand, sit, stand up, sit down, get up, rotate, extend, flex, put weight on, weight on, bear weight, \
         overhead, above my head, over my head, above head, above shoulder height, shoulder height, lift it, put any weight, range of motion, rom, full range, straight, twist, carry, press, push, put my socks on, tie my, laces, raise it",
    ),
    (
        &[Limp],
        "limp, limps, limped, limping, hobbl*, crutch*, splint, sling, in a cast, in a boot, brace, stitches, waddl*, walking like, walk like, cripple*",
    ),
    (&[Sore], "sore, soreness, tender, sorer, bruisy, sensitive"),
    (
        &[Numb],
        "numb, numbness, tingl*, pins and needles, pins n needles, pin and needles, buzzing, fizzing, fizzy, no feeling, lost feeling, lost the feeling, lost all feeling, cant feel, no sensation, asleep, gone to sleep, \
         feeling in my, felt nothing, feel nothing, numbing, numbed, dead arm, dead leg, cant feel my, prickl*, pin prick, went to sleep, gone dead, went dead, like cotton wool, stinger, burner, foot drop, tingley, dont feel",
    ),
    (
        &[Weak],
        "weakness, gone weak, went weak, feels weak, bit weak, so weak, no strength, no power, floppy, flopped, flops, flop, keep dropping, dropping things, drops things, dropped my phone, dropped the phone, wont work properly, wont work, wont do what, not working, doesnt work, wont respond, paralys*, paralyz*, wont lift, wont obey, doesnt obey, not obey, slaps, slaps the floor, useless, like wet string, wont come up, dont come up, simply not obey, opens itself, cant hold the bar, cant hold a pen, cant make a fist, doesnt do what, does what its told, not mine, like not mine, hangs, nothing happens, nowt happens, wont wake, arent waking, wont close, went off like a lamp",
    ),
    (&[Dead, Doms], "dead, heavy as lead, like lead, heavy, lifeless"),
    (&[Blood], "blood, bled, bleed, bleeds, bleeding, bloody, haemorrhag*, hemorrhag*"),
    (
        &[Wound],
        "cut, cuts, gash*, graze*, grazed, scrape, scraped, scraping, skinned, slice*, split, flap, wound, bruise*, bruised, bruising, black and blue, ripped open, torn open, open, purple, gone black, scuffed, stitches, sliced",
    ),
    (&[Broke], "broke, broken, break, fracture*, fractured, brake, shattered"),
    (
        &[Deformed, Broke],
        "bent wrong, bent the wrong way, wrong way, sideways, sticking out, sticking up, stands out, stands up, out of place, out of joint, out of socket, out of its socket, out the socket, popped out, pops out, came out, slid out, funny angle, weird angle, odd angle, wrong angle, at an angle, \
         bent backwards, poking out, looks wrong, looks bent, crooked, dislocated, misshapen, deformed, wrong shape, bone showing, see bone, the bone, heard it break, heard it crack, heard a crack, heard it snap, hanging off, not where it should, in the wrong place, pointing, out of line, looks deformed, step in it, tent pole, under the skin, on backwards, wrong direction, moved house, looks like a fork, like a fork, side of my leg, s shape, is bent, got a bend, a bend in it",
    ),
    // Signs.
    (
        &[Fainted],
        "faint, fainted, fainting, fainter, passed out, pass out, passing out, passes out, blacked out, black out, blacking out, blackd out, greyed out, greying out, grayed out, grey out, collapsed, collapse, collapsing, out cold, unconscious, \
         lost consciousness, lose consciousness, losing consciousness, came round, came around on the, woke up on the floor, woke on the floor, woke up on the ground, woke up in the, woke up between, woke up under, woke up lying, woke up to, came to on, came to with, came to and, came to looking, hit the deck, kissed the floor, \
         knocked out, got ko, kod, keeled over, keel over, keeling over, woke up with my, woke up w, everything went black, all went black, it went black, went black, lights went out on me, lights out for me, out for a few seconds, out for a second, out for ten, out a few seconds, \
         next thing i know, next thing i knew, next thing im, next thing i remember, next thing i was, was gone for a second, was gone for a moment, away for a moment, conked out, sparked out, knees folded, legs folded, folded like, everything went dark, went all black, everything went white, everything went grey, went dark, went white, \
         looking at the ceiling, looking at ceiling, remember is the ceiling, staring at the ceiling, out on the floor, flat on the floor, slid down the wall, slid down the rack, lost a few seconds, lost a minute, missing a few seconds, dont remember falling, went down like, dropped like, legs went from under, syncope, was out about, was out for, i was out, flaked out, crumpled, out like a light, nearly went, almost went, nearly went over, i went down, dropped to the floor",
    ),
    (
        &[Dizzy],
        "dizz*, disy, dizy, dizzi*, lightheaded*, light headed*, light head, woozy, wozzy, wooziness, swimmy, head spin*, head is spin*, heads spinning, head spinning, head was spinning, room spin*, room is spin*, room was spin*, room started spin*, room keeps spin*, room is tilting, room tilted, room is moving, room wont stop, everything spin*, everything is spin*, everythings spin*, everything was spin*, world spin*, world is spin*, world tilted, \
         seeing stars, saw stars, see stars, seing stars, little stars then, stars before my eyes, stars in front of, vertigo, giddy, off balance, unsteady, spacey, spaced out, light headness, head rush, head rushing, headrush, black spots, black dots, white spots, sparkles, sparkly, headspin, everything wobbly, everything is moving, everythings wobbly, floor is moving, floor moved, floor tilting, ground moving, ears ringing, grey round the edges, black round the edges, black at the edges, grey at the edges, darkness at the edges, see black, everything fuzzy, went fuzzy, went grey, all grey, sounds far away, sounds all far away, sounds miles off, wobble lads, bit of a wobble, unsteady on my feet, cant stand straight, cant walk straight",
    ),
    (
        &[Dimmed],
        "tunnel vision, vision went, vision goes, vision gone, vision is going, vision narrow*, vision black, vision grey, vision going, vision blurred, vision is blurred, vision blurry, blurr*, blury, double vision, seeing double, saw double, everything doubled, everythings doubled, everything double, seeing two, two of everything, three of everyone, all double, plates double, bars double, lost sight, lost vision, lost my sight, lost my vision, lost my eyesight, lost half, \
         cant see properly, cant see out of, cant see right, cant see anything, cant see straight, couldnt see, half my vision, went blurry, curtain came, curtain down, curtain over, zigzag*, flashing lights, flashes, blind spot in, blind in one, went blind, gone blind, blind in my, has vanished, eyes not working, sight in my, sight went, sight gone, two bars, two phones, eyesight gone, eyesight went",
    ),
    (
        &[Speech],
        "speech, speach, words, word, talk, talking, speak, speaking, voice, sentence, tongue tied, type, typing, say, saying, text",
    ),
    (
        &[Slurred],
        "slur*, slurring, slurred, jumbled, garbled, come out wrong, coming out wrong, come out rong, come out funny, coming out funny, came out wrong, mush, cant get words, cant find words, cant find the words, cant get the words, words swimming, gibberish, not making sense, making no sense, coming out all, came out all, cant speak, cant talk, wrong words, words wrong, talking funny, word salad, came out soup, words are wrong, words wont come, words dont come, words not coming, cant understand me, cant understand what, understand what i say, understand what im saying, tongue wont, wont form, sound drunk, sounds drunk, sounding drunk, thinks im drunk, like im drunk",
    ),
    (
        &[Droops],
        "droop*, drooping, droopy, drooped, wonky smile, smile is wonky, smile is crooked, lopsided, gone slack, saggy, sagging, sags, sagged, fallen on one side, fallen down one side, cant smile, cant wink, cant whistle, wonky, hangs, hanging, skew*, crooked, slack, melting, slipped down, wont stay up, went soft, gone on strike, running out the side, dribbling out, drooling, drool*",
    ),
    (
        &[Headache],
        "headache*, head ache*, migraine*, head is pounding, head pounding, head is killing, head banging, thunderclap, head hurts, splitting head, head exploding, pain in my head, sore head, pressure in my head, head is exploding, headace, head splitting, head is splitting",
    ),
    (
        &[Worst],
        "worst, sudden, suddenly, thunderclap, out of nowhere, out of the blue, never felt anything like, never had, splitting, blinding, explosive, unbearable, like a brick, like a hammer, like an axe, of my life, like never before, instantly, all of a sudden, never had one like, like a gunshot, like lightning, mid rep, on rep, mid squat, mid lift, mid set",
    ),
    (
        &[Breath],
        "breath, breaths, breathe, breathing, breth, breathe in, breathin, inhale*, exhale*, lung, lungs, air, puff, oxygen, breathes, brethe, braeth, breathless",
    ),
    (
        &[Breathless],
        "breathless*, short of breath, shortness of breath, out of breath, catch my breath, catch ma breath, get my breath, get my breath back, out of puff, \
         get a full breath, full breath, gasping for air, gasping for breath, cant get a breath, get a breath, breath back, catch breath, breathing is hard, breathing like, breathing fast, finish a sentence, finish a sentance, finish my sentence, full sentence, get a sentence, sentence out, hyperventilat*, sob, breathing through a straw, through a straw, thru a straw, thru a sock, still puffing, still gasping, still panting, still breathless, breathing heavy, labored, laboured",
    ),
    (
        &[NoAir, Breathless],
        "cant breathe, cannot breathe, can not breathe, cant breath, not breathe properly, cant breathe properly, struggling to breathe, struggle to breathe, struggling for breath, struggling for air, hard to breathe, trouble breathing, difficulty breathing, breathing difficult*, hurts to breathe, not getting air, cant get air, dont get air, get enough air, enough air, air hunger, suffocat*, cant get any air, fight for each breath, fight for breath, fighting for breath, fighting for air, for each breath, breathe enough, chest wont fill, lungs wont fill, lungs wont, cant finish a sentence, cant finish a sentance, cant get a full sentence, couldnt finish a sentence",
    ),
    (
        &[Wheeze, Breathless],
        "wheez*, wheezy, gasping, rasping, whistling when, whistles when, bit whistly, whistly breath*, inhaler*, asthma*, puffer, rattling, ventolin, salbutamol, blue lips, lips blue, lips are blue, lips look blue, lips a bit blue, lips going blue, coughed up, coughing up, pink cough, pink froth, cough pink, bolt upright",
    ),
    (
        &[OddBeat],
        "flutter*, skips, skipping a beat, skipping beats, skipped beats, skip a beat, skipped a beat, skip beats, skipping, irregular*, missed beats, missing beats, misses beats, missed a beat, extra beats, erratic*, flip flop*, flippy, somersault*, flipping, arrhythmi*, afib, a fib, out of rhythm, uneven, gaps, stumbl*, jumping about, jumps, jumping, all over the place, all over the shop, double beats, \
         thumps and stops, flops, doing weird, weird rhythm, funny rhythm, doing something weird, goes mental, goes mad, hiccup*, triplets, trips over, every third beat, every fourth beat, every second beat, every 3rd beat, every few beats, washing machine, tumble dryer, drum solo, like a fish, like a bird, hummingbird, jackhammer, haywire, beats funny, beating funny, beating weird, beating weirdly, weirdly, missing every, pause thud, dancing, doing a dance, off beat, out of sync, out of time",
    ),
    (
        &[Racing, Long],
        "wont slow down, not slowing, isnt slowing, wont slow, wont settle, wont come down, not coming down, wont calm, wont calm down, wont go down",
    ),
    (&[Palpitations, OddBeat], "palpitation*, palps"),
    (
        &[Racing],
        "racing, racin, pounding, hammering, thumping, thudding, like the clappers, beating fast, beating so fast, beating out of, going mental, going crazy, going mad, going nuts, going bonkers, is mental, too fast, really fast, so fast, fast, through the roof, sky high, out of my chest, out through my, out of my shirt, galloping, flying, going 190, going 180, going like, went off like",
    ),
    (
        &[AtRest],
        "sitting, sat, lying, laying, lie, lie down, lying down, at rest, resting, in bed, sofa, couch, sat down, sitting down, sat here, doing nothing, doing nowt, did nothing, in the shower, standing still, not doing anything, in class, lecture, at my desk, without doing anything, on the couch, on the sofa, my desk, in the car, at home, on the bus, just watching, while watching, woke up, wakes me, at night, tying my shoes, tying shoes, walking, up the stairs, climbed the stair*, the washing, making tea, in the changing room, not even training, for no reason, no reason, out of nowhere, just sat, with a tea, sat with",
    ),
    (
        &[Long],
        "hour, hours, hr, hrs, half an hour, half hour, half an hr, half hr, days, all day, all night, all morning, all evening, ages, for ages, this morning, last night, yesterday, since yesterday, since mon*, since tue*, since wed*, since thu*, since fri*, since sat*, since sun*, weeks, a week, wks, forever, never had this, never had that, wont go away, not going away, its not going, not going, still there, wont stop",
    ),
    (
        &[Tight],
        "tight*, tightness, tightening, pressure, pressing, presses, squeez*, squeezy, crushing, crushed, vice, vise, elephant, like a band, like a belt, belt round, band round, clench*, constrict*, someone sitting on, someone is sitting on, somebody sitting on, somebody standing on, someone standing on, sitting on my chest, standing on my chest, sitting on it, weight on my chest, weight on, heaviness, heavy, squashing, grip round, compress*, brick on, fist, clamp, clamped, gripping, gripped, cement, a ton, grabbing",
    ),
    (&[Indigestion], "heartburn, indigestion, acid reflux, reflux, wind, trapped wind, gas"),
    (
        &[Spreads],
        "spread*, spreading, radiat*, going down, goes down, go down, goin down, gone into, down my arm, down ma arm, down the arm, down yer arm, down my left arm, down the left arm, into my arm, into my jaw, to my jaw, in my jaw, up my neck, into my neck, into my shoulder, into the shoulder, down my leg, down both legs, travel*, moving down, moving up, runs down, running down, shoots down, through to my back, went to my back, to my back, up to my jaw, into the jaw, in the jaw, into the arm, up into, up under the chin, across the shoulders, between my shoulder blades",
    ),
    (&[LeftArm, Limb, Side], "left arm"),
    (
        &[DownArm, Spreads, Limb],
        "down my left arm, down the left arm, down left arm, down ma left arm, into my left arm, into the left arm, in the left arm, up my left arm",
    ),
    (&[Concussion, Confused], "concuss*"),
    (
        &[Urine],
        "pee, peed, peeing, urine, urin, wee, weed, weeing, piss, pissing, pissed, toilet, loo, bathroom, wees, pees, urinat*, urinating, waterworks, tinkle, bladder, bowel*, number one, water works, pass water, passing water, slash",
    ),
    (
        &[DarkUrine, Urine, Dark],
        "rhabdo*, dark urine, dark pee, brown pee, brown urine, black pee, red pee, pink pee, cola coloured, tea coloured, blood in my pee, blood in my urine, blood in pee, pissing blood, peeing blood, dark wee, dark piss",
    ),
    (
        &[Dark],
        "dark, darker, brown, brownish, cola, coke, coca cola, tea, iced tea, ice tea, black tea, rust, rusty, maroon, red, pink, treacle, rum, stout, like beer, coffee, orange, colour of, color of, colour, pepsi, whisky, ribena, beetroot, dark beer, guinness, root beer, port, molasses, soy sauce, tar, mud, bovril, gravy, wine, balsamic, amber, mahogany",
    ),
    (
        &[Leaks],
        "wet myself, wet meself, wet my, wetting myself, pissed myself, peed myself, pee myself, piss myself, weed myself, shat myself, leak, leaks, leaking, leaked, incontinen*, lost control, cant control, no control, loss of control, cant pee, cant wee, cant go, unable to pee, couldnt pee, cant urinate, havent peed, no pee, havent been able to, not been able to, without noticing, dont notice, didnt notice, not noticing, trickle, accident, soiled, bowel*, poo, push to wee, push to pee, cant piss, \
         nothing comes, control of my, dribbl*, dripped, hold my pee, hold my wee, hold it in, cant hold it, went by itself, couldnt hold, cant empty, wont come, puddle, dont feel when, cant feel when, cant tell when, shy bladder, cant start, straining to, retention, cant feel it coming",
    ),
    (
        &[Hot],
        "hot, hotter, overheat*, overheated, boiling, heat, heatstroke, heat stroke, heat exhaustion, sunstroke, burning up, burning hot, red hot, warm, roasting, sweltering, temperature, temp, fever*, baking, 40 degrees, degrees, cooking, sauna, radiator, oven, furnace, boiler room, sun, jumper on, winter jacket, sweat out, sweat suit, bin bag, tin shed, attic gym, glowing",
    ),
    (
        &[NoSweat],
        "stopped sweating, not sweating, no sweat at all, isnt sweating, not sweat, stopped sweatin, no longer sweating, skin is dry, skin dry, dry skin, sweating stopped, sweat stopped, dont sweat, not even sweating, arent sweating, am not sweating, hot and dry, dry as paper, dry as a, dry as, skin like paper, not a drop, no sweat, sweat has stopped, cant sweat, no more sweat, skin burning, skin burns",
    ),
    (
        &[Confused],
        "confused, confusion, muddled, disoriented, disorientated, dont know where, dont know what day, doesnt know what day, dont know which way, forget, forgetting, forgot where, cant remember, couldnt remember, dont remember, cannae mind, foggy headed, out of it, cant think, memory, delirious, talking rubbish, talking nonsense, talkin rubbish, where am i, rambling, not with it, what day, which day, hallucinat*, seeing things, dazed, groggy, concuss*, keep asking, keeps asking, incoherent, cant concentrate, read the same, same line, head all muddled, in the fridge, giggling, everyone shouting, everyone is shouting, my own name, wrong door, my postcode, what session is it, dont know how i got, remember driving, remember warming, sleepy, drowsy",
    ),
    (
        &[Hives],
        "hive, hives, rash*, itch*, itchy, itching, wheal*, welts, blotch*, blotches, bumps all over, covered in, red spots, red patches, nettle rash, red blotches",
    ),
    (
        &[Closing],
        "closing, closing up, closes, closed up, closed, closing over, thick, tight, tightening, tightens, swelling, swells, puffing, puffing up, puffy, swelling up, swell, swollen, narrow, lump in my throat, fat, too big, massive, huge, cant swallow, swallow*, swallow all the time, hoarse, croaky, squeaky, fizzing, balloon, a size too small, scratchy, sausages, like a hamster, football, like a footy, size of",
    ),
    (
        &[Allergen],
        "allerg*, anaphyla*, epipen, epi pen, epi, epipens, adrenaline pen, my pen, peanut*, nuts, cashew*, bee, wasp, waspy, stung, shellfish, prawn*, shrimp*, antibiotic*, penicillin, antihistamine*, sesame, almond*, walnut*, hazelnut*, bee sting, wasp sting, piriton, kiwi, hornet, latex, satay, pistachio*, sunscreen, mango, painkiller, ibuprofen, new protein, protein bar, protein ball, energy gel, insect, bitten",
    ),
    (
        &[Suicide],
        "suicidal, suicide, suicidal thoughts, kms, kill myself, killing myself, killed myself, end it all, ending it all, end my life, ending my life, end my own life, ending it, end it, end things, take my life, taking my life, take my own life, self harm*, selfharm*, self harming, cut myself on purpose, cutting myself, cutting again, harm myself, harming myself, hurting myself, hurt myself on purpose, hurt myself again last, hurting meself, dont want to be here anymore, dont want to be here any more, want to be here anymore, want to be here any more, \
         dont want to live, dont wanna live, dont want to be alive, dont want to exist, dont wanna be here, dont wanna be alive, dont want to wake up, not wake up, never wake up, not waking up, wish i was dead, wish i were dead, wish i wasnt here, wish i wasnt alive, want to die, wanna die, wanting to die, want to be dead, better off without me, better off dead, better off if i, better without me, grand without me, fine without me, be better without, if i wasnt around, if i wasnt here, if i was gone, if i were gone, when im not there, when im gone, \
         not there any more, no reason to live, reason to live, no point living, no point in living, point in going on, go on living, going on living, no point going on, no point being here, cant go on, cant do this anymore, want it to end, want it all to stop, jump off, in front of a train, in front of the train, overdose*, wrote a note, written a note, goodbye note, written letters, letters wrote, letters to my, stood on the bridge, looking at the bridge, want to disappear, cant see a way, rather be dead, off myself, unalive, not want to be alive, sleep and not wake, hang myself, gave away my, plan on being here, be around much longer, not be around, thoughts of ending, tablets on the table, counting my tablets, counting my pills, counting tablets, looking at pills, been looking at pills, trust myself, nobody would notice if i, no one would notice if i, nobody would miss me, no one would miss me, didnt come back up, not come back up, didnt wake up, easier if i, thinking itd be easier, be easier for everyone, ive decided, have decided and, please nobody phone, dont phone me, mind the young ones, thanks for the years, life isnt worth, life is not worth, not worth living, see the point anymore, see the point any more, see the point of being, see why i should go on, tired of living, tired of being alive, done with life",
    ),
    (
        &[Despair],
        "goodbye*, hopeless, worthless, burden, a plan, ive got a plan, thanks for the years, thank you for everything, cant cope, no way out, nothing matters, hate myself, what is the point, whats the point, crying, decided, drowning, existing, living, alive, life, scared of myself, not safe, dark place, dark thoughts, no way forward, so low, really low, the dark, not coping, numb inside, empty inside, wont see me, last message, sorry for everything",
    ),
    (
        &[Seizure],
        "seizure*, seizing, having a fit, had a fit, fitting on, started fitting, having fits, convulsing, convulsion*, epilep*, twitching, twitched, shaking all over, eyes rolled, eyes rolling, eyes are rolled, eyes have rolled, foaming, shaking on the floor",
    ),
    (
        &[Emergency],
        "ambulance*, 999, 112, 911, 000, 111, aed, defib*, cpr, a and e, a&e, hospital, emergency, paramedic*, compressions, call someone, ring someone, first aid, first aider, casualty, samu, urgent care, help me, need help, please help, calling 112, 144, drive me, driving me, defibrillator, someone come, somebody come, can some one come, send help, send somebody, someone ring, somebody ring, someone call, somebody call, help",
    ),
    (
        &[Blow],
        "hit, hits, whack*, smack*, bang, banged, bumped, bump, clipped, landed on, fell on, dropped on, came down on, rolled onto, rolled on, rolled up, bashed, bash, knock, knocked, concuss*, concussion, clonked, clocked, thumped, struck, headbutt*, butted, walked into, slammed, smashed, caught me, met my, took a, took the, took an, blow to, fell onto, landed, dropped, kicked, elbowed, twatted, brained, bonked, on my head, on my neck, on ma head, on me head, on my skull, onto my skull, to the head, to the neck, to the temple, to my head, to my temple, on the head, on the neck, of my head, of my neck, onto my neck, onto my head, on the back of, cracked, cracked my head, crack to the, kneed, conked, bopped, whallop*, wallop*, battered, dumped, vs, came off, against the",
    ),
    (
        &[Object],
        "bar, barbell, plate, plates, dumbbell, dumbell, db, kettlebell, kb, rack, bench, pin, rig, weight, j hook, hook, ball, stick, door, floor, wall, cable, handle, collar, collars, box, machine, sled, boat, oar, blade, goalpost, post, beam, kerb, ice, tiles, bell, stack, lintel, wave, helmet",
    ),
    (
        &[Unresponsive],
        "not moving, isnt moving, stopped moving, wont wake up, not waking up, no waking up, wont wake, doesnt wake, not responding, unresponsive, no response, not answering, isnt answering, wont answer, wont respond, not reacting, doesnt react, slumped, lying on the floor, lying on the ground, lying beside, turned blue, gone blue, going blue, hes blue, shes blue, gone grey, not breathing, isnt breathing, stopped breathing, breathing funny, no pulse, snoring sounds, gone limp, clutching, clutches, dropped down, just dropped, went down, gone down, wont come round, hit the ground, doesnt answer, dont answer, not conscious, not talking, wont get up, keeled, keeled over, gasping weird, eyes open, dropped in",
    ),
    (
        &[Sick],
        "sick, vomit*, puke*, puking, throw up, threw up, throwing up, spewy, spew*, nausea, nauseous, nauseated, queasy, chunder*, being sick, been sick",
    ),
    (
        &[Clammy],
        "sweaty, clammy, cold sweat, pale, grey, gray, white as, shaky, shaking, shakes, trembl*, drippin, sweating, pouring with sweat, ghost, blue, sweating cold, sweating buckets, fingers cold, cold fingers",
    ),
    (
        &[Gushes, Blood],
        "gushing, pumping blood, pouring blood, pouring with blood, cant stop the blood, cant stop the bleeding, squirting, spurting, spurts, bleeding heavily, bleeding loads, bleeding buckets, blood pouring, \
         bleeding a lot, bleeding badly, bleeding like, bleeding everywhere, down to the bone, blood all over, blood everywhere, pool of blood, drenched in blood, wont stop bleeding, soaked in blood, blood down, loads of blood, lots of blood, lot of blood, hosing, pumping out, blood runs, blood running, towel is full, towel number, towel no, soaking a pad, soaked a pad, through the towel, coughing up blood, coughed up blood, vomiting blood, vomited blood, puking blood, spitting blood, throwing up blood, blood wont, wont clot, blood is pouring, blood spurts, white bits, to the bone, down to something white, open to the white, tourniquet, like a tap",
    ),
    // Signs, told in other words.
    (
        &[Suicide],
        "dont wan live, no wan live, stick around past, end myself, finish myself, stop permanently, make it stop for good, pills counted, counted the pills, counted out my tablets, counted out my pills, counted my tablets, counted my pills, \
         pills lined up, tablets lined up, load of pills, bunch of pills, load of tablets, took all my pills, took all my tablets, swallowed all my, wrote the letters, written the letters, wrote letters to, letters to the kids, letters are written, wrote my note, note is written, \
         bridge rail, step in front of, stepping in front of, in front of a bus, in front of a lorry, driving into a, driving into the wall, drive into a, drive into the wall, truck hits me, lorry hits me, bus hits me, not safe tonight, not safe with myself, im not safe, dont trust myself, wont be alive, not be alive, not going to be around, \
         not gonna be around, disappear for good, reason to wake up, didnt wake up tomorrow, dont wake up tomorrow, if i wake up tomorrow, hope i dont wake, how id do it, how i would do it, come to my funeral, come to the funeral, at my funeral, wont need them after, cut my arms, cut my wrists, cut my legs on purpose, cut my thighs, slit my, burn my arms, burn myself on purpose, hurt myself on purpose, marks on my arms, \
         nobody needs me, no one needs me, finally done it, tired of being here, tired of living, thinking about jumping, brain says jump, date in my head, see the point of being here, the point of being here, seeing the point of, better off w, done with all of it, done with everything, got the rope, the rope out, the rope ready, want to vanish, rather not exist, not be here anymore, not be here any more",
    ),
    (
        &[Fainted],
        "lights out for a sec, lights out at, lost about a minute, lost about five seconds, lost about ten seconds, lost a few secs, gone for a few secs, gone for a few seconds, gone a few seconds, woke up under, woke up wi, woke up on, woke up with it, wake up on the floor, waking up on the floor, ring of faces, faces above me, faces over me, faded to white, faded to black, faded to grey, everything faded, ceiling tiles, how long i was out, was out ten secs, out ten seconds, went over backwards, caught me before i, stood up and went down, nearly hit the floor",
    ),
    (
        &[Dizzy],
        "seein stars, stars everywhere, stars every set, stars after, giddiness, floor tilts, floor is tilting, floor tilted, room went sideways, room went round, went sideways on me, everything tilts, swaying, forgot where i was, went tunnel, black when i stand, everything went swimmy, everything went funny, head gone light, head went light, heads light, head is light, head feels light, went all floaty, floaty, legs went from under me",
    ),
    (
        &[Dimmed],
        "half the page, half the screen, half of the page, half the words, left half of, right half of, half of what i see, blind patch, blind spot, shutter over, shutter dropped, curtain over, curtain dropped, like a telly switching off, lost the sight, lost sight in, sight in one eye, one eye went, eye just went, eye went dark, eye went black, gone from my sight, seeing two of, everything has a twin, grew a twin, cant read the board, vision has gone, vision is gone, cant see the left, cant see the right",
    ),
    (
        &[Slurred],
        "soup, word soup, double dutch, sloppy, wont come out, no come out, dont come out, not come out, coming out wrogn, come out all, mixing words, wrong letters, makes no sense, make no sense, no sense, drink taken, drunk but im not, like a drunk, cant say it, cant get a word, cant get the word, lost my words, lost for words and, what when i talk, cant follow what i, coming out backwards, coming out in bits",
    ),
    (
        &[Droops],
        "slid, sliding, sliding off, half smiled, down my chin, wont hold it in, wont hold water, runs out the side, wont move, doesnt move, to one side, fallen, dropped on one side, wont lift, wont raise, cant whistle, cant puff, is dead on, melted",
    ),
    (
        &[Face],
        "left cheek, right cheek, corner of the mouth, side of my mouth, side of the mouth, one half, left of my face, right of my face, one side of me, left side of me, right side of me, half of me, whole left side, whole right side, all down one side, down one side, smile test",
    ),
    (
        &[Weak],
        "belongs to someone else, belongs to somebody else, belongs to another, belong to someone else, belong to another, not my own, drags, dragging, drifts, drifting, floats down, wouldnt go, doesnt go, wont go up, doesnt answer, not listening, isnt listening, wont listen, on strike, just quit, went on strike, dropping my, keep stumbling, keep tripping, do a button, do up a button, do up my buttons, hold a fork, hold a cup, hold my phone, opens by itself, hand just opens, just drops, wrist drops, foot drags, wiggle the toes, wiggle my toes, move my toes, lift the toes, lift my toes, lift my foot, hasnt woken up, wont come back, nobody home, nothing there, wont hold me up, dont hold me up, gone to jelly and, folds up under, folds under, like someone elses, like somebody elses, hangs there, just hangs",
    ),
    (
        &[Numb],
        "cotton wool, made of static, tv static, like static, woolly, wooden, like the dentist, like after the dentist, dentist numb, like novocaine, novocaine, no sensation, sensation, feeling to come back, feeling hasnt come back, feeling back in my, lost sensation, cant feel my, cant feel the, cant feel her, cant feel his, couldnt feel, didnt feel it, didnt feel a thing, couldnt feel it, felt nothing, felt zero, feel none, not feel, dont feel it, pins n, zingy, gone quiet, cant feel anything, no feelin",
    ),
    (
        &[Leaks],
        "let go, emptied itself, just emptied, went in my trousers, wet the bed, wet the mat, wet the floor, wet my trousers, wet my shorts, peed the bed, peed the mat, peed in the squat, peed on the, peed in my, cant tell when i need, cant feel when i need, cant tell if i need, dont know when i need, without feeling it, never felt it, not a drop, nothing will come, nothing comes out, nothing came, nothing coming, cant get going, wont start, isnt coming, is not coming, not coming out, havent gone, havent been since, pushing and pushing, full to bursting, bladder wont, wont empty, wont hold",
    ),
    (
        &[Saddle, Belly],
        "feel myself wipe, feel wiping, feel it when i wipe, feel when i wipe, felt nothing when i wiped, feel the paper, feel the loo paper, feel toilet paper, private area, private part, my bits, between the thighs, between my thighs, back passage, nether bits",
    ),
    (
        &[Urine],
        "urinal, washroom, restroom, pee chart, toilet bowl, the bowl, what i pass, what im passing, weeing, bladder",
    ),
    (
        &[Dark],
        "syrup, maple syrup, barbecue sauce, bbq sauce, espresso, porter, chocolate, blackcurrant, blackish, reddish, black, burgundy, ketchup, cherry, blood coloured, blood colored, ale, vinegar, prune juice, cranberry, tea brown, rust coloured, cola brown, ruby, dark orange, marmite",
    ),
    (&[Blood], "nosebleed*, nose bleed*, bleeder, haemorrhage, tarry"),
    (
        &[Gash, Wound],
        "gash*, gashed, sliced, deep cut, cut open, split open, opened up, opened my, cut my hand open, cut my leg open, split my, cut to the, torn open, ripped open, ripped off, tip off, fingertip*, tip of my finger, half hanging off, hanging by, stab wound, artery, vein, incision, stitches burst, stitches opened, cut on my, cut in my, stanley knife, angle grinder, through the window, through the glass",
    ),
    (
        &[Flows],
        "pumping, pumps, pumping out, spurt*, in spurts, in pulses, spraying, sprays, squirts, pours, pouring, running into, runs into, streaming, dripping, drips, keeps running, like a tap, wont stop, not stopping, isnt stopping, hasnt stopped, doesnt stop, no stop, cant stop it, wont quit, wont close, not slowing, wont clot, still going, still running, still bleeding, pressing isnt, pressure isnt, pressure not, pressed for, pressing hard, quicker than, faster than i can, mouthful after, all over the floor, all over the platform, puddle, pool of, everywhere",
    ),
    (
        &[Cloth],
        "towel*, tea towel*, tshirt, t shirt, hoodie*, bandage*, gauze, pad, pads, tampon*, tissue*, rag, rags, glove, dressing, sock, binder, shirt, kitchen roll, sandal, shoe",
    ),
    (
        &[Soaked],
        "soaked, soaking, soaked through, soaked thru, filled, filling, full, full already, drenched, sodden, flooding, flooded, swimming, dripping, through already, thru already, red already, weighs, number three, no 3",
    ),
    (
        &[Gushes, Blood],
        "coffee grounds, coffee granules, tarry poo, full of blood, mouth full of blood, mouthful of blood, spat blood, blood in my eyes, into my eyes, lots of blood, so much blood, bowl of blood, poo blood, pooped blood, pooping blood, passing blood, passed blood, blood clots, bleeding through everything, bleeding thru everything, flooding through a pad, flooding through pads",
    ),
    (
        &[HeartAttack],
        "elephant on me, elephant on my, elephant sat down on, elephant sat on, elephant sitting on, van on me, parked a van on, parked a car on, parked on my chest, spray under the tongue, under my tongue and it, cardiac",
    ),
    (
        &[Tight],
        "squashed, band round, tight across, ironing my, standing on me, sat on me, sitting on me, sits on me, like a brick, ripping, weight on me",
    ),
    (
        &[Spreads],
        "up under the jaw, up to the jaw, jaw aches, jaw hurts, jaw too, jaw as well, into both arms, down both arms, to the back, between the shoulder blades, between my shoulders, arm gone heavy, hand heavy, hand is heavy, arm is heavy, arm heavy, arm feels heavy",
    ),
    (
        &[OddBeat],
        "pause, pauses, pausing, flips, doing flips, shivering, skipped, skip, missed, misses, jazz, no rhythm, lost its rhythm, like a light switch, bird trapped, off again, slams, thump, thumps, bangs, kicks and stops, in fits and starts, stop start, goes quiet and, running away, run run, fluttery, wobbling",
    ),
    (&[Heart], "heartbeats, my beats, beats, ecg, heart monitor, chest strap says, watch says"),
    (
        &[Racing],
        "million mph, a million, took off, takes off, wont come back down, runs like, like a rabbit, like mad, at a gallop, gone mad, gone mental, doing 150, doing 160, doing 170, doing 180",
    ),
    (
        &[NoAir, Breathless],
        "cant pull air in, pull air in, cant get air in, get air in, air wont go in, air doesnt go in, full lungful, get a lungful, sips of air, gulping air, gulping for air, lungs shut, throat shut, breathe well enough, every breath is a fight, breathe deep enough, cant take a breath, cant take a full breath, cant fill my lungs, lips gone blue, lips have gone blue, lips are blue, lips going blue, lips turning blue, not enough breath, cant draw breath, cant draw a breath",
    ),
    (
        &[Breathless],
        "panting, huffing, winded, puffing, puffed out, puffed, breath is short, breath short, short breath, gulping, breathe like, breathing thru, breathless, words then air, cant talk, cant speak for, stopping for air, stopping for breath, stop for breath, stop for air",
    ),
    (
        &[Wheeze, Breathless],
        "barking like, squeak, squeaks, squeaking, like an accordion, like bagpipes, puffers, blue puffer, nebuliser, inhalers, reliever",
    ),
    (
        &[Concussion, Confused],
        "knocked out cold, knocked cold, knocked me out, knocked silly, knocked me silly, saw white and, pupils are different, pupils look different, pupils different, fluid from my ear, out my ear, out of my ear",
    ),
    (
        &[Blow],
        "clattered, battered, guillotined, bounced off, hit heads, banged heads, headed, landed across, across my neck, across the neck, across the back of my neck, on my throat, on the throat, onto my throat, smack to the, stood up under, stood up into, rear ended, head first, headfirst, face first, got me in the, got me on the, slipped off and, crack on the, whack on the, knock on the, dunt, thunk",
    ),
    (
        &[Confused],
        "talking to a tree, talking nonsense, talkin nonsense, talking shite, walking in circles, do my sums, know my name, know the year, know what year, what year, my own postcode, know my postcode, mind my postcode, scrambled, feel drunk, like im drunk, everything far away, loud and far, swearing at, words hard, not making sense, makes no sense, foggy, fog, miles away, lost my thread, end of my sentence, keep losing, dont know how i got home, cant remember driving, cant remember warming, bit slow, everything slow, too bright, lights hurt, light hurts",
    ),
    (
        &[Hot],
        "thermometer, aircon, in the shade, wet towels, bucket over me, hosed, the hose, in this heat, scorching, toasty, heated, hot to touch, hot to the touch, burning to touch, to the touch, fever, ice bath, ice under my, polytunnel, noon, midday",
    ),
    (
        &[NoSweat],
        "quit sweating, quit sweatin, not sweatin, turned off my sweat, makin sweat, making sweat, cant sweat, totally dry, bone dry, gone dry, dry as a bone, sweat dried up, sweat has dried, sweat went away, not sweat",
    ),
    (
        &[Deformed, Broke],
        "corner in it, extra corner, dinner fork, fork shape, facing the wrong, facing backwards, facing the other, a step in, step in my, inches shorter, hollow where, gone walkabout, turned backwards, turned out, hanging loose, hanging like, tenting, bends where, bend where, bone outside, there is bone, theres bone, saw bone, can see the bone, snapped like, on the side of my face, out the front, heard a bone, bone go, wont go back in, put it back, pop it back, put back in, back in its socket, shaped wrong, wrong shape, points at, points the, where it should be, not where it was, where there shouldnt be, wasnt there before, was not there before",
    ),
    (
        &[Swollen],
        "tree trunk, trunk, swelled, swelled up, bigger than the, cankle*, bowling pin, shiny, tight as a drum, like a drum, twice as big, cm bigger, cm more, blown up like, blowing up, puffed shut, swollen shut, getting bigger, so big, is big, bike tyre, like a duck, like a boxer",
    ),
    (
        &[Closing],
        "blowing up, puffed shut, shut, getting tighter, getting bigger, getting big, golf ball, hand round my throat, hand around my throat, so big, like a duck, like a boxer, going hoarse, voice is going, voice going, cant get words past, spit out my, wont go down",
    ),
    (
        &[Hives],
        "nettle, nettles, blotchy, hives, spots coming up, lumps coming up, lumps popping up, bumps coming up, coming up in",
    ),
    (
        &[Unresponsive],
        "not waking, no waking, not wake up, is not wake, choking, choked, slumped over, slumped forward, jerking, foam, theres foam, no pulse, nobody home, is down, has gone grey, gone grey, gone white, is blue, bluish, not coming up, just gone down, just dropped, not talking, isnt talking, been hit, mumbling, pinned under, stuck under, wont get up, not getting up, cant feel her legs, cant feel his legs, talking double dutch, face has gone, face has slid",
    ),
    (
        &[Emergency],
        "heimlich, back slaps, recovery position, street number, address of the gym, who do i call, who do i ring, do i call, do i ring, do we call, what do we do, what do i do, wat do i do, wit do i dae, send the launch, get coach, get someone, get somebody, get help, get an ambulance, phone an ambulance, on the phone to them, casualty, blue lights, a and e or, er now",
    ),
    (
        &[Near],
        "im with him, im with her, with him now, with her now, in the changing room, in the changing rooms, in the sauna, in the toilets, in the showers, on the stairs, in the far rack, next rack, in the rack, outside the gym, were at the, we are at the, beside the, coach is, coach has",
    ),
    // Persons.
    (&[Me], "i, im, ive, id, me, myself, ill, meself, iv, aim, i ve"),
    (&[My], "my, mine, me own"),
    (
        &[Other],
        "he, him, his, hes, she, her, shes, hers, they, their, them, theyre, dad, mum, mom, mother, father, brother, bro in law, sister, wife, husband, girlfriend, boyfriend, gf, bf, uncle, aunt, auntie, cousin, nan, gran, grandma, grandad, grandpa, son, daughter, niece, nephew, \
         flatmate*, housemate*, roommate*, colleague*, neighbour*, neighbor*, teacher, boss, dog, cat, horse, puppy, friend*, mates, a mate, mate of mine, a guy, some guy, somebody else, someone else, everyone, everybody, others, people, ppl, kid brother, kid, kids, babies, baby, player*, striker, keeper, bloke, character, actor, partner, ex, toddler, granddad, in laws, boyfriends, landlord",
    ),
    (
        &[Stranger],
        "someone, somebody, some guy, some dude, some bloke, some girl, a guy, a girl, a bloke, a lad, old fella, old guy, woman, man, lady, girl, guy, dude, bloke, fella, lad, spotter, training partner, gym partner, our cox, teammate*, jogger, the pt, pt, stroke seat, bowman, gym buddy, a member, one of the, an older",
    ),
    (
        &[Near],
        "next to me, next to us, beside me, beside us, in front of me, in front of us, behind me, right here, here, at the gym, in the gym, in our gym, on the treadmill, on the mats, on the mat, by the, near me, across from me, just now, what do we do, what do i do, anyone know, does anyone know, where is the, wheres the, help, quick, come quick, front desk, staff, lying here, now, on the erg, at the rack, on the bench, at the boathouse, on the jetty",
    ),
    // Time and certainty.
    (
        &[Now],
        "now, today, just, rn, atm, at the moment, right now, this morning, tonight, currently, 2day, tdy, just now, this evening, this afternoon, this second, suddenly, again, all of a sudden",
    ),
    (
        &[Still],
        "still, since, keeps, keep, been, every time, for days, all day, ever since, lately, recently, these days, for weeks, for a week, all week, yesterday, last night, last nite, since yesterday, yday, always, constantly",
    ),
    (
        &[Past],
        "years ago, year ago, ages ago, months ago, last year, last season, last summer, last winter, back in the day, used to, as a kid, as a child, when i was, in school, in college, once, back then, long ago, in 20, long time ago, yrs ago, in spring, decades ago, childhood, in the 90s, history, former, the old, freshers, as a teenager, a decade, previous*, in march, in june, two years, three years, ten years, seasons ago, that time, remember when, remember the time, back when, i once, last month, last spring, last autumn, in uni, year 8, year 10, at school, in january",
    ),
    (
        &[Over],
        "gone, healed, cleared up, recovered, settled, sorted, no longer, stopped hurting, all good now, fine now, good now, ok now, better now, feels great, feels good, feels fine, feeling great, feeling good, behaved, disappeared, pain free, painfree, all clear, all better, fully healed, been fine, is fine, are fine, was fine, were fine, no issues, no problems, no trouble, no complaints, good as new, never bothered me since, all good since, fine since, not a peep, no drama, cleared, all ok, fine again, good again, back to normal, fully recovered, happy now, finally good, much better, went away, wore off, passed quickly, survived, all safe, unscathed, back to full, not hurt, no harm, is finally, not injured, no injuries, no injury, im fine, only decoration",
    ),
    (
        &[Not],
        "no, not, never, didnt, dont, doesnt, isnt, wasnt, arent, aint, zero, without, none, hasnt, havent, nothing, nowt, no more, instead of, free, werent, neither, nor, nope, nah",
    ),
    (
        &[Well],
        "good, fine, great, ok, okay, happy, alright, lovely, solid, strong, nice, fresh, perfect, better, smooth, sound, chill, decent, awesome, best, pb, pr, amazing, easy, flew, superb, grand, banging, cracking, sweet",
    ),
    (
        &[If],
        "if, would, imagine, in case, what if, hypothetical*, hypothetically, might, suppose, when ur, whenever, unless, id rather, rather, could be, afraid of, scared of, worried about, fear, dont want to get, wouldnt want, in theory, theory, lest, otherwise, or else, before i, until, without getting, so i dont, dont wanna, risk, would be, ought, avoid",
    ),
    (
        &[General],
        "people, how do you, how do u, how do people, anyone, anyone else, anybody, prevent, preventing, avoid, avoiding, prevention, prehab, video, article, podcast, study, studies, book, lecture, course, talk about, film, movie, episode, series, documentary, workshop, seminar, poster, general, injury prevention, rehab, research, paper, exam, rehabbing, insurance, first aid course, song, match, game, joke, guidelines, checklist, form, forms, meme, quiz, chapter, revision, class, module, essay, tips, who, whos, everyones, you guys, announcement, policy, rule",
    ),
    (
        &[Advice],
        "should i, shud i, shld i, shall i, can i, could i, is it normal, is that normal, normal, is it ok, is it okay, is that bad, is this bad, do i, what do i do, what should i do, ideas, advice, any idea, safe to, ok to, okay to, worth, do you think, u think, ok?, bad idea, what is it, what could it be, worry, worried, serious, see someone, see a doc, push through, train through, work through, carry on, keep going, anyone know, help, scared, must i, may i, what would you, would you",
    ),
    // Training.
    (
        &[Effort],
        "burn, burned, burns, burnt, burning, pump, pumped, pumps, fried, toast, cooked, smoked, torched, shot, spent, gassed, blowing, jelly, spaghetti, lactic, on fire, grind, grindy, hard, tough, brutal, savage, killer, rpe, rir, failure, to failure, in the tank, blasted, effort, sprint finish, lungs on fire, exhausted, tired, shattered, knackering, max out, hammered, crying, cried, workout, session, after that set, after the set, 20 reps, reps, conditioning, breather, between sets, wasted, tanked, noodles, trashed, nuked, rubber",
    ),
    (
        &[Doms],
        "doms, soreness, sore from, still sore, good sore, muscle sore, so sore, nicely sore, stiff from, sore after, sore today, sore tomorrow, leg day, wrecked from, feeling it from, aching from, sore legs, domsy, nice sore, two days later, training ache, 2 days after",
    ),
    (
        &[Laughs],
        "lol, lmao, rofl, haha*, hahah*, hehe*, heh, jk, kidding, joking, joke, xd, lool, loool, lolz, lmfao, ha, banter, hilarious, funny, jokes, comedy",
    ),
    (
        &[Figure],
        "dont want to live with, dont wanna live with, dont want to live in, dont wanna live in, dont want to live here, dont want to live there, dont want to live near, something went wrong, something goes wrong, something gone wrong, something popped up, my back yard, my back garden, my back door, back collapsed, upper back collapsed, lower back collapsed, back collapses, chest collapsed, chest collapses, knees collapsed in, knees collapsed, knees collapse, rack collapsed, everyone dizzy, cramped all good, knee slapper, back yard, back garden, back door, back row, back seat, back page, back room, back of the, back in a, my back catalogue, painful defeat, pains me, painful loss, hurts to watch, hurt to watch, that must hurt, did that hurt, must have hurt, twisted my words, tweaked my programme, tweaked the programme, tweaked my program, pulled a prank, pulled an all nighter, all nighter, snapped a, 8 sharp, 7 sharp, 6 sharp, sharp start, crunch time, went wrong with the, cant complain, scratch my back, take that back, take it back, back up to, back down to, passed out the, passed out flyers, passed out at 3, phone passed out, spinning class, spin class, numb from the cold, did you drop, shooting for, shooting stars, shooting hoops, shooting range, in pain seeing, growing pain, head is killing, no complaints, went black power, pulled 1, pulled 2, so sore loser, passing out flyers, passing out leaflets, passing out the, pass out the, double digits, planetarium, dizzy with, dizzying, light headed with, lightheaded with, faint smell, a faint, faintly, faint line, faint hope, faint idea, faint hearted, blackout curtain*, blackout, power blacked out, pass out in my bed, pass out in bed, pass out as soon as, passed out on the sofa, passed out on the couch, passed out in bed, passed out drunk, pass out on the sofa, collapsed on the sofa, collapsed into bed, collapsed onto the mat, collapsed on the mat, collapse on the sofa, collapse into bed, suicide grip, suicides, suicide sprint*, suicide runs, suicide squad, heart attack prices, seeing stars on the, under the stars, movie stars, five stars, out cold by, fainting goat*, fell asleep on, ran out of gas, hot take, hot chocolate, hot date, hot mess, hot bath, hot shower, not so hot, too hot to, sick pad, first aid course, first aid kit, first aid training, first aid session, pain au chocolat, mental block, mental note, mental health week, dark chocolate, dark outside, dark already, still dark, in the dark, gets dark, getting dark, red bull, red light, red flag, red rack, pink plates, red plates, black plates, coffee machine, cup of tea, cuppa tea, tea break, tea and, pissed off, taking the piss, taking the mick, take the piss, piss take, piss easy, piss poor, wee bit, wee lad, wee man, wee one, wee session, a wee, free pee, fit check, a fit bird, get fit, fit in, fit it in, keep fit, so fit, fit old, fit girl, fit as, cross fit, a good fit, ambulance chaser, skipping rope, skipping leg*, skipping breakfast, skipping class, skipping lunch, skipping rounds, skipping, skip rope, dropping by, went down well, went down a treat, going down to, gone down to, drop down to, down to, went up, head count, heading out, fast food, breakfast, fast lane, fast bowler, run fast, fast twitch, too fast on, racing season, racing on, racing in, race day, racing at, race on, pain in the neck, pain in the arse, pain in the ass, pain in the butt, pain in my ass, pain in the bum, royal pain, a pain to, is a pain, such a pain, killing it, killed it, killing me softly, smashed it, crushed it, crushing it, crushed my, break a leg, break a sweat, broke a sweat, broke my record, broke the record, break the record, broke my pb, break the ice, breaking news, breakfast, breakdown, break up, breakup, no pain no gain, heart set, heart on, by heart, heart to heart, heart and soul, heart n soul, \
         take heart, lost heart, heart broken, heartbroken, heartbreak*, hand on heart, broke my heart, breaks my heart, heart says, from the heart, heart out, my heart goes, at heart, bottom of my heart, cold feet, sore loser, sore subject, sore point, head start, heads up, head to head, over my head, head over, headed to, heading, head home, heading home, head down, head coach, head in, heads not in, head not in, in the zone, off my chest, off your chest, got my back, got your back, have your back, have my back, watch your back, behind my back, back to back, come back, back at, back in, back on, back to, back from, back home, \
         got it back, get back, getting back, be back, im back, we are back, went back, going back, go back, call back, text back, right back, way back, bring back, welcome back, pay back, set back, cut back, hold back, dropped back, back off set, back off, back and forth, coming back, comes back, came back, back again, get it back, give back, knee deep, cost an arm and a leg, arm and a leg, pulling my leg, pull your leg, on my last legs, shoulder to shoulder, cold shoulder, elbow grease, elbow room, joint effort, neck and neck, neck of the woods, breathing down my neck, stick my neck out, breakneck, bottleneck, neck it, necked, necking, \
         pop in, pop by, popping in, pop over, pop round, popped in, popped by, popped round, pop up, pop to, popped to, popped into, pop music, pop song, popcorn, crack on, cracking on, cracked on, crack of dawn, cracking session, cracking set, cracking day, cracking form, cracked it, cracked me up, crack up, crack the whip, crack at, have a crack, get cracking, snapchat, snap a pic, snapped a pic, snap out of, tear up the, tearing through, tore through, ripped off, rip off, let it rip, getting ripped, get ripped, so ripped, rip to, strain gauge, dead hang, dead hangs, \
         dead stop, dead bug, dead bugs, dead ball, drop dead, dead line, deadline*, dead last, dead easy, dead serious, dead quiet, dead good, dead sets, dead weight, brain dead, dead tired, dead on my feet, phone is dead, phone died, battery died, died laughing, dying laughing, dying of laughter, dying to, im dying, dying for a, i died, nearly died, almost died, ded, to die for, kill for, kill for a, could kill, mum will kill me, murder, murdered, murdering, sick of, sick one, sick pb, sick session, sick lift, sick gains, sick note, sick beat*, sick form, that is sick, thats sick, \
         numb3r, number, numbers, mind numbing, mind numbingly, comfortably numb, numbingly, dizzy heights, dizzying, breath of fresh air, waste of breath, save your breath, breathtaking, breath taking, holding my breath, hold your breath, dont hold your breath, take a breath, take my breath away, under my breath, catch up, heart attack when i saw, mini heart attack, gave me a heart attack, nearly had a heart attack, almost had a heart attack, coach will have a heart attack, stroke rate, stroke seat, stroke side, breast stroke, breaststroke, strokes, stroke of luck, best stroke, stroke of genius, stroke play, butterfly stroke, \
         stroke coach, per stroke, first stroke, a stroke a, good stroke, stroke work, catch the, growing pains, blood bank, blood donation, blood sugar, blood sweat and tears, blood sweat, bloody good, bloody great, bloody hell, bloody mary, bloody love, young blood, in my blood, bleeding heck, bleedin, first blood, blood orange, donated blood, give blood, giving blood, gave blood, hurt my feelings, hurts my feelings, hurt my pride, only my pride, pride hurts, hurts my pride, hurt my ego, ego hurts, bruised ego, ego is bruised, hurt my wallet, wallet hurts, wallet, hurts my brain, brain hurts, hurts my soul, hurts my eyes, \
         wont hurt, wouldnt hurt, doesnt hurt to, cant hurt, couldnt hurt, it hurts to watch, hurt to watch, painful to watch, hurts so good, hurt so good, burn calories, burning calories, sunburn*, crash and burn, money to burn, slow burn, burn out, burnout, fall behind, fall off, fell off the wagon, fell behind, falling behind, fell asleep, falling asleep, fall asleep, broke as, im broke, so broke, broke af, skint, broken english, broken record, broken sleep, broken down, breaking in, break time, tea break, on a break, take a break, a break, spring break, need a break, lunch break, hit me up, hit the gym, hit the weights, hit depth, hit a pb, hit a pr, hit my target*, hit my macros, hit my numbers, hit my depth, hit my goal*, hit my reps, hit 1, hit the target, \
         hit all, hit the showers, hit the spot, hit different, face the music, in your face, face palm, facepalm, face pull, face pulls, face it, poker face, saving face, about face, smiley face, hip hop, tip toe, on my toes, toe the line, finger crossed, fingers crossed, thumbs up, thumb up, rule of thumb, second hand, first hand, on hand, hand in, in hand, handy, hands down, hand me, hands on, shoulder season, chip on, rack my brain, chest of drawers, treasure chest, chest freezer, chest pump, chest touched, chest hair, chest to bar, chest up, chest strap, hr strap, chest size, chest cm, to chest, off the chest, on the chest, the chest pad",
    ),
    (
        &[Lift],
        "shoulder press*, shoulder raise*, chest press*, chest fly, chest flys, chest flies, chest flye*, chest day, chest dip*, chest supported, leg day, leg press*, leg curl*, leg ext*, leg extension*, leg raise*, hanging leg raise*, knee raise*, knees to elbows, toes to bar, neck curl*, neck press, neck harness, neck extension*, wrist curl*, wrist roller, wrist wraps, back squat*, back extension*, back ext, back day, back raise*, \
         back workout, back and bis, back and biceps, back n bis, shoulder day, shoulders day, arm day, arms day, calf raise*, calf press, hip thrust*, hip abduction*, hip adduction*, hip hinge*, glute bridge*, glute ham, ham curl*, ham raise*, hamstring curl*, hammy curl*, quad extension*, tricep ext*, triceps ext*, tricep pushdown*, triceps pushdown*, tricep pressdown*, bicep curl*, biceps curl*, behind the neck, jm press, face pull*, rear delt*, lat pulldown*, lat pull*, lat raise*, \
         lateral raise*, front raise*, ab wheel, ab crunch*, pec deck, pec fly*, pec flys, skullcrusher*, skull crusher*, skulls, dead lift*, deadlift*, deads, dead lifts, romanian, rdl*, knee sleeve*, knee wrap*, elbow sleeve*, wrist wrap*, wrist strap*, knee pad*, lifting belt, shrugs, shrug, hand stand*, head stand*, pull up*, pull ups, pullup*, push up*, pushup*, chin up*, chinup*, sit up*, situp*, muscle up*, muscle ups, leg work, arm work, upper body, lower body, shoulder mobility, hip mobility, ankle mobility, heart rate zone, chest flyes, forearm curl*, forearm plank, leg drive, arm bike, one arm*, single arm*, single leg*, \
         one leg*, straight arm*, pull day, push day, pull session, push press, power clean*, snatch*, kneeling, breathing squats, squat*, bench*, row, rows, rowing, curl, curls, dip, dips, lunge*, ohp, press, presses, hinge, thrusters, burpee*, erg, plank*, crunches, flys, warm up, warmup, legs day, shoulders and arms, chest and tris, chest and back, chest and triceps, strong back, body weight, bodyweight, hand release, hands free, finger hang*, dead hang*, pendlay, pallof, good morning*, jefferson, front squat*, goblet*, box jump*, step up*, step ups, pulldown*, pushdown*, sled, sprints, sprint, run, running, intervals",
    ),
    (
        &[Gear],
        "sleeves, wraps, strap, straps, belt, chalk, shoes, shoe, trainers, leggings, shorts, jeans, pants, trousers, shirt, singlet, spandex, headphones, earbuds, phone, wifi, screen, kettle, mug, bottle, car, bike, chain, laptop, keyboard, bag, key, keys, alarm, watch, machine, cable, treadmill, band, bands, rope, mat, foam roller, lift, elevator, door, window, lock, locker, heating, boiler, shower, radio, speaker, music, app, printer, spreadsheet, pump, tyre, tire, roof, chair, table, fridge, zip, laces, lace, ice cream, bus, train, plane, van, tram, timer, clock, bin, screw, bolt, seal, hinge",
    ),
    (
        &[Object2],
        "exam*, lecture*, essay*, deadline*, uni, work, monday*, meeting*, rent, price*, bill, bills, fee, fees, wallet, bank account, budget, money, pride, ego, feelings, soul, dignity, boss, weather, traffic, parking, homework, assignment*, thesis, dissertation, revision, pub, beer, pint*, pizza, cake, food, coffee, curry, chips, biscuit*, birthday, party, wedding, holiday, score*, league, cup, goal, record, pb, pbs, number*, song, playlist, album, band practice, season finale, netflix, tv, series, story, news, hungover, hangover, ikea, tax, taxes, paperwork, admin, email*, password",
    ),
    (
        &[Onset],
        "after, since, during, while, whilst, when i, when im, on the last, last rep, last set, mid set, at the bottom, at the top, on the way down, on the way up, halfway, on rep, first rep, second set, third set, on set, out of the hole, lockout, at lockout, coming up, going down, standing up, stood up, warming up, warm up, as soon as, at depth, the way up, the way down, eccentric, rep",
    ),
    (
        &[Stops],
        "stopping, stopped, stop, done for today, done for the day, calling it, call it, called it, racked it, rack it, out for, sitting out, sit out, sitting this, skip, skipping, no training, no lifting, no squats, no more, cant train, resting, rest, going home, gone home, heading home, went home, packed it in, binned, bin, bail*, bailed, leaving it, leave it, swapped, switched, cancel*, had to stop, cut short, wont be in, not coming, light day, upper only, leaving, finished early, paused, pause, off for, week off, weeks off, time off, days off, out of, sacking off, sack off, cancelled, abandoned, out today, out tonight, cant come, wont come, giving it a miss, no leg, no deads, replaced",
    ),
    (
        &[Fell],
        "fell, fall, fallen, falling, slip, slipped, tripped, landed, landing, came off, thrown, crashed, crash, stumbled, faceplant*, tumbled, went over, slid, stacked it, fell off, fell over, fell down, went over on, rolled over on, missed the",
    ),
    (
        &[Extreme],
        "so, really, rly, proper, properly, very, super, mad, crazy, bad, badly, like crazy, massive, massively, serious*, severe, awful, terrible, horrible, nasty, hella, legit, af, intense, wicked, dead, rotten, mega, big time",
    ),
    (
        &[Slight],
        "bit, little, lil, slight*, tiny, kinda, sorta, sort of, kind of, small, mild, minor, tad, touch, smidge, maybe, prob, probs, probably, nothing wild, nothing serious, its nothing, prob nothing, probably nothing, no big deal, wee bit, only, just a, nothing dramatic",
    ),
    (
        &[Daily],
        "stairs, socks, sleep, sleeping, sneeze, cough, coughed, coughing, sneezed, bra, seatbelt, shoes on, laces, hair, jar, jars, door, doors, drive, driving, mirror, wake up, woke up, getting up, getting out of bed, bed, step, steps, walking, chew, yawn, laugh, shower, sitting, wipe, shopping, bags, morning, mornings, night, toothbrush, hood, dressing, reaching, pillow, stand, weather",
    ),
    (
        &[Duration],
        "days, weeks, week, wks, wk, hours, hour, hrs, mins, min, minutes, month, months, secs, seconds, sec, day, years, yrs, half an hour, fortnight, half hour",
    ),
    (
        &[Health],
        "physio*, doc, doctor*, gp, osteo*, chiro*, nurse, hospital, mri, x ray, xray, scan, ultrasound, diagnos*, therapist, surgeon*, surgery, specialist, orthopedist, orthopaedic*, medic, clinic, sports massage, midwife, dentist, checked out, looked at, referred, appointment",
    ),
    (
        &[Treats],
        "ice, iced, icing, tape, taped, taping, ibuprofen, painkiller*, paracetamol, strapped, strapping, voltarol, heat pack, deep heat, foam roll*, massage*, rest it, nurofen, plaster, compress, bandage*, brace, tubigrip, elevate*, frozen peas, anti inflam*, paracetomol, heat pad, hot water bottle, codeine, tramadol",
    ),
    // Cautions.
    (
        &[Minor],
        "im 12, im 13, im 14, im 15, im 16, im 17, under 18, under 18s, underage, under age, yr 9, yr 10, yr 11, year 9, year 10, year 11, year 12, gcse, gcses, 14 year old, 15 year old, 16 year old, 17 year old, minor",
    ),
    (&[Blood], "waters broke, water broke, waters have broken, waters just broke, waters went"),
    (
        &[Pregnant],
        "pregnan*, preggo, preggers, trimester, midwife, weeks pregnant, expecting a baby, baby bump, due in may, due date, postpartum, post partum, c section, expecting twins, positive test, gynaecologist, gave birth, wks pregnant, im expecting",
    ),
    (
        &[HeartCondition],
        "heart condition, heart murmur, murmur, pacemaker, stent, stents, bypass, blood pressure tablets, bp tablets, bp meds, blood pressure meds, blood pressure pills, beta blocker*, blood thinner*, hypertension, high blood pressure, high bp, arrhythmia, ablation, svt, long qt, hocm, cardiomyopathy, cardiologist, heart failure, afib, angina, heart thing, valve",
    ),
    (
        &[Operated],
        "op, operation, surgery, operated, post op, keyhole, appendix out, hernia repair, hernia op, reconstruction, stitches out, arthroscopy, meniscus repair, meniscectomy, laser eye, cataract, gallbladder, carpal tunnel release, hip replacement, knee replacement, new hip, vasectomy, surgeon, veins stripped, meniscus trimmed, cartilage trimmed, cleared for",
    ),
    (
        &[Drugs],
        "hungover, hangover, tipsy, drunk, pints last, beers in, tramadol, codeine, oxy*, opioid*, steroids, tren, test cycle, testosterone, trt, sarms, fat burner*, clen, ephedrine, cocaine, coke last, weed before, smoked a joint, joint before, stoned, high on, double scoop, scoops preworkout, scoops of preworkout, scoops of pre, scoops pre, scoops of that pre, caffeine tablet*, caffeine pill*, caffeine, energy drink*, on orals, running orals, winstrol, dbol, bottomless brunch, bottle of red, painkillers, stimulant*, adhd tablets, ritalin, adderall, wine in me, still drunk, on gear, juicing, juice cycle",
    ),
    (
        &[Starved],
        "havent eaten, not eaten, havent had food, nothing but broth, nothing but coffee, water only, on water, 500 cals, 500 kcal, 600 cals, 800 cals, starving myself, purge, purging, throw up after, throwing up after, make myself sick, laxative*, fasting for, only cucumber, just coffee and, living on, skipping meals, no food since, no food for, dry fast, cutting water, water cut, diuretic*, anorexi*, bulimi*, eating disorder",
    ),
    (&[Flesh], "burning, burn, raw, cramp, tight, pumped"),
    // Told by an event or a picture, and in English that was learned late.
    (
        &[Suicide],
        "lighter without me, easier without me, happier without me, all right without me, get on without me, perfectly well without me, taking all the tablets, take all the tablets, took all the tablets, all the tablets at once, all the pills at once, all my tablets, all my pills, \
         off the bridge, off a bridge, from the bridge, under a train, under the train, make an end, making an end, put an end to it, put an end to my, wake up tomorrow any more, want to wake up tomorrow, wanna b alive, b alive anymore, wanna be alive, want to be alive, \
         cuttin myself, cutting my legs, cutting my arms, cuttin my legs, cuttin my arms, cut me on the arms, cut myself again, been cutting again, a reason to go home, wish id never been, want to go to sleep and not, sleep and never wake, keep looking at the tablets, looking at the tablets, looking at the pills",
    ),
    (
        &[Unresponsive],
        "isnt breathin, not breathin, aint breathing, aint breathin, breathes strange, breathes strangely, breathing strange, hes purple, shes purple, is purple, went purple, tipped over, toppled, does not answer, does not move, does not respond, has gone down, a funny colour, fitting in, someones fitting, somebodys fitting, grey in face, grey in the face, blue in the face",
    ),
    (&[Stranger], "gentleman, old boy, old man, old lady, someones, somebodys"),
    (&[Near], "next 2 me, next bench, on the next, quick please, by the treadmills, by the squats"),
    (
        &[NoAir, Breathless],
        "no amount of breathing, air is missing, air missing, enuf air, seems to fill me, cant fill up, breathe but nothing, breath doesnt arrive, breath dont arrive, no air comes, so less breath",
    ),
    (
        &[Breathless],
        "pant like, panting like, i pant, im panting, puffing like, full breath in, breath back an hour",
    ),
    (
        &[Fainted],
        "black before my eyes, dark before my eyes, found myself on, lying between the, was away for few, was away for some, away for few seconds, away for some seconds, gone for some seconds, gone for few seconds, shook with whole body, shook all over, passd out, pass out, tv static, static then black, wake up on the gym floor, wake up on the floor, cheek on the mat, ring of faces",
    ),
    (
        &[Dizzy],
        "ceiling went, ceiling is turning, floor sways, floor swayed, floor swung, everything sways, around and around, everything is far away, everythings far away, everything far off, walk like on a ship",
    ),
    (
        &[Dimmed],
        "seein 2, seeing 2, seein two, seein double, see double, i see two, see 2 of, 2 of everything, 2 of evrything, blind coming down, half of what i",
    ),
    (
        &[Slurred],
        "wrong order, talk crooked, talks crooked, talking crooked, comes porridge, came porridge, porridge came out, no more meaning, have no meaning, lost their meaning, no sense any more, at the sherry, back to front, cant find the word, cannot find the word",
    ),
    (
        &[Blow],
        "clashed heads, clash of heads, ran together, got stapled, stapled by, stapled at, full in the face, plate to the, swung back into, rolled onto my neck",
    ),
    (&[Head], "dome, crown, foreheads"),
    (
        &[Weak],
        "from rubber, to rubber, like rubber, does not lift, doesnt lift, wont lift, does not close, nobody goes, dont fire, do not fire, doesnt fire, wires cut, unplugged",
    ),
    (
        &[Deformed, Broke],
        "goes around the corner, goes now around, has a corner in, like a dry branch, as dry wood, like dry wood, where there is no elbow, pointing backwards",
    ),
    (
        &[DarkUrine, Urine, Dark],
        "brown water, pee came out brown, came out like tea, came out like coke, came out like cola",
    ),
    (
        &[Swollen],
        "biggr than, bigger than other, way bigger, is thick, gone thick, like a potato, like a melon, like a bread roll, water in knee, water in my knee, water on the knee, come up like",
    ),
    (&[NoSweat], "sweat no more, sweat any more, no sweat comes"),
    (
        &[Closing],
        "closin, less place, less room, from cartoon, like a cartoon, getting narrower, fills my mouth",
    ),
    (&[Throat], "throats, tounge"),
    (&[Chest], "nipple, left nipple, my breast, the breast, breast bone"),
    (&[OddBeat], "out of all rhythm, two quick ones, then a gap, like a frog, jumping like"),
    (
        &[Grumble],
        "unfriendly, protested, objected, objects, object to, objecting, yelped, yelps, not amused, does not like, doesnt like, dont like, do not like, murders, disagrees, in a huff, cookd, cooked, spazzed, spazzd, sulks, has enough, nags on",
    ),
    (
        &[Injury],
        "made me broken, overstretched, over stretched, pulld, ripd, sprained, hurt me when, hurt me self",
    ),
    (&[Hurt, Injury], "ripped something, ripped smth, hurted myself, made myself broken, have hurt me"),
    (&[Muscle], "armpit, thumb root, root of the thumb, base of my thumb, base of the thumb"),
];
