//! Ordinary words within a slip's distance of a word of the lists: `chess` is no `chest`.
//!
//! A list, no logic. It holds the common English words that near; when a list gains a word, the
//! words near it are added.

/// The words, in alphabetic order.
pub(super) const LIST: &str = "\
aback abdomens aced aces acha acing acme acmes acne acre acres acted acting action alms alts \
angles anklet anklets arched arches arching arcs ares arks army arts ashed ashes ashing ashy atms \
aurae aural auras backs badder bake baled balk balloons bane banes banks banns bans bark bask bast \
basted bather bathers bathrooms batten beak beaks beams beans bears beasts beata beaus beck beets \
belay bella bells belts bents berth bested bests betas beth bets bilge billy bind bitter bittern \
blackouts bladders blake bland blander blanks bleak bleats bleep bleeping bleeps bleh blend \
blended blender blending blends bletch blinder blinds blink blinked blond bloods bloom blow blows \
blued bluer blur blurb blurs blurt blush blvd bode bodes boke bole boles bond bonds boned boners \
boney bong bongs bonus bony booing booth bore bores borne botch botches bowed bower bowl boxes \
braise braising braked brakes brats brave brea breach breaches breaching breadth breadths breaks \
breasting breathed breathers bred breed breeder breeding breeds brett brew brisking broker brood \
broth brothers brushing buck bucking budge budging bugging bugle bugling bulged bulges bulling \
bullock bully bumps bumpy bums bunging bungs bunt bunted burger burners burp burr burst bursted \
bury bused bushed busied buss bussed bustled busts busy buts butte butts cache cached caches \
caching cackle cali califs calk calks calms calve camp camped candle care carves cashed cashes \
cast casually catchers catchings cats caves certain champ champed chan chas chat cheats check \
cheeks cheeky cheep cheer chef chefs chem chen cher chests chet chews chia chic chick chid chil \
chink chins chocked chocking choke choker chokes chore chowed chowing chun clam clammed clamp \
clamps clams clap clapped clasp clasped clement clerical click clinch clomp clomped clump clumped \
clutched coaching cocked code coin coked coking cole compares concurs cone confuse confuses \
confusing confuted construct consuls contused contusion cope cora cored cores cork corm corn corp \
cote cots cove cram crams crashing creek cricket crimp croaked crock crooned crouch cruising \
crumbled crushes crusted crusting cubs cuds cues cuffs cults cums cups curs curtail curtains cuss \
cute cyst daisy dared dated daze dazes dealt debt debts deft deli delicious deliriums delis dell \
dells delta deltas dent dents dept dipping disco discomforts discos discus dish disk disks ditzy \
dolt dolts donor doodling dooms doubted dozed drabs drafting drafts drams draws drays dregs drift \
droll drool drooled drooling droppings dropsy drugging drugs duel dueled duels dwelt eighty \
elephants emergence ewes eyebrows eyelids faced facet fade fading fain fainer fake faking fame \
farce fare faring fate fating fave faye faze fazing feint feinted feinting fest fiat fifty firearm \
firearms fish fits fittings fizz fizzling flab flack flag flak flaming flan flanks flapped \
flapping flaps flashed flasher flashers flashest flask flatter flattery flaw flax flay fleshes \
flies flint flip flipped flips flits flitting float floats floe floes flog flogs floopy flopping \
flor floss flow flows flunk flushes fluster foal foaling fogey fogy foist folder fops forbears \
forded forge forged forger forges forgets forming forty framing frizzing frizzy fuzz fuzzing fuzzy \
gabbing gabbled gabbling gabled gabs gads gags gals gambled gape gapes gaping gapping garbed \
garble garbles gargled gasp gasped gasps gassing gays gaze gazed genital gets gigging glaze glazed \
glue glut gluts glutted gnash gnashed goggling goin goo gosh grace graced grade graded grain grape \
graped grasp grasping grate grated grave graved grayed grepped grepping grin griped griping groan \
groins grown grubbing gulling gums guns gush gushed gust gusting gusts gyps haft hagging hags hals \
halt hamstrung handing hangin hangings hanks hare hari hark harm harms harp harts hats haves haws \
hays heady heap hear hears hearth hearths hearty heats heave heft held helm helo helps hemp hems \
herb herd herniae hernias hertz hide hides hies hikes hims hinging hings hire hires hiss hived \
hoeing holing homing honing hoot hops horned hornets horsing hospitals hosting housing hove huger \
hugh hugs hums hunt hunted hunting hunts hurled hurling hurls hurtled hurtling huts iii inching \
incising infect inject insects insert inset inspect insure insured inure inured jabs jags jambed \
jambing jams jared jays jell jells jerkin jerkins jibbing jobbing join joins joist joists jolly \
jumble jumbles jumpy keened killings kilning kilting kiwis kneel kneeled kneeling kneels knelt \
knew knifed knifes labium labs lacked lacking lacks lags lamb lambs lamp lams lang lass lasts lath \
laths latr laws lays leas lees lego leis lens licked licking licks lids lies ligatures limbo \
limbos lime limes limn limns limo limos limy ling lisp lisps locket locus logs loll longs looked \
lops lucked lucking lucks lugs lumber lumps lumpy lune malted malting manga mange manged mangle \
mangles mangy mantled mash massed masses mattes meddled melded melding mesh meshed messes meted \
meting mingled misled missive missus misted misused misuses molted molting mosses moth mouths muah \
muddied muddle muddles muse mushy musk muss mussed musses name napes naps nate nave needled nerved \
nestle nestles nets nicks ninety nits nock node noes noose nosed noses nosey nosh nosy note nubs \
numbs nuns okie omen opens overdoes overdone oxen paella pail pailful pails paint painted painting \
paints paired pairing pales pall palled palling palls palpitating pals pane panes pani panned \
panning pans pant paps parlays parse parses parsing parting passes pasting patine patting pawn \
pawned pawning pawns payne peas pecks peek peeking peeks peel peeling peels peep peeping peeps \
peer peering peers peeving pegs pelves pelvic pencilling pend penes pens peps pets pews piano pics \
pied pieing pies pigs piles pilled pilling pine pined pings pining pins pips pish pitch pitched \
pitches pitching pits plain plains planting pled pluses poll polled polling pong poop poops \
positing poss pres pressings pressured pressures prick pricks primates printing private privater \
privatest puffier puffin puffins puffs pullet pulp pulped pulping pulps pulsed pulses pulsing \
punched punching punchy punting purl purled purling purpler purples purse puss quay quays quids \
rach racked radios radium ramping rams rape raping rapping rasp ratting reed relieve relieved \
relievers repping restrooms riced rids rigs rims rind ripe rippling rips risked rits robe robs \
rocked rode roiled role roller roped ropes rote rubs ruin rumbling sacs saddled saddles saga sagas \
sage sages sago samc sams sans sapped saps sarape sash sass sating saws saying scab scabbed \
scabbing scabby scabs scagged scags scalping scams scaring scarred scars scattered scoffed \
scooting scoots scrabbled scrap scraper scrapes scrapped scrapping scraps scrimp scruffed scrum \
scuffled sealing seaming seams sears seating seize seizes selled sensations serape seventy shabby \
shack shagged shagging shaggy shags shams shan shard share sharing shark sharps shearing shell \
shelled shies shim shimmy shims shine shines shinned shinning shinny shiny shipped shipping ships \
shooing shoos shoot shorting shots shouting shouts shuck shun shuns shuttered siding silvering \
simile sine sing singeing singer singing singling sings sinned sinning sins sipped sipping sips \
siting sixty sized sizing skid skids skies skiff skim skimming skimp skimped skimping skimps skims \
skinning skins skipper skis skit skits slab slabbed slabbing slabs slacks slags slaked slams slap \
slapped slashed slats slaying slays sleeps sleety slew slicing slick slicked slide slim slime \
slimming slims slinging slings slippy slit slivering slops slosh slue slug sluice sluiced slum \
slummed slums slung slush slut smart smash smashes smearing smell smelled smiled smiles smiley \
smite smoulder smoulders snack snagged snagging snags snaked snaring sniff snip snipped snipping \
snips snitch snitches snoots snubbed snuck snuffed soap soaped soaps soared soaring soars socked \
soggy soles soothing soppy soups sour sous space spaced spaces spacy spain spam spams spanning \
spans sparely sparing sparkle sparkled sparkler sparklers spars spas spattered spaying spearing \
spell spelled spice spiced spies spike spin spinals spines spinet spins spiny spiral spire spite \
spits splash splat splice spliced spline sporting sports spouting sprang sprinted spur spurning \
spurns spurred spurring spurs spurt squashes squawking squeal squealing squeals squinting squiring \
squirming squishing stabled stabling stacey stag stags stain stained staining staked stan star \
stare stares staring stark starkly stash stat stats staying stays steeps stew stiffs stile \
stingers stingier stingy stink stinker stinking stinks stint stinting stints stirs stitched stock \
stolen stomachs stoop strainer strains strait stranded stranding stringed stringer stringing \
strings strung stub stubbing stubby stubs stuffed stumped stun stunk stuns stunt subbed suck suing \
sung supine supper swab swabbed swabbing swabs swaddle swagged swagging swags swaps swash \
swattered swearing swill swilled swine swinger swinging switch switches tapped tapping taps tardy \
tare tarp tarps tars teak teaks teals teams teary teas teats teethe tended tenders tending tenner \
tenon tenser tensing tern terry testing texting thicker thirty thorn threat threats threshing \
throats throaty throe ticked tickers tickle tinder ting tinge tinged tingeing tinging tings tinker \
tinkled tinkles tinny tinting tippled toiled toiler toilets toke tome tommy tone tongued tongues \
toot toots topped tors tort torte tote tourniquets town tramped tramps trams trans trapper \
trashing tray trays trice triplet trips tron troth truck trump trumps trunks tsars tucker twanging \
tweeted twenty twerk twerked twigged twigging twine twined twining twinkle twinned twinning \
twister twitted tzars unusable uric urinals vain vase veil vern vibe viced vices vies vile vince \
vine visa vised vises waists wand warp wash wasn wasps weaken weal wean wear weaver webs weeding \
weeds weedy weep weeping weeps weer weest wefts weld welds wells welt wenched wend wended wens \
wets whee whist whists whittling wholly wilts winced windpipes winds windy wine wined winged wink \
winked wins wisp wispy wist wobbled woes wombles woodiness woodmen woody woolen wooly wounds wreak \
wrenches wrest wrests wretched wriest writs yacked yakked zinc zipped zips";
