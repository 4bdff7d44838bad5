//! Every picture that is looked at. A picture as the bot makes them, a team of twenty at most, must
//! take under 40 ms.

#![expect(clippy::expect_used, reason = "a benchmark may fail")]

#[path = "../support/figures.rs"]
mod figures;

use chalkbell::picture::draw;

fn main() {
    divan::main();
}

const NAMES: [&str; 6] = [
    "week-typical",
    "week-17",
    "lift-pause",
    "lift-many",
    "team-20",
    "team-30",
];

#[divan::bench(args = NAMES)]
fn drawn(bencher: divan::Bencher, name: &str) {
    let mut all = figures::gallery().into_iter();
    let (_, figure) = all.find(|(one, _)| *one == name).expect("a figure");
    bencher.bench(|| draw(&figure).expect("a picture").png.len());
}
