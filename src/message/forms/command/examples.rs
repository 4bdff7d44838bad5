//! Two lines for each command that can be typed as they stand: they are shown with `/help WORD` and
//! with every refusal.

/// The examples of each command, members' first.
#[rustfmt::skip]
pub const EXAMPLES: &[(&str, [&str; 2])] = &[
    ("next", ["/next squat", "/next bench press why"]),
    ("rest", ["/rest", "/rest off"]),
    ("today", ["/today", "/today thu"]),
    ("warmup", ["/warmup squat", "/warmup"]),
    ("fit", ["/fit 45", "/fit 30 pairs"]),
    ("history", ["/history bench press", "/history yesterday"]),
    ("best", ["/best squat", "/best"]),
    ("summary", ["/summary", "/summary channel"]),
    ("week", ["/week", "/week last week"]),
    ("volume", ["/volume quads", "/volume"]),
    ("accuracy", ["/accuracy", "/accuracy ines"]),
    ("undo", ["/undo", "undo"]),
    ("units", ["/units kg", "/units lb"]),
    ("rack", ["/rack bar 15, plates 20 10 5 2.5", "/equipment dumbbells 10-35 by 5"]),
    ("bodyweight", ["/bodyweight 82 kg", "/bodyweight 180 lb"]),
    ("experience", ["/experience 6 months", "/experience 3 years"]),
    ("plan", ["/plan", "/plan ines mon: back squat 4x6-10 2rir"]),
    ("block", ["/block", "/block team 2rir; 1rir; 2rir; 4rir 50%"]),
    ("target", ["/target", "/target ines chest 10-14"]),
    ("catalogue", ["/catalogue press", "/catalogue add towel row like barbell row target back"]),
    ("digest", ["/digest", "/digest mine on"]),
    ("team", ["/team", "/team last week"]),
    ("attention", ["/attention", "/attention last week"]),
    ("review", ["/review", "/review ines"]),
    ("note", ["/note ines", "/note ines new shoes"]),
    ("clear", ["/clear ines", "/clear ines back squat"]),
    ("settings", ["/settings zone Europe/Berlin", "/settings quiet 22:00-07:00"]),
    (
        "import",
        [
            "/import check\nmember,date,exercise,load,reps\nines,2026-11-23,bench press,60,10",
            "/import\nmember,date,exercise,load,reps\nines,2026-11-23,bench press,60,10",
        ],
    ),
    ("export", ["/export", "/help export"]),
    ("forget", ["/forget", "/help forget"]),
    ("help", ["/help", "/help fit"]),
];

/// The examples of a command.
pub fn examples(word: &str) -> Option<[&'static str; 2]> {
    let found = EXAMPLES.iter().find(|(known, _)| *known == word)?;
    Some(found.1)
}
