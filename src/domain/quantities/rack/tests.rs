use super::*;

fn kg(kg: f64) -> Mass {
    Mass::from_kg(kg).unwrap()
}

fn lb(lb: f64) -> Mass {
    Mass::from_lb(lb).unwrap()
}

fn rack_of(discs: &[(f64, u8)]) -> Result<Rack, RackError> {
    let discs = discs
        .iter()
        .map(|&(mass, pairs)| Discs::new(kg(mass), pairs));
    let steps = Steps::new(kg(5.0), kg(5.0), kg(50.0))?;
    Rack::new(Unit::Kg, kg(20.0), discs.collect(), steps, steps)
}

fn sides(rack: &Rack, total: f64) -> Option<Vec<f64>> {
    let discs = rack.discs_per_side(kg(total));
    discs.map(|discs| discs.into_iter().map(Mass::in_kg).collect())
}

#[test]
fn usual_racks_are_sound_in_both_units() {
    let first_bar = |unit| Rack::usual(unit).loads(Equipment::Barbell, Basis::Total)[0];
    assert_eq!(first_bar(Unit::Kg), kg(20.0));
    assert_eq!(first_bar(Unit::Lb), lb(45.0));
}

#[test]
fn usual_bar_goes_up_in_steps_of_the_smallest_pair() {
    let loads = Rack::usual(Unit::Kg).loads(Equipment::Barbell, Basis::Total);
    let light = loads.iter().filter(|&&load| load <= kg(300.0));
    let expected = (0..=112).map(|n| kg(20.0 + 2.5 * f64::from(n)));
    assert!(light.copied().eq(expected));
}

#[test]
fn usual_dumbbells_widen_their_steps() {
    let kilos = Rack::usual(Unit::Kg).loads(Equipment::Dumbbell, Basis::PerHand);
    let some: Vec<f64> = kilos.iter().skip(7).take(5).map(|m| m.in_kg()).collect();
    assert_eq!(some, [8.0, 9.0, 10.0, 12.0, 14.0]);
    assert_eq!(kilos.last(), Some(&kg(60.0)));
    let pounds = Rack::usual(Unit::Lb).loads(Equipment::Dumbbell, Basis::PerHand);
    let some: Vec<Mass> = pounds.iter().skip(8).take(4).copied().collect();
    assert_eq!(some, [lb(22.5), lb(25.0), lb(30.0), lb(35.0)]);
}

#[test]
fn heavier_discs_come_first() {
    let rack = rack_of(&[(5.0, 2), (20.0, 2), (10.0, 1)]).unwrap();
    assert_eq!(sides(&rack, 110.0), Some(vec![20.0, 20.0, 5.0]));
}

#[test]
fn empty_bar_needs_no_discs() {
    let rack = rack_of(&[(20.0, 1)]).unwrap();
    assert_eq!(sides(&rack, 20.0), Some(vec![]));
}

#[test]
fn limited_pairs_run_out() {
    let rack = rack_of(&[(20.0, 1), (5.0, 1)]).unwrap();
    assert_eq!(sides(&rack, 70.0), Some(vec![20.0, 5.0]));
    assert_eq!(sides(&rack, 100.0), None);
    let loads = rack.loads(Equipment::Barbell, Basis::Total);
    assert_eq!(loads, [20.0, 30.0, 60.0, 70.0].map(kg));
}

#[test]
fn a_heavy_disc_steps_back_where_lighter_ones_fit() {
    let rack = rack_of(&[(25.0, 1), (15.0, 2)]).unwrap();
    assert_eq!(sides(&rack, 80.0), Some(vec![15.0, 15.0]));
}

#[test]
fn a_total_that_no_pair_makes_is_none() {
    let rack = rack_of(&[(20.0, 4), (1.25, 1)]).unwrap();
    for total in [19.0, 21.25, 25.0, 61.0, 600.0] {
        assert_eq!(sides(&rack, total), None, "{total}");
    }
    let a_hair_above = Mass::from_tenth_micrograms(kg(60.0).tenth_micrograms() + 1);
    assert_eq!(rack.discs_per_side(a_hair_above), None);
}

#[test]
fn a_belt_holds_single_discs_both_of_a_pair_too() {
    let rack = rack_of(&[(20.0, 1), (5.0, 1)]).unwrap();
    let loads = rack.loads(Equipment::Body, Basis::Added);
    let expected = [5.0, 10.0, 20.0, 25.0, 30.0, 40.0, 45.0, 50.0];
    assert_eq!(loads, expected.map(kg));
}

#[test]
fn a_machine_carries_pairs_without_a_bar() {
    let rack = rack_of(&[(20.0, 1), (5.0, 1)]).unwrap();
    let loads = rack.loads(Equipment::PlateMachine, Basis::Total);
    assert_eq!(loads, [10.0, 40.0, 50.0].map(kg));
}

#[test]
fn rounding_goes_down_to_what_is_there() {
    let rack = Rack::usual(Unit::Kg);
    let cases = [
        ("bar", Equipment::Barbell, Basis::Total, 84.9, Some(82.5)),
        (
            "bar, exact",
            Equipment::Barbell,
            Basis::Total,
            82.5,
            Some(82.5),
        ),
        (
            "under the bar",
            Equipment::Barbell,
            Basis::Total,
            19.9,
            None,
        ),
        (
            "dumbbell",
            Equipment::Dumbbell,
            Basis::PerHand,
            27.9,
            Some(26.0),
        ),
        (
            "one dumbbell",
            Equipment::Dumbbell,
            Basis::Total,
            9.5,
            Some(9.0),
        ),
        (
            "hand on a bar lift",
            Equipment::Barbell,
            Basis::PerHand,
            17.0,
            Some(16.0),
        ),
        ("stack", Equipment::Stack, Basis::Total, 47.4, Some(45.0)),
        (
            "machine",
            Equipment::PlateMachine,
            Basis::Total,
            101.0,
            Some(100.0),
        ),
        ("belt", Equipment::Body, Basis::Added, 13.0, Some(12.5)),
        (
            "help is never less",
            Equipment::Body,
            Basis::Assisted,
            13.0,
            Some(15.0),
        ),
        (
            "more help than there is",
            Equipment::Body,
            Basis::Assisted,
            300.0,
            None,
        ),
        ("body", Equipment::Body, Basis::Body, 50.0, None),
    ];
    for (label, equipment, basis, wanted, expected) in cases {
        let found = rack.round_down(kg(wanted), equipment, basis);
        assert_eq!(found.map(Mass::in_kg), expected, "{label}");
    }
}

#[test]
fn numbers_that_are_no_rack_are_refused() {
    assert_eq!(rack_of(&[]), Err(RackError::Discs));
    assert_eq!(rack_of(&[(20.0, 0)]), Err(RackError::Discs));
    assert_eq!(rack_of(&[(20.0, 21)]), Err(RackError::Discs));
    assert_eq!(rack_of(&[(0.0, 1)]), Err(RackError::NotPositive));
    assert_eq!(rack_of(&[(501.0, 1)]), Err(RackError::TooHeavy));
    let odd: Vec<_> = (0..20)
        .map(|n| (1.0 + 0.001 * f64::from(1 << n) / 1000.0, 20))
        .collect();
    assert_eq!(rack_of(&odd), Err(RackError::TooManyLoads));
    assert_eq!(
        Steps::new(kg(1.0), Mass::ZERO, kg(2.0)),
        Err(RackError::NotPositive)
    );
    assert_eq!(Steps::new(kg(2.0), kg(1.0), kg(1.0)), Err(RackError::Steps));
    assert_eq!(
        Steps::new(kg(1.0), kg(0.1), kg(100.0)),
        Err(RackError::Steps)
    );
}

#[test]
fn wider_steps_must_go_up() {
    let fine = Steps::new(kg(1.0), kg(1.0), kg(10.0)).unwrap();
    assert_eq!(fine.then(kg(2.0), kg(9.0)), Err(RackError::Steps));
    assert_eq!(fine.then(kg(2.0), kg(14.0)).unwrap().masses().count(), 12);
}
