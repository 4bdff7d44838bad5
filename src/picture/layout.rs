//! A figure laid out: shapes with their places, in pixels from the upper left corner.
//!
//! Marks are drawn in order, the later ones over the earlier.

use super::font::{self, Weight};
use super::palette::{Colour, SLATE};
use crate::domain::coaching::week::Standing;

/// Width of every layout.
pub const WIDTH: f32 = 1200.0;
/// Space around.
pub const MARGIN: f32 = 40.0;
/// Size of most texts: 13 pixels where the picture is 600 wide.
pub const TEXT: f32 = 26.0;
/// Size of names and of what is under a title.
pub const LARGER: f32 = 30.0;
/// Size of titles.
pub const TITLE: f32 = 44.0;

/// A laid-out figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// Height; the width is [`WIDTH`].
    pub height: f32,
    /// What is drawn, in order.
    pub shapes: Vec<Shape>,
}

/// A place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// From the left.
    pub x: f32,
    /// From the top.
    pub y: f32,
}

/// A place, by its distances.
pub const fn at(x: f32, y: f32) -> Point {
    Point { x, y }
}

/// An upright rectangle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    /// Left end.
    pub left: f32,
    /// Upper end.
    pub top: f32,
    /// Right end.
    pub right: f32,
    /// Lower end.
    pub bottom: f32,
}

impl Area {
    /// A rectangle by its corner, width and height.
    pub fn new(left: f32, top: f32, width: f32, height: f32) -> Self {
        Self {
            left,
            top,
            right: left + width.max(0.0),
            bottom: top + height.max(0.0),
        }
    }

    /// The same with so much taken off on every side.
    #[must_use]
    pub fn within(self, by: f32) -> Self {
        Self::new(
            self.left + by,
            self.top + by,
            self.right - self.left - 2.0 * by,
            self.bottom - self.top - 2.0 * by,
        )
    }

    /// Whether two rectangles share more than an edge.
    pub fn meets(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }
}

/// A thing that is drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A filled rectangle.
    Rectangle(Area, Colour),
    /// A filled shape, by its corners.
    Shape(Vec<Point>, Colour),
    /// A filled circle, by its middle and radius.
    Dot(Point, f32, Colour),
    /// A line along points.
    Line {
        /// The points.
        along: Vec<Point>,
        /// How thick.
        width: f32,
        /// Which colour.
        colour: Colour,
        /// Whether it is broken.
        dashed: bool,
    },
    /// A text.
    Text(Text),
}

/// A text.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// Its left end on the line that letters stand on; of an upright one the lower end.
    pub at: Point,
    /// What it says.
    pub text: String,
    /// Size.
    pub size: f32,
    /// Weight.
    pub weight: Weight,
    /// Colour.
    pub colour: Colour,
    /// Turned to be read from below upwards.
    pub upright: bool,
}

impl Text {
    /// A text of usual size, to be moved and changed.
    pub fn new(text: impl Into<String>, at: Point, colour: Colour) -> Self {
        Self {
            at,
            text: text.into(),
            size: TEXT,
            weight: Weight::Book,
            colour,
            upright: false,
        }
    }

    /// In this size.
    #[must_use]
    pub fn sized(self, size: f32) -> Self {
        Self { size, ..self }
    }

    /// In bold.
    #[must_use]
    pub fn bold(self) -> Self {
        Self {
            weight: Weight::Bold,
            ..self
        }
    }

    /// Turned upright.
    #[must_use]
    pub fn upright(self) -> Self {
        Self {
            upright: true,
            ..self
        }
    }

    /// Ending at its place instead of beginning there.
    #[must_use]
    pub fn ending(mut self) -> Self {
        self.at.x -= self.width();
        self
    }

    /// With its middle at its place.
    #[must_use]
    pub fn centred(mut self) -> Self {
        self.at.x -= self.width() / 2.0;
        self
    }

    /// Shortened to so much room.
    #[must_use]
    pub fn fitted(mut self, room: f32) -> Self {
        self.text = font::fitted(&self.text, self.size, self.weight, room);
        self
    }

    /// How long it is.
    pub fn width(&self) -> f32 {
        font::width(&self.text, self.size, self.weight)
    }

    /// What it takes up, from the foot of its lowest letter to the head of its highest.
    pub fn area(&self) -> Area {
        let (over, under) = (font::ASCENT * self.size, font::DESCENT * self.size);
        if self.upright {
            let top = self.at.y - self.width();
            Area::new(self.at.x - over, top, over + under, self.width())
        } else {
            Area::new(self.at.x, self.at.y - over, self.width(), over + under)
        }
    }
}

impl Layout {
    /// A layout with a title and a line under it.
    pub fn titled(title: &str, line: &str, colours: (Colour, Colour)) -> Self {
        let (strong, weak) = colours;
        let room = WIDTH - 2.0 * MARGIN;
        let title = Text::new(title, at(MARGIN, 74.0), strong)
            .sized(TITLE)
            .bold()
            .fitted(room);
        let line = Text::new(line, at(MARGIN, 122.0), weak)
            .sized(LARGER)
            .fitted(room);
        Self {
            height: BELOW_TITLE,
            shapes: vec![Shape::Text(title), Shape::Text(line)],
        }
    }

    /// Adds a text.
    pub fn text(&mut self, text: Text) {
        self.shapes.push(Shape::Text(text));
    }

    /// Adds a filled rectangle.
    pub fn field(&mut self, area: Area, colour: Colour) {
        self.shapes.push(Shape::Rectangle(area, colour));
    }

    /// Adds a hollow rectangle with an edge of so many pixels.
    pub fn frame(&mut self, area: Area, edge: f32, colour: Colour) {
        let (width, height) = (area.right - area.left, area.bottom - area.top);
        let edge = edge.min(width / 2.0).min(height / 2.0);
        self.field(Area::new(area.left, area.top, width, edge), colour);
        self.field(
            Area::new(area.left, area.bottom - edge, width, edge),
            colour,
        );
        self.field(Area::new(area.left, area.top, edge, height), colour);
        self.field(Area::new(area.right - edge, area.top, edge, height), colour);
    }

    /// Adds an upright or level line of so many pixels.
    pub fn line(&mut self, from: Point, to: Point, width: f32, colour: Colour) {
        self.shapes.push(Shape::Line {
            along: vec![from, to],
            width,
            colour,
            dashed: false,
        });
    }

    /// Adds the sign of a standing about a middle: a triangle that points down where it is under, up
    /// where it is over, a disc where it is as asked, a dash where it is still to come; none where
    /// nothing is asked.
    pub fn sign(&mut self, standing: Standing, middle: Point, reach: f32, colour: Colour) {
        let Point { x, y } = middle;
        let tip = reach * 0.8;
        self.shapes.push(match standing {
            // A short dash: not there yet.
            Standing::Open => Shape::Shape(
                vec![
                    at(x - reach * 0.8, y - 2.0),
                    at(x + reach * 0.8, y - 2.0),
                    at(x + reach * 0.8, y + 2.0),
                    at(x - reach * 0.8, y + 2.0),
                ],
                colour,
            ),
            Standing::Free => return,
            Standing::Within => Shape::Dot(middle, reach * 0.7, colour),
            Standing::Under => Shape::Shape(
                vec![
                    at(x - reach, y - tip),
                    at(x + reach, y - tip),
                    at(x, y + tip),
                ],
                colour,
            ),
            Standing::Over => Shape::Shape(
                vec![
                    at(x - reach, y + tip),
                    at(x + reach, y + tip),
                    at(x, y - tip),
                ],
                colour,
            ),
        });
    }

    /// What is behind everything.
    pub const fn ground(&self) -> Colour {
        SLATE
    }
}

/// Where a titled layout goes on.
pub const BELOW_TITLE: f32 = 150.0;
