//! Ordinary words within a slip's distance of a word of the lists: `chess` is no `chest`.
//!
//! A list, no logic. It holds the common English words that near; when a list gains a word, the
//! words near it are added.

/// The words, in alphabetic order.
pub(super) const LIST: &str = "\
aback abdomens aced aces acing acne acre acres acted acting alms arched arches arching arcs ares \
arks army arts ashed ashes ashing aurae aural auras backs badder baled balk balloons bark bask \
basted bathrooms beak bells berth bested bind bitter blackouts bladders bland blander blanks \
bleak blend blended blending blends blinder blinds blink blinked blond bloods bloom blow blows \
blued bluer blur blurb blurs blurt bode bodes bond bonds boned boney bonus bony booing booth bore \
bores borne botch botches boxes braise braising braked brakes brave breach breaches breaching \
breadth breadths breaks breasting breathed breathers bred breed breeding breeds brew brisking \
broker brood broth brothers brushing buck bucking budge budging bugging bugle bugling bulged \
bulges bulling bully bumps bumpy bums burger burners burp burr burst bursted bury bused bushed \
busied bustled busts busy buts butte butts cache cached caches caching calk calks calms calve \
camp care carves cashed cashes cast casually catchings cats caves certain champ chat cheats check \
cheeks cheep cheer chef chefs chests chews chic chick chid chink chins chore chowing clamp \
clerical click clinch clutched coaching cocked code coin coking compares concurs cone construct \
consuls cope cored cores cork corn cots cove cram crams crashing creek cricket croaked crock \
crooned crouch cruising crushes crusted crusting cubs cues cuffs cults cums cups curtail curtains \
cute cyst daisy dared dated daze dazes dealt debt debts action deft deli delicious deliriums delis \
delta deltas dent dents dipping disco discomforts discos discus dish disk disks donor dooms \
doubted dozed drool drooled drooling droppings duel dueled duels dwelt eighty elephants emergence \
ewes eyebrows eyelids faced facet fade fading fake faking fame farce fare faring fate fating faze \
fazing feint feinted feinting fifty firearm firearms fittings fizz fizzling flag flak flaming \
flanks flapped flapping flaps flashed flasher flashest flask flatter flaw fleshes flint flip \
flipped flips flitting float floats flog flogs flopping floss flow flows flunk flushes fluster \
foaling fogey fogy folder forbears forded forge forged forger forges forgets forming forty \
framing frizzy fuzz fuzzing gabs gags gals gambled gape gapes gaping garbed garble garbles \
gargled gassing gays gaze gazed genital gets glaze glazed glue glut gluts glutted gnash goo gosh \
grace graced grade graded grain grape grasp grasping grate grated grave graved grayed grin \
griping groan groins grown gums guns gush gust gusting gusts hags halt hamstrung handing hangings \
hare hark harm harms harp harts hats haves hays heady hear hears hearth hearths hearty heats \
heave hems herb herd herniae hernias hide hides hikes hims hinging hire hires hiss hived hoot \
hops horned hornets hospitals hove huger hugs hums hunt hunted hunting hunts hurled hurling hurls \
hurtled hurtling huts iii inching insure insured jabs jams jays jell jells jobbing join joins \
jolly jumble jumbles killings kilning kiwis kneel kneeled kneeling kneels knelt knew knifed \
knifes labs lacked lacking lacks lags lamb lambs lamp lass lasts lath laths laws lays lens licked \
licking licks lids lies ligatures limbo lime limes lisp lisps locket logs loll longs looked lops \
lucked lucking lucks lugs lumber lumps lumpy mangle mangles mantled mash massed mattes meddled \
mesh meshed messes mingled missive moth mouths muddied muddle muddles muse mushy musk muss mussed \
name napes naps needled nerved nets nicks ninety nits node noes noose nosed noses nosey nosy note \
numbs nuns omen opens overdoes overdone oxen pail pails paint painted painting paints paired \
pairing pales pall palled palling palls pals pane panes panned panning pans pant parting pasting \
patting pawn pawned pawning pawns peas pecks peek peeking peeks peel peeling peels peep peeping \
peeps peer peering peers peeving pegs pelves pelvic pencilling pend penes pens peps pets pews \
piano pies pigs piles pilled pilling pine pined pining pins pitch pitched pitches pitching pits \
plain plains planting pled poll polled polling poop poops pressings pressured pressures prick \
pricks primates printing private privater privatest puffier puffs pulp pulped pulping pulps \
pulsed pulses pulsing punched punching punting purpler purples purse puss quay quays racked \
radios radium rams rape raping rapping rasp ratting reed riced rids rigs rims ripe rips risked \
robe robs rocked rode role roller roped ropes rote rubs ruin rumbling sacs saddled saddles saga \
sagas sage sages sapped saps saws saying scab scabbed scabbing scabs scalping scaring scarred \
scars scattered scoffed scooting scoots scrap scrapes scrapped scrapping scraps scuffled sealing \
seaming sears seating seize seizes seventy shabby shack shaggy share sharing shark sharps \
shearing shell shies shine shines shinned shinning shiny shipped shipping ships shooing shoos \
shoot shorting shots shouting shouts shuck shun shuns shuttered simile sine sing singeing singer \
singing singling sings sinned sinning sins sipped sipping sips siting sixty sized sizing skids \
skies skimming skimped skimping skimps skims skinning skins skipper skis skits slab slabbed \
slabbing slabs slacks slaked slams slap slapped slashed slats slaying slays slew slick slicked \
slide slime slimming slinging slings slit slops slug sluice sluiced slum slummed slung slut smart \
smashes smearing smell smiled smiles smite smoulder snack snagged snagging snags snaked snaring \
sniff snipped snipping snips snitch snitches snubbed snuck snuffed soaped soaps soared soaring \
soars socked soggy soles soothing sour space spaced spaces spanning spans sparing sparkle \
sparkled sparkler sparklers spars spas spattered spaying spearing spell spice spiced spies spike \
spin spinals spines spiral spire spite spits splat splice spliced sporting sports spouting sprang \
spur spurning spurns spurred spurring spurs spurt squashes squinting squiring squirming stabled \
stabling stag stags stain stained staining staked star stare stares staring stark staying stays \
steeps stew stiffs stingers stingier stingy stink stinking stinks stint stinting stints stirs \
stitched stock stolen stomachs stoop strainer strains strait stranded stranding stringing strings \
strung stub stubbing stubby stubs stuffed stumped stun stunk stuns stunt subbed suck suing sung \
supper swab swabbed swabbing swabs swaps swearing swill swine swinging switch switches tapped \
tapping taps tars teak teaks teams teas teats teethe tended tenders tenser thicker thirty thorn \
threat threshing throats ticked tickle tinder ting tinge tinged tingeing tinging tings tinker \
tinkled tinkles tinny toiled toilets tome tone tongued tongues toot toots tote town tramped \
tramps trapper trashing tray trays triplet trips tsars twanging tweeted twenty twigged twigging \
twine twined twining twinkle twinned twinning twister tzars unusable vase viced vices vies vile \
vine visa vised vises wand warp wash wasps weaken wean wear weaver webs weeding weeds weedy weep \
weeping weeps weer weest weld welds wells welt wets whittling wilts winced windpipes winds windy \
wine wined winged wink winked wins wisp wispy wist wobbled woes woody wooly wounds wreak wrenches \
wrest wretched wriest writs yacked yakked zinc zipped zips";
