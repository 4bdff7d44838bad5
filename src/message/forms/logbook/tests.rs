use super::*;
use proptest::prelude::*;

fn one(text: &str) -> Entry {
    let mut entries = read(text).expect("a log");
    assert_eq!(entries.len(), 1, "{text}");
    entries.remove(0)
}

fn faults(text: &str) -> Vec<(usize, String, LogFaultKind)> {
    let faults = read(text).expect_err("faults");
    let told = |fault: LogFault| (fault.line, fault.words, fault.kind);
    faults.into_iter().map(told).collect()
}

#[test]
fn columns_stand_in_any_order_and_few_are_needed() {
    let entry = one("reps,exercise,date,member\n8,squat,2026-01-12,Ines\n");
    assert_eq!((entry.member.as_str(), entry.reps), ("Ines", 8));
    let day = "2026-01-12".parse().expect("a day");
    assert_eq!(entry.when, When::On(day, None));
    assert_eq!(entry.load, None);
    assert_eq!(entry.kind, SetKind::Straight);
    assert!(!entry.timed);
}

#[test]
fn decimal_commas_stand_where_semicolons_part_cells() {
    let entry = one("member;date;exercise;load;reps\nInes;2026-01-12;squat;77,5;8");
    assert_eq!(entry.load, Some(77.5));
}

#[test]
fn every_fault_has_its_line_and_words() {
    let text = "member,date,exercise,load,reps,left\n\
                Ines,2026-13-12,squat,80,8,\n\
                ,2026-01-12,squat,80,8,\n\
                Ines,2026-01-12,squat,heavy,8,\n\
                Ines,2026-01-12,squat,80,8,2\n\
                Ines,2026-01-12,squat,80,,2\n\
                Ines,2026-01-12,squat,80,101,2\n\
                Ines,2026-01-12,squat,80,8,40\n\
                Ines,2026-01-12,squat,-80,8,2\n\
                Ines,2026-01-12,squat,80,8,2,tired\n";
    let told = |line, words: &str, kind| (line, words.to_owned(), kind);
    assert_eq!(
        faults(text),
        [
            told(2, "2026-13-12", LogFaultKind::Cell(Column::Date)),
            told(3, "", LogFaultKind::Empty(Column::Member)),
            told(4, "heavy", LogFaultKind::Cell(Column::Load)),
            told(6, "", LogFaultKind::Empty(Column::Reps)),
            told(7, "101", LogFaultKind::Cell(Column::Reps)),
            told(8, "40", LogFaultKind::Cell(Column::Left)),
            told(9, "-80", LogFaultKind::Cell(Column::Load)),
            told(10, "tired", LogFaultKind::TooManyCells),
        ]
    );
}

#[test]
fn columns_that_are_unknown_doubled_or_missing_are_told() {
    assert_eq!(
        faults("member,date,exercise,wight,load,load\nInes,,,,,"),
        [
            (1, "wight".to_owned(), LogFaultKind::UnknownColumn),
            (1, "load".to_owned(), LogFaultKind::ColumnTwice),
            (1, String::new(), LogFaultKind::NoColumn(Column::Reps)),
        ]
    );
    assert_eq!(faults("")[0].2, LogFaultKind::Nothing);
    assert_eq!(
        faults("member,exercise,reps\nInes,squat,8")[0].2,
        LogFaultKind::NoColumn(Column::Date)
    );
}

#[test]
fn cells_that_look_like_formulas_are_printed_harmless_and_read_back() {
    let entry = Entry {
        member: "=1+1".to_owned(),
        ..one("member,date,exercise,reps\nx,2026-01-12,squat,8")
    };
    let text = print(std::slice::from_ref(&entry));
    assert!(text.contains("'=1+1,"), "{text}");
    assert_eq!(one(&text).member, "=1+1");
}

fn entries() -> impl Strategy<Value = Entry> {
    let when = prop_oneof![
        (0i64..4_000_000_000, -12 * 60..14 * 60).prop_map(|(ms, minutes)| {
            let offset = FixedOffset::east_opt(minutes * 60).expect("an offset");
            let at = DateTime::from_timestamp_millis(ms * 1000).expect("a time");
            When::At(at.with_timezone(&offset))
        }),
        (0i32..20_000, prop::option::of(0u32..86_400)).prop_map(|(day, second)| {
            let time = |second| NaiveTime::from_num_seconds_from_midnight_opt(second, 0);
            let day = NaiveDate::from_num_days_from_ce_opt(720_000 + day).expect("a day");
            When::On(day, second.and_then(time))
        }),
    ];
    let left =
        || prop::option::of((0u32..60).prop_map(|h| Rir::new(f64::from(h) / 2.0).expect("one")));
    let whose = ("[A-Za-zÄö=+@'\", ;-]{1,12}", "[a-z ,'\"-]{1,20}");
    let load =
        prop::option::of((0u32..100_000).prop_map(|hundredths| f64::from(hundredths) / 100.0));
    let flags = (any::<bool>(), any::<bool>());
    (
        when,
        whose,
        load,
        1u32..=100,
        left(),
        left(),
        flags,
        prop::option::of(0u32..1000),
    )
        .prop_map(
            |(when, (member, exercise), load, reps, left, asked, (timed, per_side), rest_s)| {
                Entry {
                    line: 0,
                    member: format!("M{}", member.trim_end()),
                    when,
                    timed,
                    exercise: format!("x{}", exercise.trim_end()),
                    load,
                    unit: load.map(|_| Unit::Lb),
                    basis: Some(Basis::Added),
                    reps,
                    per_side,
                    left,
                    asked,
                    gave_out: asked.and(Some(LimitingFactor::Breath)),
                    kind: if per_side {
                        SetKind::WarmUp
                    } else {
                        SetKind::Other
                    },
                    technique: timed.then_some(Technique::Tempo),
                    rest_s,
                }
            },
        )
}

proptest! {
    #[test]
    fn what_is_printed_reads_back(log in prop::collection::vec(entries(), 1..20)) {
        let mut read = read(&print(&log)).expect("reads back");
        read.iter_mut().for_each(|entry| entry.line = 0);
        prop_assert_eq!(read, log);
    }

    #[test]
    fn any_text_is_read_without_panic(text in any::<String>(), cells in "[a-z0-9,;\"\n.-]{0,300}") {
        let _ = read(&text);
        let _ = read(&format!("member,date,exercise,load,reps\n{cells}"));
    }
}

#[test]
fn log_of_as_many_rows_as_allowed_is_read_and_a_longer_one_refused_with_its_line() {
    let head = "member,date,exercise,load,reps\n";
    let rows = "Ines,2026-01-12,back squat,80,8\n".repeat(MOST_ROWS);
    assert_eq!(
        read(&format!("{head}{rows}")).map(|log| log.len()),
        Ok(MOST_ROWS)
    );
    let refused = read(&format!("{head}{rows}Ines,2026-01-12,back squat,80,8\n"));
    let fault = |line, kind| LogFault {
        line,
        words: String::new(),
        kind,
    };
    let too_many = fault(MOST_ROWS + 2, LogFaultKind::TooManyRows);
    assert_eq!(refused, Err(vec![too_many]));
    let long = format!("{head}{}", "x".repeat(MOST_BYTES));
    assert_eq!(read(&long), Err(vec![fault(1, LogFaultKind::TooLong)]));
}
