//! Words that lines of plans are written with, besides what they count; for [`has`](crate::message::words::variants::has).

/// Words that carry nothing of their own once the facts beside them are read.
pub(super) const FILLERS: &str = "\
    of then do for at a an the about around with each reps rep sets set on in and to rest x work \
    working all leaving leave finish using by per go as between repetitions every s after off up \
    top back backoff rounds round try this is it reserve left but exercise your perform complete \
    weight load";

/// Words that make advice to the lifter of the clause that they stand in, numbers and all.
pub(super) const ADVICE: &str = "\
    add when if once increase progress reduce until week weeks next keep try focus think add. can \
    should feel feels aim goal first last final more between use hit start go stay don't before \
    after every rep";

/// Words of speech around what is planned: `tonight it's squats`, `after that leg press`, `bench for the others`.
pub(super) const SPEECH: &str = "\
    tonight today tomorrow it's its is are we we'll we're i i'd i'll you you'll let's that this \
    there there's here also again still please everyone everybody all others rest will would like \
    want have has be going doing does got just only same usual as the for to in from and so ok \
    right well first second third after before later";

/// Words that may stand before a name and leave it what it is.
pub(super) const BEFORE_A_NAME: &str = "\
    then do finish some comp competition paused low high bar heavy light slow strict banded \
    weighted tempo main the on of x supersetted superset explosive speed dynamic now your a reps \
    sets set with full range rep each - * • iso isometric for by start up warm work last next \
    extended top optional double";

/// Words that may stand behind a name and leave it what it is.
pub(super) const AFTER_A_NAME: &str = "\
    machine variation holding until building drop down negatives holds hold alternating paused \
    pause week weekly singles doubles triples waves wave pyramid ramp ramping amrap max clusters \
    cluster day today again only optional build leaving stop focus warmup";
