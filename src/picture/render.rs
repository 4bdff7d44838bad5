//! Strokes only: a layout's shapes onto pixels.

use skrifa::outline::OutlinePen;
use tiny_skia::{
    FillRule, LineCap, LineJoin, Paint, Path, PathBuilder, Pixmap, Rect, Stroke, StrokeDash,
    Transform,
};

use super::error::PictureError;
use super::font;
use super::layout::{Area, Layout, Point, Shape, Text, WIDTH};
use super::palette::Colour;

/// Draws a layout, so many times its size.
///
/// # Errors
/// [`PictureError::Size`] when it is too large to draw.
pub fn inked(layout: &Layout, times: f32) -> Result<Pixmap, PictureError> {
    let (width, height) = (pixels(WIDTH * times), pixels(layout.height * times));
    let pixmap = Pixmap::new(width, height).ok_or(PictureError::Size(width, height))?;
    let mut board = Board {
        pixmap,
        size: Transform::from_scale(times, times),
    };
    board.pixmap.fill(solid(layout.ground()));
    for shape in &layout.shapes {
        board.draw(shape);
    }
    Ok(board.pixmap)
}

/// What is drawn on.
struct Board {
    pixmap: Pixmap,
    size: Transform,
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a layout's side, cut to what a picture may have"
)]
fn pixels(length: f32) -> u32 {
    length.ceil().clamp(1.0, 20_000.0) as u32
}

fn solid(colour: Colour) -> tiny_skia::Color {
    tiny_skia::Color::from_rgba8(colour.0, colour.1, colour.2, 0xff)
}

fn paint(colour: Colour, smooth: bool) -> Paint<'static> {
    let mut paint = Paint::default();
    paint.set_color(solid(colour));
    paint.anti_alias = smooth;
    paint
}

impl Board {
    fn draw(&mut self, shape: &Shape) {
        match shape {
            Shape::Rectangle(area, colour) => self.field(*area, *colour),
            Shape::Shape(corners, colour) => self.fill(along(corners, true), *colour),
            Shape::Dot(middle, radius, colour) => {
                let circle = PathBuilder::from_circle(middle.x, middle.y, *radius);
                self.fill(circle, *colour);
            }
            Shape::Line {
                along: points,
                width,
                colour,
                dashed,
            } => self.line(points, *width, *colour, *dashed),
            Shape::Text(text) => self.fill(letters(text), text.colour),
        }
    }

    /// Fields lie on whole pixels, so that their edges are sharp.
    fn field(&mut self, area: Area, colour: Colour) {
        let edges = [area.left, area.top, area.right, area.bottom].map(f32::round);
        let [left, top, right, bottom] = edges;
        // One without width or height would be drawn as a hair.
        if left < right
            && top < bottom
            && let Some(rect) = Rect::from_ltrb(left, top, right, bottom)
        {
            let smooth = !self.size.is_identity();
            let paint = paint(colour, smooth);
            self.pixmap.fill_rect(rect, &paint, self.size, None);
        }
    }

    fn fill(&mut self, path: Option<Path>, colour: Colour) {
        if let Some(path) = path {
            let paint = paint(colour, true);
            let rule = FillRule::Winding;
            self.pixmap.fill_path(&path, &paint, rule, self.size, None);
        }
    }

    fn line(&mut self, points: &[Point], width: f32, colour: Colour, dashed: bool) {
        let stroke = Stroke {
            width,
            line_cap: LineCap::Butt,
            line_join: LineJoin::Round,
            dash: dashed
                .then(|| StrokeDash::new(vec![10.0, 10.0], 0.0))
                .flatten(),
            ..Stroke::default()
        };
        if let Some(path) = along(points, false) {
            let paint = paint(colour, true);
            self.pixmap
                .stroke_path(&path, &paint, &stroke, self.size, None);
        }
    }
}

fn along(points: &[Point], closed: bool) -> Option<Path> {
    let mut path = PathBuilder::new();
    for (place, point) in points.iter().enumerate() {
        match place {
            0 => path.move_to(point.x, point.y),
            _ => path.line_to(point.x, point.y),
        }
    }
    if closed {
        path.close();
    }
    path.finish()
}

/// The outlines of a text.
fn letters(text: &Text) -> Option<Path> {
    let face = font::face(text.weight);
    let mut pen = Pen {
        path: PathBuilder::new(),
        // On a whole pixel: the same letters then make the same pixels, which squeezes better.
        at: Point {
            x: text.at.x.round(),
            y: text.at.y.round(),
        },
        scale: text.size / face.units_per_em(),
        along: 0.0,
        upright: text.upright,
    };
    for character in text.text.chars() {
        face.outline(character, &mut pen);
        pen.along += face.advance(character);
    }
    pen.path.finish()
}

/// Takes outlines, in the units of a font with y upwards, to their place.
struct Pen {
    path: PathBuilder,
    at: Point,
    scale: f32,
    along: f32,
    upright: bool,
}

impl Pen {
    fn place(&self, x: f32, y: f32) -> (f32, f32) {
        let (x, y) = ((x + self.along) * self.scale, y * self.scale);
        if self.upright {
            (self.at.x - y, self.at.y - x)
        } else {
            (self.at.x + x, self.at.y - y)
        }
    }
}

impl OutlinePen for Pen {
    fn move_to(&mut self, x: f32, y: f32) {
        let (x, y) = self.place(x, y);
        self.path.move_to(x, y);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        let (x, y) = self.place(x, y);
        self.path.line_to(x, y);
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        let ((x1, y1), (x, y)) = (self.place(x1, y1), self.place(x, y));
        self.path.quad_to(x1, y1, x, y);
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        let (x1, y1) = self.place(x1, y1);
        let ((x2, y2), (x, y)) = (self.place(x2, y2), self.place(x, y));
        self.path.cubic_to(x1, y1, x2, y2, x, y);
    }

    fn close(&mut self) {
        self.path.close();
    }
}
