//! The line that forgets, made to forget nothing, against certified figures.

use chalkbell::domain::lifter::line::Line;

use super::assert_near;

/// The Norris data, ordered by x. *Source*: National Institute of Standards and Technology,
/// Statistical Reference Datasets, linear regression, Norris.
const NORRIS: [(f64, f64); 36] = [
    (0.2, 0.1),
    (0.3, 0.3),
    (0.3, 0.6),
    (0.4, 0.3),
    (0.5, 0.2),
    (0.6, 0.1),
    (10.1, 9.2),
    (11.1, 10.2),
    (11.6, 10.8),
    (118.2, 118.1),
    (118.3, 117.6),
    (120.2, 119.6),
    (226.5, 228.1),
    (228.1, 228.3),
    (229.2, 228.9),
    (337.4, 338.8),
    (338.0, 339.3),
    (339.1, 339.3),
    (447.5, 448.9),
    (448.6, 449.1),
    (448.9, 449.2),
    (556.0, 557.7),
    (556.8, 557.6),
    (558.2, 559.2),
    (666.3, 668.5),
    (666.9, 668.8),
    (669.1, 668.4),
    (775.5, 778.1),
    (777.0, 778.9),
    (779.0, 778.9),
    (884.6, 888.0),
    (887.2, 888.0),
    (887.6, 888.8),
    (995.8, 998.0),
    (996.3, 998.5),
    (999.0, 998.5),
];

#[test]
fn norris_line_has_the_certified_slope_intercept_and_residual() {
    let mut line = Line::default();
    let mut last = 0.0;
    for (x, y) in NORRIS {
        line = line.with(x - last, y, 1.0, 1.0);
        last = x;
    }
    let fit = line.fit().unwrap();
    assert_near(fit.slope, 1.002_116_818_020_45, 1e-10, "slope");
    let intercept = fit.level - fit.slope * last;
    assert_near(intercept, -0.262_323_073_774_029, 1e-8, "intercept");
    let spread = (fit.residual / 34.0).sqrt();
    assert_near(spread, 0.884_796_396_144_373, 1e-7, "residual spread");
}
