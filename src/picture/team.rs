//! A team's week: a row for each member, a column for each muscle; in a cell the counted sets, and
//! whether they lie under or over the band, by colour and by the sign below the number.

use super::font::{self, CAPITALS};
use super::layout::{Area, BELOW_TITLE, LARGER, Layout, MARGIN, TEXT, Text, WIDTH, at};
use super::palette::{CHALK, Colour, DUST, FIELD, INK, SLATE};
use super::week::{SIGNS, colour};
use crate::bot::figure::{Cell, TeamFigure, TeamLine};
use crate::bot::text::picture as words;
use crate::domain::coaching::week::Standing;

/// Space at the right: less than usual, for the columns' sake.
const RIGHT: f32 = 22.0;
/// Widest column, and the narrowest that holds `12.5`.
const WIDEST: f32 = 84.0;
const NARROWEST: f32 = 57.0;
/// Least room for names.
const NAME: f32 = 168.0;
/// Height of a row, and the gap after every so many.
const ROW: f32 = 54.0;
const EVERY: usize = 5;
const GAP: f32 = 10.0;
/// Rows in a picture; the bot makes further pictures of more.
const ROWS: usize = 60;

/// The columns: how many, and how wide.
struct Grid {
    columns: usize,
    wide: f32,
    left: f32,
}

impl Grid {
    fn of(muscles: usize) -> Self {
        let room = WIDTH - MARGIN - RIGHT - NAME;
        let mut columns = muscles;
        while columns > 1 && count(columns) * NARROWEST > room {
            columns -= 1;
        }
        let wide = (room / count(columns.max(1))).min(WIDEST);
        let left = WIDTH - RIGHT - wide * count(columns);
        // A narrow grid stands beside the names, not at the far end.
        let left = left.min(MARGIN + 420.0);
        Self {
            columns,
            wide,
            left,
        }
    }

    fn x(&self, column: usize) -> f32 {
        self.left + self.wide * count(column)
    }
}

#[expect(clippy::cast_precision_loss, reason = "rows and columns, some dozens")]
fn count(of: usize) -> f32 {
    of as f32
}

/// Lays a team's week out.
pub fn layout(team: &TeamFigure) -> Layout {
    let mut layout = Layout::titled(
        &words::team_title(team),
        &words::team_line(team),
        (CHALK, DUST),
    );
    if team.members.is_empty() || team.muscles.is_empty() {
        let middle = at(WIDTH / 2.0, BELOW_TITLE + 80.0);
        layout.text(
            Text::new(words::NOBODY, middle, CHALK)
                .sized(LARGER)
                .centred(),
        );
        layout.height = BELOW_TITLE + 150.0;
        return layout;
    }
    let grid = Grid::of(team.muscles.len());
    let line = BELOW_TITLE + 36.0;
    // Nothing is asked of a mean.
    let asked = team
        .members
        .iter()
        .skip(usize::from(team.mean_of.is_some()));
    let shown: Vec<Standing> = asked
        .flat_map(|member| member.cells.iter().map(Cell::standing))
        .collect();
    legend(&mut layout, line, &shown);
    let top = match shown.is_empty() {
        true => heads(&mut layout, team, &grid, line - 20.0),
        false => heads(&mut layout, team, &grid, line + 34.0),
    };
    let members = &team.members[..team.members.len().min(ROWS)];
    let mut y = top;
    for (place, member) in members.iter().enumerate() {
        if place > 0 && place % EVERY == 0 && team.weeks_of.is_none() {
            y += GAP;
        }
        row(&mut layout, member, place, &grid, y);
        y += ROW;
    }
    layout.height = y + 30.0;
    let left_out = [
        team.members.len() - members.len(),
        team.muscles.len() - grid.columns,
    ];
    if left_out != [0, 0] {
        let more = words::more(left_out[0], left_out[1]);
        layout.text(Text::new(more, at(MARGIN, y + 38.0), DUST));
        layout.height += 34.0;
    }
    layout
}

fn legend(layout: &mut Layout, line: f32, shown: &[Standing]) {
    let mut x = MARGIN;
    let signs = SIGNS.into_iter().chain([Standing::Free]);
    for standing in signs.filter(|one| shown.contains(one)) {
        let area = Area::new(x, line - 27.0, 50.0, 36.0);
        let (ground, ink) = looks(standing);
        layout.field(area, ground);
        if standing != Standing::Within {
            layout.sign(standing, at(x + 25.0, line - 9.0), 10.0, ink);
        }
        let text = Text::new(words::standing(standing), at(x + 62.0, line), DUST);
        x = text.area().right + 40.0;
        layout.text(text);
    }
}

/// Ground of a cell, and what is on it.
const fn looks(standing: Standing) -> (Colour, Colour) {
    match standing {
        Standing::Within => (FIELD, CHALK),
        Standing::Open => (FIELD, DUST),
        Standing::Free => (SLATE, DUST),
        standing @ (Standing::Under | Standing::Over) => (colour(standing), INK),
    }
}

/// The muscles' names, upright over their columns; returns where the rows begin.
fn heads(layout: &mut Layout, team: &TeamFigure, grid: &Grid, top: f32) -> f32 {
    let muscles = team.muscles.iter().take(grid.columns);
    let texts: Vec<Text> = muscles
        .map(|muscle| {
            Text::new(font::drawable(muscle), at(0.0, 0.0), DUST)
                .upright()
                .fitted(220.0)
        })
        .collect();
    let tall = texts.iter().map(Text::width).fold(0.0, f32::max);
    let foot = top + tall;
    for (column, mut text) in texts.into_iter().enumerate() {
        text.at = at(grid.x(column) + (grid.wide + CAPITALS * TEXT) / 2.0, foot);
        layout.text(text);
    }
    foot + 14.0
}

fn row(layout: &mut Layout, member: &TeamLine, place: usize, grid: &Grid, top: f32) {
    let mut name = font::drawable(&member.name);
    if name.is_empty() {
        name = words::nameless(place + 1);
    }
    let line = top + (ROW + CAPITALS * TEXT) / 2.0;
    let text = Text::new(name, at(MARGIN, line), CHALK);
    layout.text(text.fitted(grid.left - MARGIN - 10.0));
    for (column, cell) in member.cells.iter().take(grid.columns).enumerate() {
        let area = Area::new(grid.x(column), top, grid.wide, ROW);
        draw_cell(layout, cell, area);
    }
}

fn draw_cell(layout: &mut Layout, cell: &Cell, area: Area) {
    let standing = cell.standing();
    let (ground, ink) = looks(standing);
    let field = area.within(1.5);
    layout.field(field, ground);
    let middle = (area.left + area.right) / 2.0;
    let head = 9.0 + CAPITALS * TEXT;
    let line = match standing {
        // Alone in its cell.
        Standing::Within | Standing::Free => area.top + (ROW + CAPITALS * TEXT) / 2.0,
        Standing::Under | Standing::Over | Standing::Open => area.top + head,
    };
    if standing == Standing::Free && cell.counted <= 0.0 {
        return;
    }
    let number = words::in_cell(cell.counted);
    layout.text(Text::new(number, at(middle, line), ink).centred());
    if standing != Standing::Within {
        layout.sign(standing, at(middle, area.bottom - 12.0), 8.0, ink);
    }
}
