//! The pound, the bar and its discs.

use chalkbell::domain::quantities::catalogue::{Basis, Equipment};
use chalkbell::domain::quantities::mass::{Mass, Unit};
use chalkbell::domain::quantities::rack::{Discs, Rack, Steps};

use crate::assert_near;

/// The published figures of the conversion table have eight decimals.
const PRINTED: f64 = 5e-9;

/// Tenths of a microgram in a kilogram: the count that a [`Mass`] is stored as.
const PER_KG: i64 = 10_000_000_000;

fn kg(kg: f64) -> Mass {
    Mass::from_kg(kg).unwrap()
}

fn lb(lb: f64) -> Mass {
    Mass::from_lb(lb).unwrap()
}

/// Source: Thompson A, Taylor BN 2008, NIST Special Publication 811, appendix B: 1 lb =
/// 0.45359237 kg exactly. The products are worked out from it, exactly.
#[test]
fn pounds_are_exact_kilograms() {
    let tenths_of_microgram = [
        (1.0, 4_535_923_700_i64),
        (2.5, 11_339_809_250),
        (5.0, 22_679_618_500),
        (10.0, 45_359_237_000),
        (25.0, 113_398_092_500),
        (35.0, 158_757_329_500),
        (45.0, 204_116_566_500),
        (135.0, 612_349_699_500),
        (225.0, 1_020_582_832_500),
        (315.0, 1_428_815_965_500),
        (405.0, 1_837_049_098_500),
        (495.0, 2_245_282_231_500),
    ];
    for (pounds, count) in tenths_of_microgram {
        assert_eq!(lb(pounds).tenth_micrograms(), count, "{pounds} lb");
    }
    assert_eq!(kg(1.0).tenth_micrograms(), PER_KG);
}

/// Source: as above, by division; printed to eight decimals.
#[test]
fn kilograms_in_pounds_agree_to_the_printed_digits() {
    let printed = [
        (1.0, 2.204_622_62),
        (1.25, 2.755_778_28),
        (2.5, 5.511_556_55),
        (5.0, 11.023_113_11),
        (10.0, 22.046_226_22),
        (15.0, 33.069_339_33),
        (20.0, 44.092_452_44),
        (25.0, 55.115_565_55),
        (60.0, 132.277_357_31),
        (100.0, 220.462_262_18),
        (140.0, 308.647_167_06),
        (180.0, 396.832_071_93),
        (220.0, 485.016_976_81),
    ];
    for (kilos, pounds) in printed {
        assert_near(kg(kilos).in_lb(), pounds, PRINTED, "kg in lb");
    }
}

/// Source: common gym practice (bar and one to five pairs of the big disc, without collars).
#[test]
fn pairs_of_the_big_disc_reach_the_known_totals() {
    let known = [
        (1, 60.0, 135.0),
        (2, 100.0, 225.0),
        (3, 140.0, 315.0),
        (4, 180.0, 405.0),
        (5, 220.0, 495.0),
    ];
    for (pairs, kilos, pounds) in known {
        let kilo_bar = one_disc_bar(Unit::Kg, kg(20.0), kg(20.0), pairs);
        assert_eq!(heaviest(&kilo_bar), kg(kilos), "{pairs} pairs");
        let pound_bar = one_disc_bar(Unit::Lb, lb(45.0), lb(45.0), pairs);
        assert_eq!(heaviest(&pound_bar), lb(pounds), "{pairs} pairs");
        assert_eq!(Rack::usual(Unit::Lb).discs_per_side(lb(pounds)), {
            Some(vec![lb(45.0); usize::from(pairs)])
        });
    }
}

/// Source: common gym practice: 45 lb discs and 20 kg discs take each other's place and are not
/// the same mass (45 lb is 20.41 kg).
#[test]
fn the_big_discs_of_the_two_units_are_not_swapped() {
    assert_near(lb(45.0).in_kg(), 20.411_656_65, PRINTED, "45 lb");
    assert_eq!(Rack::usual(Unit::Kg).discs_per_side(lb(135.0)), None);
}

/// Source: International Powerlifting Federation, Technical Rules Book: discs of 1.25, 2.5, 5, 10,
/// 15, 20 and 25 kg; the bar of 20 kg by itself from memory. The smallest pair makes 2.5 kg steps.
#[test]
fn powerlifting_discs_make_every_step_of_the_smallest_pair() {
    let masses = [1.25, 2.5, 5.0, 10.0, 15.0, 20.0, 25.0];
    let discs = masses.map(|mass| Discs {
        mass: kg(mass),
        pairs: 1,
    });
    let rack = rack(Unit::Kg, kg(20.0), discs.to_vec());
    let loads = rack.loads(Equipment::Barbell, Basis::Total);
    let total: f64 = masses.iter().sum();
    let every_step = (0..).map(|n| kg(20.0 + 2.5 * f64::from(n)));
    let expected: Vec<Mass> = every_step
        .take_while(|&load| load <= kg(20.0 + 2.0 * total))
        .collect();
    assert_eq!(loads, expected);
}

/// Source: International Weightlifting Federation, Technical and Competition Rules, 3.3: bars of 20
/// and 15 kg, collars of 2.5 kg each: the empty bars with collars weigh 25 and 20 kg.
#[test]
fn weightlifting_collars_add_five_kilograms() {
    let collars = kg(2.5).times(2);
    assert_eq!(kg(20.0) + collars, kg(25.0));
    assert_eq!(kg(15.0) + collars, kg(20.0));
}

fn one_disc_bar(unit: Unit, bar: Mass, mass: Mass, pairs: u8) -> Rack {
    rack(unit, bar, vec![Discs { mass, pairs }])
}

fn rack(unit: Unit, bar: Mass, discs: Vec<Discs>) -> Rack {
    let steps = Steps::new(kg(2.5), kg(2.5), kg(100.0)).unwrap();
    Rack::new(unit, bar, discs, steps, steps).unwrap()
}

fn heaviest(rack: &Rack) -> Mass {
    *rack.loads(Equipment::Barbell, Basis::Total).last().unwrap()
}
