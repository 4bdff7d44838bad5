//! Words for units of mass.

use crate::domain::quantities::mass::Unit;

/// What a word in small letters says of a load: `kg`, `kilos`, `lb`, `pounds`, `#`.
pub(crate) fn unit_of(word: &str) -> Option<Unit> {
    match word {
        "kg" | "kgs" | "kilo" | "kilos" | "kilogram" | "kilograms" => Some(Unit::Kg),
        "lb" | "lbs" | "pound" | "pounds" | "#" => Some(Unit::Lb),
        _ => None,
    }
}
