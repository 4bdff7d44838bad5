//! Learned figures of a population as TOML, and back.

use std::fmt::Write as _;

use super::ConfigError;
use crate::domain::quantities::learned_priors::{Figure, Group, Learned, LearnedPriors};
use crate::domain::quantities::lift_class::LiftClass;
use crate::domain::quantities::status::TrainingStatus;

/// The figures as a file: `[class.press.curve]` with `mean` and `spread`, in the units of
/// [`crate::domain::quantities::priors`].
pub fn printed(priors: &LearnedPriors) -> String {
    let mut text = String::from(
        "# What the members of a database have in common, learned by `chalkbell prior`. Each figure is a\n\
         # mean and a spread over many members. Name this file in CHALKBELL_PRIORS.\n",
    );
    for learned in priors.figures() {
        let ((table, key), figure) = (learned.group.words(), learned.figure.word());
        let Learned { mean, spread, .. } = learned;
        let _ = write!(
            text,
            "\n[{table}.{key}.{figure}]\nmean = {mean:.3}\nspread = {spread:.3}\n"
        );
    }
    text
}

/// Reads what [`printed`] wrote.
///
/// # Errors
/// [`ConfigError`] when it is no such file, or a figure lies where none can have been learned.
pub fn read(text: &str) -> Result<LearnedPriors, ConfigError> {
    let fault = |what: String| ConfigError::Priors { what };
    let file: toml::Table = toml::from_str(text).map_err(|error| fault(error.to_string()))?;
    let mut figures = Vec::new();
    for (table, groups) in &file {
        for (key, of_group) in entries(groups, table)? {
            let group = match table.as_str() {
                "class" => LiftClass::from_word(key).map(Group::Class),
                "status" => TrainingStatus::from_word(key).map(Group::Status),
                _ => None,
            };
            let group = group.ok_or_else(|| fault(format!("[{table}.{key}] is no group")))?;
            for (word, numbers) in entries(of_group, key)? {
                let name = format!("[{table}.{key}.{word}]");
                let figure = Figure::ALL.into_iter().find(|f| f.word() == word);
                let figure = figure.ok_or_else(|| fault(format!("{name} is no figure")))?;
                let number = |of: &str| {
                    let number = numbers.get(of).and_then(toml::Value::as_float);
                    number.ok_or_else(|| fault(format!("{name} has no number `{of}`")))
                };
                let learned = Learned {
                    figure,
                    group,
                    mean: number("mean")?,
                    spread: number("spread")?,
                };
                if !learned.is_sound() {
                    return Err(fault(format!("{name} is too far from what is published")));
                }
                figures.push(learned);
            }
        }
    }
    Ok(LearnedPriors::new(figures))
}

fn entries<'a>(value: &'a toml::Value, name: &str) -> Result<&'a toml::Table, ConfigError> {
    value.as_table().ok_or_else(|| ConfigError::Priors {
        what: format!("`{name}` is no table"),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = "[class.press.curve]\nmean = 3.600\nspread = 0.200\n\n\
                        [status.beginner.trend]\nmean = 0.012\nspread = 0.006\n";

    #[test]
    fn what_is_written_reads_back() {
        let priors = read(FILE).unwrap();
        assert_eq!(priors.figures().len(), 2);
        assert_eq!(read(&printed(&priors)).unwrap(), priors);
        let press = priors.population(LiftClass::Press, TrainingStatus::Beginner);
        let same = |a: f64, b: f64| (a - b).abs() < 1e-12;
        assert!(same(press.curve.mean, 3.6) && same(press.trend.mean, 0.012));
        let pull = priors.population(LiftClass::Pull, TrainingStatus::Advanced);
        assert!(!same(pull.curve.mean, 3.6) && !same(pull.trend.mean, 0.012));
    }

    #[test]
    fn what_cannot_be_is_named() {
        for (text, named) in [
            ("class = 3", "`class`"),
            (
                "[class.wing.curve]\nmean = 3.6\nspread = 0.2",
                "[class.wing]",
            ),
            (
                "[class.press.charm]\nmean = 3.6\nspread = 0.2",
                "[class.press.charm]",
            ),
            ("[class.press.curve]\nmean = 3.6", "`spread`"),
            (
                "[class.press.curve]\nmean = 9.0\nspread = 0.2",
                "[class.press.curve]",
            ),
            (
                "[class.press.curve]\nmean = nan\nspread = 0.2",
                "[class.press.curve]",
            ),
            (
                "[class.press.habit]\nmean = 0.5\nspread = 0.2",
                "[class.press.habit]",
            ),
            ("mean = =", "mean"),
        ] {
            let told = read(text).unwrap_err().to_string();
            assert!(told.contains(named), "{text}: {told}");
            assert!(told.contains("chalkbell prior"), "{told}");
        }
    }
}
