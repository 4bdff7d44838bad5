//! Figures of an invented rowing club, and of whatever else may come.

use chalkbell::bot::figure::{
    Cell, Figure, LiftFigure, LiftPoint, MuscleLine, TeamFigure, TeamLine, WeekFigure,
};
use chalkbell::domain::coaching::week::Band;
use chrono::{Days, NaiveDate};

/// The muscles of the catalogue.
pub const MUSCLES: [&str; 17] = [
    "chest",
    "back",
    "traps",
    "side delts",
    "front delts",
    "rear delts",
    "biceps",
    "triceps",
    "forearms",
    "lower back",
    "abs",
    "glutes",
    "quads",
    "hamstrings",
    "adductors",
    "abductors",
    "calves",
];

/// Members of the winter group, some with names that are hard to draw.
pub const MEMBERS: [&str; 20] = [
    "Ines",
    "Tomás",
    "Anna-Lena",
    "Bo",
    "Wilhelmina Featherstonehaugh",
    "Юлия",
    "דנה לוי",
    "\u{1f6a3}\u{1f6a3}",
    "Z\u{351}\u{36b}\u{343}a\u{32f}l\u{489}go",
    "Mårten",
    "山田花子",
    "O'Neill",
    "Ngọc Ánh",
    "Σοφία",
    "Hans-Joachim-Friedrich",
    "m",
    "WWWWWWWWWWWWWWWWWWWW",
    "Åse",
    "José María",
    "Priya \u{1f4aa}",
];

/// The first day of the figures' week.
pub fn monday() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 23).expect("a day")
}

fn sunday() -> NaiveDate {
    monday() + Days::new(6)
}

/// A number that looks thrown, the same every time.
pub fn thrown(seed: u64, below: u32) -> u32 {
    let mut x = seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ 0x5851_f42d;
    x ^= x >> 31;
    x = x.wrapping_mul(0xbf58_476d_1ce4_e5b9);
    u32::try_from((x ^ (x >> 29)) % u64::from(below)).expect("a small number")
}

fn halves(seed: u64, below: u32) -> f64 {
    f64::from(thrown(seed, below)) / 2.0
}

/// A week of so many muscles with all kinds of standing.
pub fn week(muscles: usize) -> Figure {
    let line = |(n, muscle): (u64, &str)| {
        let twice = thrown(n + 3, 50);
        let counted = f64::from(twice) / 2.0;
        MuscleLine {
            stands: None,
            muscle: muscle.to_owned(),
            counted,
            direct: twice / 3,
            low: if n % 5 == 4 { 0 } else { 10 },
            high: 20,
            before: (0..4).map(|back| halves(100 + 7 * n + back, 44)).collect(),
        }
    };
    Figure::Week(WeekFigure {
        whose: None,
        from: monday(),
        to: sunday(),
        sets: 74,
        not_counted: 9,
        muscles: (0..).zip(MUSCLES).take(muscles).map(line).collect(),
    })
}

/// A beginner's first week: three muscles trained, the others not yet.
pub fn first_week() -> Figure {
    let line = |muscle: &str, counted: f64, direct: u32| MuscleLine {
        stands: None,
        muscle: muscle.to_owned(),
        counted,
        direct,
        low: 4,
        high: 12,
        before: vec![0.0; 4],
    };
    Figure::Week(WeekFigure {
        whose: Some("Tomás".to_owned()),
        from: monday(),
        to: sunday(),
        sets: 7,
        not_counted: 1,
        muscles: vec![
            line("chest", 4.0, 4),
            line("back", 3.0, 3),
            line("side delts", 2.0, 0),
            line("quads", 0.0, 0),
            line("hamstrings", 0.0, 0),
        ],
    })
}

/// A week without anything to show.
pub fn empty_week() -> Figure {
    Figure::Week(WeekFigure {
        whose: Some("Ines".to_owned()),
        from: monday(),
        to: sunday(),
        sets: 0,
        not_counted: 0,
        muscles: Vec::new(),
    })
}

/// Sets that nobody does.
pub fn wild_week() -> Figure {
    let line = |muscle: &str, counted: f64, direct: u32, high: u32| MuscleLine {
        stands: None,
        muscle: muscle.to_owned(),
        counted,
        direct,
        low: 10.min(high),
        high,
        before: vec![1e9, 0.0, 55.5, f64::INFINITY],
    };
    Figure::Week(WeekFigure {
        whose: Some("Wilhelmina Featherstonehaugh-Montgomery of the Long Water".to_owned()),
        from: NaiveDate::from_ymd_opt(2026, 12, 28).expect("a day"),
        to: NaiveDate::from_ymd_opt(2027, 1, 3).expect("a day"),
        sets: u32::MAX,
        not_counted: u32::MAX,
        muscles: vec![
            line("chest", 123_456.5, 99_999, 20),
            line("a muscle with a very long name indeed", 14.5, 14, 20),
            line("back", 40.0, 30, 20),
            line("traps", 3.0, 3, 3),
            line("quads", f64::NAN, 0, 4_000_000),
        ],
    })
}

/// A lift over so many days, `apart` from each other, with a pause in the middle.
pub fn lift(days: usize, apart: u64, pause: u64) -> Figure {
    let mut day = NaiveDate::from_ymd_opt(2026, 9, 1).expect("a day");
    let mut points = Vec::new();
    for n in 0..days {
        let progress = n as f64 / days.max(2) as f64;
        let middle = 82.0 + 14.0 * progress.sqrt() + halves(n as u64, 8) - 2.0;
        let wide = 0.05 + 0.14 / (1.0 + n as f64 / 2.0);
        points.push(LiftPoint {
            day,
            middle,
            low: middle * (1.0 - wide),
            high: middle * (1.0 + wide),
        });
        day = day + Days::new(if n == days / 2 { apart + pause } else { apart });
    }
    Figure::Lift(LiftFigure {
        exercise: "bench press".to_owned(),
        unit: "kg".to_owned(),
        points,
        sets: Vec::new(),
    })
}

/// A team of so many members by so many muscles.
pub fn team(members: usize, muscles: usize) -> Figure {
    let cell = |seed: u64| {
        let low = if seed % 17 % 5 == 2 { 0 } else { 10 };
        let band = Band { low, high: 20 };
        // Mostly in the band, as in a good week.
        let counted = match thrown(seed, 10) {
            0..2 => halves(seed, 20),
            2 => 20.5 + halves(seed, 12),
            _ => f64::from(band.low) + halves(seed, 20),
        };
        Cell::in_band(counted, band)
    };
    let line = |n: usize| TeamLine {
        name: MEMBERS[n % MEMBERS.len()].to_owned(),
        sets: 60 + thrown(n as u64, 40),
        cells: (0..muscles).map(|m| cell((n * 17 + m) as u64)).collect(),
    };
    Figure::Team(TeamFigure {
        mean_of: None,
        weeks_of: None,
        from: monday(),
        to: sunday(),
        page: (1, 1),
        muscles: MUSCLES
            .iter()
            .take(muscles)
            .map(|&m| m.to_owned())
            .collect(),
        members: (0..members).map(line).collect(),
    })
}

/// Every figure that is looked at, by name.
pub fn gallery() -> Vec<(&'static str, Figure)> {
    vec![
        ("week-typical", week(12)),
        ("week-first", first_week()),
        ("week-empty", empty_week()),
        ("week-17", week(17)),
        ("week-wild", wild_week()),
        ("lift-one", lift(1, 3, 0)),
        ("lift-few", lift(4, 3, 0)),
        ("lift-pause", lift(24, 4, 40)),
        ("lift-many", lift(400, 2, 60)),
        ("team-3", team(3, 9)),
        ("team-20", team(20, 17)),
        ("team-30", team(30, 17)),
        ("team-60", team(60, 17)),
    ]
}
