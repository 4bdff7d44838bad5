//! Ordinary words that look like slips of exercise names and are none: `wings` is no `swings`.
//!
//! A list, no logic. It holds the common English words within the distance at which a slip is
//! mended and from which a name of the catalogue would come; words that the lexicon knows need no
//! place here. When the catalogue gains a name that ordinary words resemble, they are added.

/// The words, in alphabetic order.
pub(crate) const LIST: &str = "\
abducted aboard addiction addictions addition additions aide alternative arise arrow aside asses \
auctions australia austrian backseat band bands banging banks barber bare bark barrel bart bases \
bats beaches beads beard beck beds beech benchmark benchmarks bind bitterly blacks bleached \
bleaching blend blocks blow boards bolt bond bonds bosses bout bows boyd branched branches \
branching breached breaches brent brides bridget bring brock brow brows brunch buck bugs bulbs \
bulge bulls buses butterflies cain calif cats cave caves cent chains chan chang chen chia chic \
ching chino chit chose chun churches clan clans cleaners cleanse cleanser clears clock clone \
closer closes closet clutches coin coins concentrations convention conventionally conventions \
cope cops cover covers cows crack crop crops crows crutches cures cursed curt curved dads dang \
dawn deaf deal dealings deals dealt dean deans dear debt debts declares action actions definite \
delta dent diamonds dies digs diss domain domains dope dragons dresses drift drip drone drown \
ducks dull dump dying eats ends eternal ewing exit expansion extensive faced fade fake fame fare \
fate feat files firearm fitting flats flaws fled flee float flock floors flow flyers flying \
forwards freed fries frost gang gift gifts glow glue gold gown grid grim grows hammered handing \
handling hangs hank hanks harm hastings hats hawk hawks heads heal hear heated heck hicks hide \
hitting hong hood hugh hung hurled hype hyped hypertension includes infected inherited injected \
inserted invented invested jacks jerky kent kettle kettles king kirk knew labs lace lacks lang \
lange laps lasts laws laying lays lead leads lean leans lens liberals lick lies life lips lock \
logs lose lover lovers lows lump machinery mack marching matching material meal meanings meat \
melt militant monkey mounting mourning muscles neat null oman oven overload overseas owing owns \
packs perk perks phone pick pills pine ping pink pins pint pistons plane poker poll pope powder \
powers praises preached premises pressures prisoners probe processed processes prose prove pulp \
pumps raman rang ranging rank rats reads relation relations remains rick ride ridges ripe rips \
rises roar rock rode rods rohan role roma romances romano rome ronan ropes ross rotating rover \
rowe russia russians sacks safely sand sang scanning scratches sealed seals searches seas seats \
seed sends sent sept settings settling sewing shack shed shifting shops shrubs shutting sick \
sided sigh sing sings size sketches skill skills slate slide sling snatched snitch sounding \
spending spiders spin splitting staff stan stands starring starving stated steal sting stings \
stitches strand strictly stunning sued suing suit sums supporter supporters supports swine \
switches talking tear tears tend tends tent text thin thorough thoughts tick tide tips tone \
tower town towns track tray tree trips trusted trustees trusts tying understand valve vent vows \
wade waking wang wear weighed whack whip wider wine wingers wingman wings wipe wire wise woman \
woods woody wool yang";
