//! A member's week: a bar for each muscle against its band, the weeks before as thin lines above it,
//! and the numbers beside.
//!
//! ```text
//!            ╌╌╌╌╌╌╌             four weeks before, the latest nearest
//! chest      ██████████▢▢▢   ▒▒▒▒▒▒▒▒▒▒▒      ▼ 6.5     5   10–20
//!            direct    as a helper      band
//! ```

use super::axis::{Scale, ticks};
use super::font::{CAPITALS, Weight, width};
use super::layout::{Area, BELOW_TITLE, LARGER, Layout, MARGIN, TEXT, Text, WIDTH, at};
use super::palette::{CHALK, Colour, DUST, FAINT, FIELD, OVER, RULE, UNDER, WITHIN};
use crate::bot::figure::{MuscleLine, WEEKS_BEFORE, WeekFigure};
use crate::bot::text::picture as words;
use crate::domain::coaching::week::Standing;

/// Left and right end of the bars.
const BARS: (f32, f32) = (236.0, 812.0);
/// Middle of the signs, and right ends of the three columns of numbers.
const SIGN: f32 = 846.0;
const COLUMNS: [f32; 3] = [946.0, 1030.0, WIDTH - MARGIN];
/// Height of a row, of a bar, of a thin line, and from one thin line to the next.
const ROW: f32 = 62.0;
const BAR: f32 = 22.0;
const THIN: f32 = 4.0;
const THIN_STEP: f32 = 6.0;
/// Thickness of a hollow bar's edge.
const EDGE: f32 = 3.0;
/// Rows in a picture; there are fewer muscles.
const ROWS: usize = 24;
/// An axis reaches this many times over the widest band, and to so many sets at least and at most.
const REACH: f64 = 1.6;
const LEAST: f64 = 6.0;
const MOST: f64 = 100.0;

/// Colour of a standing.
pub const fn colour(standing: Standing) -> Colour {
    match standing {
        Standing::Under => UNDER,
        Standing::Within => WITHIN,
        Standing::Over => OVER,
        Standing::Open | Standing::Free => DUST,
    }
}

/// Those that have a sign, in the order of a legend.
pub const SIGNS: [Standing; 4] = [
    Standing::Under,
    Standing::Within,
    Standing::Over,
    Standing::Open,
];

/// Lays a week out.
pub fn layout(week: &WeekFigure) -> Layout {
    let title = words::week_title(week);
    let mut layout = Layout::titled(&shown(&title), &words::week_line(week), (CHALK, DUST));
    let rows = &week.muscles[..week.muscles.len().min(ROWS)];
    if rows.is_empty() {
        let middle = at(WIDTH / 2.0, BELOW_TITLE + 80.0);
        layout.text(
            Text::new(words::NO_BARS, middle, CHALK)
                .sized(LARGER)
                .centred(),
        );
        layout.height = BELOW_TITLE + 150.0;
        return layout;
    }
    let before = rows
        .iter()
        .any(|row| row.before.iter().any(|counted| *counted > 0.0));
    let shown: Vec<Standing> = rows.iter().map(MuscleLine::standing).collect();
    let top = legend(&mut layout, BELOW_TITLE + 36.0, before, &shown) + 64.0;
    heads(&mut layout, top - 18.0);
    let most = reach(rows);
    let scale = Scale::new((0.0, most), BARS);
    let tops = (0u8..).map(|place| top + ROW * f32::from(place));
    let bottom = tops.clone().take(rows.len() + 1).last().unwrap_or(top);
    shapes(&mut layout, &scale, most, (top, bottom));
    for (line, top) in rows.iter().zip(tops) {
        row(&mut layout, line, &scale, top);
    }
    layout.height = bottom + 76.0;
    if shown.contains(&Standing::Free) {
        let line = at(MARGIN, layout.height - 6.0);
        layout.text(Text::new(words::IN_BRACKETS, line, DUST));
        layout.height += 30.0;
    }
    layout
}

/// A name as far as it can be drawn.
fn shown(name: &str) -> String {
    let drawable = super::font::drawable(name);
    match drawable.is_empty() {
        true => words::nameless(1),
        false => drawable,
    }
}

/// Where the axis ends: beyond everything, but not so far that bands become points. A bar that is
/// longer ends in an arrow.
fn reach(rows: &[MuscleLine]) -> f64 {
    let numbers = rows.iter().flat_map(|row| {
        let before = row.before.iter().copied();
        let aim = match row.standing() {
            Standing::Free => 0.0,
            _ => f64::from(row.high),
        };
        before.chain([row.counted, aim])
    });
    let most = numbers.filter(|n| n.is_finite()).fold(LEAST, f64::max);
    let asked = |row: &&MuscleLine| row.standing() != Standing::Free;
    let bands = rows.iter().filter(asked).map(|row| f64::from(row.high));
    let widest = bands.fold(LEAST, f64::max);
    (most * 1.04).min(widest * REACH).min(MOST)
}

/// What is what, the weeks before where there is something of them; returns where it ends.
fn legend(layout: &mut Layout, line: f32, before: bool, shown: &[Standing]) -> f32 {
    let mut x = MARGIN;
    let bar = Area::new(0.0, line - BAR + 2.0, 44.0, BAR);
    let swatch = |x: f32| Area {
        left: x,
        right: x + 44.0,
        ..bar
    };
    layout.field(swatch(x), WITHIN);
    x = said(layout, words::DIRECT, x + 56.0, line);
    layout.frame(swatch(x), EDGE, WITHIN);
    x = said(layout, words::HELPING, x + 56.0, line);
    if before {
        for n in 0..4u8 {
            let y = bar.top + THIN_STEP * f32::from(n);
            layout.field(Area::new(x, y, 44.0, THIN), FAINT);
        }
        said(layout, words::BEFORE, x + 56.0, line);
    }
    let line = line + 44.0;
    let mut x = MARGIN;
    let field = Area::new(x, line - BAR + 2.0, 44.0, BAR);
    layout.field(field, FIELD);
    layout.field(
        Area {
            right: x + EDGE,
            ..field
        },
        FAINT,
    );
    layout.field(
        Area {
            left: x + 44.0 - EDGE,
            ..field
        },
        FAINT,
    );
    x = said(layout, words::BAND, x + 56.0, line);
    for standing in SIGNS.into_iter().filter(|one| shown.contains(one)) {
        layout.sign(standing, at(x + 12.0, line - 9.0), 12.0, colour(standing));
        x = said(layout, words::standing(standing), x + 34.0, line);
    }
    line
}

/// A word of the legend; returns where the next thing begins.
fn said(layout: &mut Layout, word: &str, x: f32, line: f32) -> f32 {
    let text = Text::new(word, at(x, line), DUST);
    let end = text.area().right;
    layout.text(text);
    end + 36.0
}

fn heads(layout: &mut Layout, line: f32) {
    for (head, right) in words::WEEK_HEADS.iter().zip(COLUMNS) {
        layout.text(Text::new(*head, at(right, line), DUST).ending());
    }
}

/// Lines through the rows at round numbers, with the numbers below.
fn shapes(layout: &mut Layout, scale: &Scale, most: f64, (top, bottom): (f32, f32)) {
    let (ticks, _) = ticks(0.0, most, 5);
    for tick in ticks {
        let x = scale.place(tick);
        layout.field(Area::new(x - 1.0, top, 2.0, bottom - top), RULE);
        let number = words::counted(tick);
        layout.text(Text::new(number, at(x, bottom + 36.0), DUST).centred());
    }
}

fn row(layout: &mut Layout, line: &MuscleLine, scale: &Scale, top: f32) {
    let standing = line.standing();
    let bar_top = top + ROW - BAR - 7.0;
    let text_line = bar_top + (BAR + CAPITALS * TEXT) / 2.0;
    let name_room = BARS.0 - MARGIN - 14.0;
    let name = Text::new(shown(&line.muscle), at(MARGIN, text_line), CHALK).fitted(name_room);
    layout.text(name);
    band(layout, line, scale, top);
    before(layout, line, scale, bar_top);
    bar(layout, line, scale, bar_top);
    layout.sign(
        standing,
        at(SIGN, bar_top + BAR / 2.0),
        12.0,
        colour(standing),
    );
    let numbers = [
        (words::counted(line.counted), CHALK),
        (words::direct(line.direct), DUST),
        (aim(line), DUST),
    ];
    for (place, ((number, colour), right)) in numbers.into_iter().zip(COLUMNS).enumerate() {
        let text = Text::new(number, at(right, text_line), colour);
        let text = if place == 0 { text.bold() } else { text };
        layout.text(text.ending());
    }
}

/// What is asked; what is only a background in brackets.
fn aim(line: &MuscleLine) -> String {
    let band = words::band(line.low, line.high);
    match line.standing() {
        Standing::Free if line.low == 0 => String::new(),
        Standing::Free => format!("({band})"),
        _ => band,
    }
}

/// The field between the ends of the band, with a line at either end.
fn band(layout: &mut Layout, line: &MuscleLine, scale: &Scale, top: f32) {
    if line.standing() == Standing::Free {
        return;
    }
    let place = |end: u32| scale.place(f64::from(end)).min(BARS.1);
    let [left, right] = [line.low, line.high].map(place);
    let area = Area::new(left, top + 3.0, right - left, ROW - 6.0);
    layout.field(area, FIELD);
    for x in [left, right] {
        layout.field(Area::new(x - EDGE / 2.0, area.top, EDGE, ROW - 6.0), FAINT);
    }
}

/// The weeks before, the latest nearest to the bar.
fn before(layout: &mut Layout, line: &MuscleLine, scale: &Scale, bar_top: f32) {
    let mut y = bar_top - THIN - 4.0;
    for counted in line.before.iter().rev().take(WEEKS_BEFORE) {
        let end = scale.place(*counted).min(BARS.1);
        layout.field(Area::new(BARS.0, y, end - BARS.0, THIN), FAINT);
        y -= THIN_STEP;
    }
}

/// This week: the direct sets solid, what helping comes to hollow. What is too long for the axis
/// ends in an arrow.
fn bar(layout: &mut Layout, line: &MuscleLine, scale: &Scale, top: f32) {
    let colour = colour(line.standing());
    let end = scale.place(line.counted).min(BARS.1);
    let solid = scale.place(f64::from(line.direct)).min(end);
    layout.frame(Area::new(BARS.0, top, end - BARS.0, BAR), EDGE, colour);
    layout.field(Area::new(BARS.0, top, solid - BARS.0, BAR), colour);
    if scale.place(line.counted) > BARS.1 {
        let arrow = words::BEYOND;
        let wide = width(arrow, TEXT, Weight::Bold);
        let area = Area::new(BARS.1 - wide - 10.0, top, wide + 10.0, BAR);
        layout.field(area, super::palette::SLATE);
        let middle = at(BARS.1 - wide - 4.0, top + (BAR + CAPITALS * TEXT) / 2.0);
        layout.text(Text::new(arrow, middle, colour).bold());
    }
}
