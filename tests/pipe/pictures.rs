//! Pictures: where things stand on a layout, what can be read on it, and what the file looks like.
//!
//! Snapshots lie in `tests/data/pictures/`, a quarter of the size in grey; `CHALKBELL_BLESS=1 cargo
//! test --test pipe pictures::` writes them anew, and the pictures themselves to the folder that
//! `CARGO_TARGET_TMPDIR` names, to be looked at.

#![expect(clippy::expect_used, reason = "a helper of tests may fail the test")]

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use crate::support::figures;
use chalkbell::bot::figure::{
    Cell, Figure, LiftFigure, LiftPoint, LiftSet, MuscleLine, TeamFigure, TeamLine, WeekFigure,
};
use chalkbell::bot::text::picture::{LONGEST_ALT, alt};
use chalkbell::domain::coaching::week::Band;
use chalkbell::picture::layout::{Area, Layout, Shape, TEXT, Text, WIDTH};
use chalkbell::picture::palette::{Colour, DUST, OVER, SLATE, UNDER, WITHIN};
use chalkbell::picture::{Picture, draw, layout};
use proptest::prelude::*;

/// Largest file: 200 kB.
const LARGEST: usize = 200_000;

/// The figures that are looked at, drawn once.
fn drawn() -> &'static [(&'static str, Figure, Picture)] {
    static DRAWN: OnceLock<Vec<(&str, Figure, Picture)>> = OnceLock::new();
    DRAWN.get_or_init(|| {
        let all = figures::gallery().into_iter();
        let draw = |(name, figure)| {
            let picture = draw(&figure).expect("a picture");
            (name, figure, picture)
        };
        all.map(draw).collect()
    })
}

fn texts(layout: &Layout) -> Vec<&Text> {
    let mut texts = Vec::new();
    for shape in &layout.shapes {
        if let Shape::Text(text) = shape {
            texts.push(text);
        }
    }
    texts
}

fn said(layout: &Layout) -> Vec<&str> {
    texts(layout)
        .iter()
        .map(|text| text.text.as_str())
        .collect()
}

/// Letters with accents reach into the space above a line; what must not overlap is what there
/// nearly always is.
fn core(text: &Text) -> Area {
    let area = text.area();
    let (a, b) = (0.22 * text.size, 0.05 * text.size);
    if text.upright {
        Area {
            left: area.left + a,
            right: area.right - b,
            ..area
        }
    } else {
        Area {
            top: area.top + a,
            bottom: area.bottom - b,
            ..area
        }
    }
}

/// Faults of a layout: texts that overlap, are too small, or leave the layout, and shapes that do.
fn faults(layout: &Layout) -> Vec<String> {
    let mut faults = Vec::new();
    let texts = texts(layout);
    let inside = |area: &Area| {
        area.left >= 0.0 && area.top >= 0.0 && area.right <= WIDTH && area.bottom <= layout.height
    };
    for (place, text) in texts.iter().enumerate() {
        if !inside(&text.area()) {
            faults.push(format!(
                "`{}` leaves the layout: {:?}",
                text.text,
                text.area()
            ));
        }
        if text.size < TEXT {
            faults.push(format!("`{}` is too small: {}", text.text, text.size));
        }
        for other in &texts[place + 1..] {
            if core(text).meets(&core(other)) {
                faults.push(format!("`{}` and `{}` overlap", text.text, other.text));
            }
        }
    }
    for shape in &layout.shapes {
        let points = match shape {
            Shape::Rectangle(area, _) if !inside(area) => {
                faults.push(format!("a field leaves the layout: {area:?}"));
                continue;
            }
            Shape::Shape(points, _) => points.clone(),
            Shape::Line { along, .. } => along.clone(),
            Shape::Dot(middle, ..) => vec![*middle],
            Shape::Rectangle(..) | Shape::Text(_) => continue,
        };
        for point in points {
            if !inside(&Area::new(point.x, point.y, 0.0, 0.0)) {
                faults.push(format!("{shape:?} leaves the layout"));
            }
        }
    }
    faults
}

#[test]
fn nothing_overlaps_or_leaves_its_sheet() {
    for (name, figure) in figures::gallery() {
        let faults = faults(&layout(&figure));
        assert!(faults.is_empty(), "{name}: {}", faults.join("\n"));
    }
}

#[test]
fn an_overlap_and_a_lost_text_are_found_out() {
    use chalkbell::picture::layout::at;
    let text = |x, y| Shape::Text(Text::new("Ines", at(x, y), DUST));
    let layout = |shapes| Layout {
        height: 100.0,
        shapes,
    };
    assert_eq!(
        faults(&layout(vec![text(10.0, 50.0), text(30.0, 55.0)])).len(),
        1
    );
    assert_eq!(
        faults(&layout(vec![text(10.0, 50.0), text(10.0, 84.0)])).len(),
        0
    );
    assert_eq!(faults(&layout(vec![text(1180.0, 50.0)])).len(), 1);
    assert_eq!(faults(&layout(vec![text(10.0, 10.0)])).len(), 1);
}

/// The colour of the last field or shape that was drawn before a text at its middle.
fn behind(layout: &Layout, until: usize, text: &Text) -> Colour {
    let area = text.area();
    let (x, y) = (
        (area.left + area.right) / 2.0,
        (area.top + area.bottom) / 2.0,
    );
    let covers = |shape: &&Shape| match shape {
        Shape::Rectangle(area, _) => {
            (area.left..=area.right).contains(&x) && (area.top..=area.bottom).contains(&y)
        }
        _ => false,
    };
    let found = layout.shapes[..until].iter().rev().find(covers);
    found.map_or(SLATE, |shape| match shape {
        Shape::Rectangle(_, colour) => *colour,
        _ => SLATE,
    })
}

#[test]
fn every_text_can_be_read_on_what_is_behind_it() {
    // Web Content Accessibility Guidelines 2.2, success criterion 1.4.3: 4.5 to 1.
    for (name, figure) in figures::gallery() {
        let layout = layout(&figure);
        for (place, shape) in layout.shapes.iter().enumerate() {
            let Shape::Text(text) = shape else { continue };
            let ratio = text.colour.contrast(behind(&layout, place, text));
            assert!(ratio >= 4.5, "{name}: `{}` at {ratio:.2}", text.text);
        }
    }
}

#[test]
fn files_are_small_and_have_words() {
    for (name, _, picture) in drawn() {
        println!("{name}: {} bytes", picture.png.len());
        // The bot makes pictures of twenty members at most.
        let allowed = if *name == "team-60" {
            2 * LARGEST
        } else {
            LARGEST
        };
        assert!(
            picture.png.len() <= allowed,
            "{name}: {}",
            picture.png.len()
        );
        assert!(picture.alt.chars().count() <= LONGEST_ALT, "{name}");
    }
}

#[test]
fn a_bar_is_as_long_as_its_sets() {
    let line = |counted: f64, direct| MuscleLine {
        stands: None,
        muscle: "chest".to_owned(),
        counted,
        direct,
        low: 10,
        high: 20,
        before: vec![2.0, 4.0, 6.0, 8.0],
    };
    let Figure::Week(week) = figures::first_week() else {
        panic!("a week")
    };
    let muscles = vec![line(5.0, 5), line(10.0, 4), line(25.0, 25)];
    let layout = layout(&Figure::Week(WeekFigure { muscles, ..week }));
    let widest = |colour| {
        let fields = layout.shapes.iter().filter_map(|shape| match shape {
            Shape::Rectangle(area, c) if *c == colour && area.left > 200.0 => {
                Some(area.right - area.left)
            }
            _ => None,
        });
        fields.fold(0.0, f32::max)
    };
    let (under, within, over) = (widest(UNDER), widest(WITHIN), widest(OVER));
    assert!((within / under - 2.0).abs() < 0.01, "{within} / {under}");
    assert!((over / under - 5.0).abs() < 0.01, "{over} / {under}");
}

#[test]
fn what_lies_off_the_band_has_a_shape_of_its_own() {
    let layout = layout(&figures::team(20, 17));
    let Figure::Team(team) = figures::team(20, 17) else {
        panic!("a team")
    };
    use chalkbell::domain::coaching::week::Standing;
    let cells = || team.members.iter().flat_map(|member| &member.cells);
    let off = cells()
        .filter(|cell| cell.standing() != Standing::Within)
        .count();
    let pointing = |up: bool| {
        let shapes = layout.shapes.iter().filter_map(|shape| match shape {
            Shape::Shape(corners, _) => Some(corners[2].y < corners[0].y),
            _ => None,
        });
        shapes.filter(|points_up| *points_up == up).count()
    };
    let over = cells()
        .filter(|cell| cell.standing() == Standing::Over)
        .count();
    // One of each stands in the legend.
    assert_eq!(pointing(true), over + 1);
    assert_eq!(pointing(false), off - over + 1);
}

#[test]
fn names_are_shortened_or_numbered_where_they_cannot_be_drawn() {
    let layout = layout(&figures::team(20, 17));
    let said = said(&layout);
    for expected in ["Ines", "Юлия", "no. 8", "Zalgo", "no. 11", "Priya"] {
        assert!(said.contains(&expected), "{expected}: {said:?}");
    }
    assert!(
        said.iter()
            .any(|text| text.starts_with("Wilh") && text.ends_with('…'))
    );
}

#[test]
fn members_beyond_the_room_are_counted() {
    assert!(said(&layout(&figures::team(75, 17))).contains(&"Not drawn: 15 members more."));
}

#[test]
fn a_pause_breaks_the_line_and_the_field() {
    let dashed = |figure: &Figure| {
        let layout = layout(figure);
        let lines = layout.shapes.iter();
        lines
            .filter(|shape| matches!(shape, Shape::Line { dashed: true, .. }))
            .count()
    };
    assert_eq!(dashed(&figures::lift(24, 4, 0)), 0);
    // One in the legend, one over the pause.
    assert_eq!(dashed(&figures::lift(24, 4, 40)), 2);
}

#[test]
fn words_say_what_is_off_the_band_and_the_totals() {
    let alt = draw(&figures::first_week()).expect("a picture").alt;
    assert_eq!(
        alt,
        "The counted sets of Tomás by muscle, 23–29 Nov 2026: 7 sets count, 1 does not. Under the aim: \
         back 3 of 4–12, side delts 2 of 4–12, quads 0 of 4–12, hamstrings 0 of 4–12. As asked: chest 4."
    );
    let Figure::Week(week) = figures::week(17) else {
        panic!("a week")
    };
    let alt = draw(&figures::week(17)).expect("a picture").alt;
    for line in &week.muscles {
        assert!(alt.contains(&line.muscle), "{}: {alt}", line.muscle);
    }
}

// Snapshots.

/// Side of the square of pixels that one pixel of a snapshot is the mean of.
const COARSE: usize = 4;
/// How far a pixel of a snapshot may be off, of 255, and how many may be off further: letters may be
/// smoothed a little otherwise where numbers are rounded otherwise.
const OFF: u8 = 12;
const FURTHER: usize = 40;

/// Pixels of a file, grey, with its width.
fn grey(bytes: &[u8]) -> (usize, Vec<u8>) {
    let mut decoder = png::Decoder::new(std::io::Cursor::new(bytes));
    decoder.set_transformations(png::Transformations::EXPAND);
    let mut reader = decoder.read_info().expect("a header");
    let mut buffer = vec![0; reader.output_buffer_size().expect("a size")];
    let info = reader.next_frame(&mut buffer).expect("pixels");
    let width = usize::try_from(info.width).expect("a width");
    let channels = info.color_type.samples();
    let mean = |pixel: &[u8]| {
        let sum: u32 = pixel.iter().map(|byte| u32::from(*byte)).sum();
        u8::try_from(sum / u32::try_from(channels).expect("channels")).expect("a mean")
    };
    (width, buffer.chunks_exact(channels).map(mean).collect())
}

/// The same at a quarter of the size.
fn coarse(bytes: &[u8]) -> (usize, Vec<u8>) {
    let (width, pixels) = grey(bytes);
    let (across, down) = (width / COARSE, pixels.len() / width / COARSE);
    let mean = |x: usize, y: usize| {
        let rows = (0..COARSE).map(|row| (y * COARSE + row) * width + x * COARSE);
        let sum: u32 = rows
            .flat_map(|start| &pixels[start..start + COARSE])
            .map(|byte| u32::from(*byte))
            .sum();
        u8::try_from(sum / 16).expect("a mean")
    };
    let all = (0..down).flat_map(|y| (0..across).map(move |x| (x, y)));
    (across, all.map(|(x, y)| mean(x, y)).collect())
}

fn write_grey(path: &Path, width: usize, pixels: &[u8]) {
    let [width, height] =
        [width, pixels.len() / width].map(|side| u32::try_from(side).expect("a side"));
    let file = fs::File::create(path).expect("a writable folder");
    let mut encoder = png::Encoder::new(file, width, height);
    encoder.set_color(png::ColorType::Grayscale);
    encoder.set_compression(png::Compression::High);
    let mut writer = encoder.write_header().expect("a header");
    writer.write_image_data(pixels).expect("pixels");
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/pictures")
}

#[test]
fn pictures_look_as_when_they_were_looked_at() {
    #[expect(clippy::disallowed_methods, reason = "a switch of the test's own")]
    let bless = std::env::var("CHALKBELL_BLESS").is_ok();
    for (name, _, picture) in drawn() {
        let png = &picture.png;
        let (width, pixels) = coarse(png);
        let path = folder().join(format!("{name}.png"));
        if bless {
            fs::create_dir_all(folder()).expect("a folder");
            write_grey(&path, width, &pixels);
            let whole = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}.png"));
            fs::write(whole, png).expect("a writable folder");
        }
        let (width_then, then) = grey(&fs::read(&path).expect("a snapshot"));
        assert_eq!((width, pixels.len()), (width_then, then.len()), "{name}");
        let off = pixels
            .iter()
            .zip(&then)
            .filter(|(a, b)| a.abs_diff(**b) > OFF);
        let off = off.count();
        assert!(off <= FURTHER, "{name}: {off} places look otherwise");
    }
}

#[test]
fn figures_are_drawn_the_same_once_stored_and_read_back() {
    for (name, figure, picture) in drawn() {
        // No number is written as a word in JSON; what the bot makes has none such.
        if ["week-wild", "team-60", "team-30", "team-20"].contains(name) {
            continue;
        }
        let text = serde_json::to_string(figure).expect("JSON");
        let read: Figure = serde_json::from_str(&text).expect("a figure");
        assert_eq!(&draw(&read).expect("a picture"), picture, "{name}");
    }
}

// Whatever comes.

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        6 => (0u32..80).prop_map(|halves| f64::from(halves) / 2.0),
        1 => any::<f64>(),
        1 => 0.0..1e12,
    ]
}

fn day() -> impl Strategy<Value = chrono::NaiveDate> {
    (0u64..40_000).prop_map(|days| chrono::NaiveDate::default() + chrono::Days::new(days))
}

fn any_week() -> impl Strategy<Value = Figure> {
    let line = (
        any::<String>(),
        number(),
        any::<u32>(),
        0u32..30,
        0u32..60,
        prop::collection::vec(number(), 0..6),
    );
    let line = line.prop_map(|(muscle, counted, direct, low, more, before)| MuscleLine {
        stands: None,
        muscle,
        counted,
        direct,
        low,
        high: low.saturating_add(more),
        before,
    });
    let lines = prop::collection::vec(line, 0..30);
    (any::<Option<String>>(), day(), any::<[u32; 2]>(), lines).prop_map(
        |(whose, from, [sets, not_counted], muscles)| {
            let to = from + chrono::Days::new(6);
            Figure::Week(WeekFigure {
                whose,
                from,
                to,
                sets,
                not_counted,
                muscles,
            })
        },
    )
}

fn any_lift_set() -> impl Strategy<Value = LiftSet> {
    let parts = (day(), number(), 0u32..200, any::<bool>());
    parts.prop_map(|(day, mass, reps, best)| LiftSet {
        day,
        mass,
        reps,
        best,
    })
}

fn any_lift() -> impl Strategy<Value = Figure> {
    let point = (day(), number(), number(), number());
    let point = point.prop_map(|(day, middle, low, high)| LiftPoint {
        day,
        middle,
        low,
        high,
    });
    let points = prop::collection::vec(point, 0..40);
    let sets = prop::collection::vec(any_lift_set(), 0..40);
    (any::<String>(), points, sets).prop_map(|(exercise, mut points, sets)| {
        points.sort_by_key(|point| point.day);
        points.dedup_by_key(|point| point.day);
        let unit = "kg".to_owned();
        Figure::Lift(LiftFigure {
            exercise,
            unit,
            points,
            sets,
        })
    })
}

fn any_team() -> impl Strategy<Value = Figure> {
    let cell = (number(), 0u32..30, 0u32..60).prop_map(|(counted, low, more)| {
        let band = Band {
            low,
            high: low + more,
        };
        Cell::in_band(counted, band)
    });
    let cells = prop::collection::vec(cell, 0..22);
    let line = (any::<String>(), any::<u32>(), cells);
    let line = line.prop_map(|(name, sets, cells)| TeamLine { name, sets, cells });
    let lines = prop::collection::vec(line, 0..30);
    let muscles = prop::collection::vec(any::<String>(), 0..22);
    (day(), any::<(u32, u32)>(), muscles, lines).prop_map(|(from, page, muscles, members)| {
        let to = from + chrono::Days::new(6);
        Figure::Team(TeamFigure {
            mean_of: None,
            weeks_of: None,
            from,
            to,
            page,
            muscles,
            members,
        })
    })
}

fn any_figure() -> impl Strategy<Value = Figure> {
    prop_oneof![any_week(), any_lift(), any_team()]
}

fn cases(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

proptest! {
    #![proptest_config(cases(300))]

    #[test]
    fn whatever_comes_has_its_place(figure in any_figure()) {
        let faults = faults(&layout(&figure));
        prop_assert!(faults.is_empty(), "{}", faults.join("\n"));
        prop_assert!(alt(&figure).chars().count() <= LONGEST_ALT);
    }
}

proptest! {
    #![proptest_config(cases(16))]

    #[test]
    fn whatever_comes_is_drawn_and_small(figure in any_figure()) {
        let picture = draw(&figure).expect("a picture");
        prop_assert!(picture.png.len() <= LARGEST, "{} bytes", picture.png.len());
    }
}
