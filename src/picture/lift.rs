//! A member's lift: a line through what its maximum was held to be, day by day, in the field of its
//! 80 % interval, with the sets below it and the bests among them. Over a pause of more than three weeks there is no field, and the line is broken.

use chrono::NaiveDate;

use super::axis::{Scale, day_step, thinned, ticks};
use super::layout::{Area, BELOW_TITLE, LARGER, Layout, MARGIN, Point, Shape, Text, WIDTH, at};
use super::palette::{CHALK, DUST, FAINT, FIELD, RULE};
use crate::bot::figure::{LiftFigure, LiftPoint, LiftSet};
use crate::bot::text::picture as words;

/// Where the figure stands: room for numbers at the left and for days below.
const FRAME: Area = Area {
    left: 132.0,
    top: BELOW_TITLE + 76.0,
    right: WIDTH - MARGIN - 20.0,
    bottom: 700.0,
};
/// Days without a session from which nothing is claimed about the time between.
const PAUSE_DAYS: i64 = 21;
/// Days up to which each has a dot.
const DOTTED: usize = 60;
/// A span beyond this many days is marked by months and years.
const LONG: i64 = 300;

/// Lays a lift out.
pub fn layout(lift: &LiftFigure) -> Layout {
    let title = super::font::drawable(&words::lift_title(lift));
    let mut layout = Layout::titled(&title, &words::lift_line(lift), (CHALK, DUST));
    let points: Vec<&LiftPoint> = lift.points.iter().filter(|p| is_sound(p)).collect();
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        let middle = at(WIDTH / 2.0, BELOW_TITLE + 80.0);
        layout.text(
            Text::new(words::NO_DAYS, middle, CHALK)
                .sized(LARGER)
                .centred(),
        );
        layout.height = BELOW_TITLE + 150.0;
        return layout;
    };
    let now = Text::new(
        words::lift_now(last, &lift.unit),
        at(WIDTH - MARGIN, 122.0),
        CHALK,
    );
    let under_title = Area::new(MARGIN, 80.0, 560.0, 50.0);
    let now = now.sized(36.0).bold();
    let now = now.fitted(WIDTH - MARGIN - under_title.right).ending();
    layout.text(now);
    let pauses = runs(&points).count() > 1;
    legend(&mut layout, BELOW_TITLE + 36.0, pauses);
    let sets: Vec<&LiftSet> = lift
        .sets
        .iter()
        .filter(|set| is_within(set, &points))
        .collect();
    let ends = heights(&points, &sets);
    let top = match sets.is_empty() {
        true => FRAME.top,
        false => {
            legend_of_sets(&mut layout, BELOW_TITLE + 74.0);
            FRAME.top + 38.0
        }
    };
    let heights = Scale::new(ends, (FRAME.bottom, top));
    let days = days(&mut layout, first.day, last.day);
    let place = |point: &LiftPoint, number: f64| {
        at(days.place(day_number(point.day)), heights.place(number))
    };
    for run in runs(&points) {
        field(&mut layout, run, &place);
    }
    // Over the field, so that it can be read off there, too.
    masses(&mut layout, &heights, ends);
    for set in &sets {
        let middle = at(days.place(day_number(set.day)), heights.place(set.mass));
        dot_of_set(&mut layout, middle, set.best);
    }
    line(&mut layout, &points, &place);
    layout.height = FRAME.bottom + 84.0;
    layout
}

/// Whether a point can be placed: it has numbers, and they are in order.
fn is_sound(point: &LiftPoint) -> bool {
    let sound = |n: f64| n.is_finite() && n >= 0.0;
    sound(point.low) && sound(point.high) && point.low <= point.middle && point.middle <= point.high
}

/// Whether a set can be placed: it has a mass, and lies on the days shown.
fn is_within(set: &LiftSet, points: &[&LiftPoint]) -> bool {
    let (first, last) = (points.first(), points.last());
    let days = first.zip(last);
    let shown = days.is_some_and(|(first, last)| (first.day..=last.day).contains(&set.day));
    shown && set.mass.is_finite() && set.mass > 0.0
}

/// A set is a dot; a best is a larger square on its corner.
fn dot_of_set(layout: &mut Layout, middle: Point, best: bool) {
    if !best {
        layout.shapes.push(Shape::Dot(middle, 6.0, DUST));
        return;
    }
    let corner = |x: f32, y: f32| at(middle.x + x, middle.y + y);
    let corners = vec![
        corner(0.0, -11.0),
        corner(11.0, 0.0),
        corner(0.0, 11.0),
        corner(-11.0, 0.0),
    ];
    layout.shapes.push(Shape::Shape(corners, CHALK));
}

fn legend_of_sets(layout: &mut Layout, line: f32) {
    let middle = line - 9.0;
    dot_of_set(layout, at(MARGIN + 22.0, middle), false);
    let text = Text::new(words::A_SET, at(MARGIN + 56.0, line), DUST);
    let x = text.area().right + 40.0;
    layout.text(text);
    dot_of_set(layout, at(x + 11.0, middle), true);
    layout.text(Text::new(words::A_BEST, at(x + 34.0, line), DUST));
}

fn day_number(day: NaiveDate) -> f64 {
    let days = day.signed_duration_since(NaiveDate::default()).num_days();
    i32::try_from(days).map_or(0.0, f64::from)
}

/// The points without a pause between two of them.
fn runs<'a>(points: &'a [&'a LiftPoint]) -> impl Iterator<Item = &'a [&'a LiftPoint]> {
    points.chunk_by(|a, b| (b.day - a.day).num_days() <= PAUSE_DAYS)
}

fn legend(layout: &mut Layout, line: f32, pauses: bool) {
    let swatch = Area::new(MARGIN, line - 22.0, 44.0, 26.0);
    layout.field(swatch, FIELD);
    layout.field(
        Area {
            bottom: swatch.top + 3.0,
            ..swatch
        },
        FAINT,
    );
    layout.field(
        Area {
            top: swatch.bottom - 3.0,
            ..swatch
        },
        FAINT,
    );
    let middle = line - 9.0;
    layout.line(
        at(swatch.left, middle),
        at(swatch.right, middle),
        5.0,
        CHALK,
    );
    let text = Text::new(words::INTERVAL, at(swatch.right + 12.0, line), DUST);
    let x = text.area().right + 40.0;
    layout.text(text);
    if pauses {
        broken(layout, at(x, middle), at(x + 50.0, middle));
        layout.text(Text::new(words::PAUSE, at(x + 62.0, line), DUST));
    }
}

/// The least and the greatest mass that are shown, with some air about what is known.
fn heights(points: &[&LiftPoint], sets: &[&LiftSet]) -> (f64, f64) {
    let low = points
        .iter()
        .map(|p| p.low.min(p.middle))
        .chain(sets.iter().map(|set| set.mass))
        .fold(f64::INFINITY, f64::min);
    let high = points
        .iter()
        .map(|p| p.high.max(p.middle))
        .chain(sets.iter().map(|set| set.mass))
        .fold(f64::NEG_INFINITY, f64::max);
    let air = ((high - low) * 0.08).max(high.abs() * 0.01).max(0.5);
    (low - air, high + air)
}

/// Lines at round masses.
fn masses(layout: &mut Layout, scale: &Scale, (low, high): (f64, f64)) {
    let (ticks, step) = ticks(low, high, 5);
    for tick in ticks {
        let y = scale.place(tick);
        layout.field(
            Area::new(FRAME.left, y - 1.0, FRAME.right - FRAME.left, 2.0),
            RULE,
        );
        let number = words::on_axis(tick, step);
        layout.text(Text::new(number, at(FRAME.left - 14.0, y + 9.0), DUST).ending());
    }
}

/// The scale of days, with shapes back from the last one.
fn days(layout: &mut Layout, first: NaiveDate, last: NaiveDate) -> Scale {
    let span = (last - first).num_days();
    let inner = (FRAME.left + 24.0, FRAME.right - 24.0);
    let scale = match span {
        // One day stands in the middle.
        0 => Scale::new((day_number(first) - 1.0, day_number(first) + 1.0), inner),
        _ => Scale::new((day_number(first), day_number(last)), inner),
    };
    let step = chrono::Duration::days(day_step(span, 6));
    let mut day = last;
    while day >= first {
        let x = scale.place(day_number(day));
        layout.field(Area::new(x - 1.0, FRAME.bottom, 2.0, 10.0), FAINT);
        let text = words::day_on_axis(day, span > LONG, day == last);
        let mut text = Text::new(text, at(x, FRAME.bottom + 42.0), DUST).centred();
        text.at.x = text.at.x.min(WIDTH - MARGIN / 2.0 - text.width());
        layout.text(text);
        let Some(earlier) = day.checked_sub_signed(step) else {
            break;
        };
        day = earlier;
    }
    scale
}

/// The interval over a run of days: a field with an edge above and below. A day alone has a bar.
fn field(layout: &mut Layout, run: &[&LiftPoint], place: &impl Fn(&LiftPoint, f64) -> Point) {
    if let [day] = run {
        let (top, bottom) = (place(day, day.high), place(day, day.low));
        let bar = Area::new(top.x - 10.0, top.y, 20.0, bottom.y - top.y);
        layout.field(bar, FIELD);
        layout.field(
            Area {
                bottom: bar.top + 3.0,
                ..bar
            },
            FAINT,
        );
        layout.field(
            Area {
                top: bar.bottom - 3.0,
                ..bar
            },
            FAINT,
        );
        return;
    }
    let upper: Vec<Point> = run.iter().map(|p| place(p, p.high)).collect();
    let lower: Vec<Point> = run.iter().map(|p| place(p, p.low)).collect();
    let (upper, lower) = (thinned(&upper), thinned(&lower));
    let around: Vec<Point> = upper.iter().chain(lower.iter().rev()).copied().collect();
    layout.shapes.push(Shape::Shape(around, FIELD));
    for edge in [upper, lower] {
        layout.shapes.push(solid(edge, 3.0, FAINT));
    }
}

fn solid(along: Vec<Point>, width: f32, colour: super::palette::Colour) -> Shape {
    Shape::Line {
        along,
        width,
        colour,
        dashed: false,
    }
}

fn broken(layout: &mut Layout, from: Point, to: Point) {
    layout.shapes.push(Shape::Line {
        along: vec![from, to],
        width: 3.0,
        colour: DUST,
        dashed: true,
    });
}

/// The line through the middles, broken over pauses, with a dot a day where there is room.
fn line(layout: &mut Layout, points: &[&LiftPoint], place: &impl Fn(&LiftPoint, f64) -> Point) {
    let middle = |point: &LiftPoint| place(point, point.middle);
    let mut before: Option<Point> = None;
    for run in runs(points) {
        let along: Vec<Point> = run.iter().map(|p| middle(p)).collect();
        if let (Some(from), Some(to)) = (before, along.first()) {
            broken(layout, from, *to);
        }
        before = along.last().copied();
        if along.len() > 1 {
            layout.shapes.push(solid(thinned(&along), 5.0, CHALK));
        }
    }
    let dots = points.iter().enumerate();
    for (n, point) in dots {
        let last = n + 1 == points.len();
        if last || points.len() <= DOTTED {
            let radius = if last { 11.0 } else { 7.0 };
            layout.shapes.push(Shape::Dot(middle(point), radius, CHALK));
        }
    }
}
