//! Files as people and spreadsheets write them.

use proptest::prelude::*;

use super::*;
use crate::rules::export;

const SURFACES: &str =
    "tag,profile,serial,lot,owned,daily_rate,state,bed,filter_changed,in_service\n";

fn profiles(bytes: &[u8]) -> Result<Imported<ProfileRow>, Rejected> {
    super::profiles(bytes).and_then(Scanned::all_or_none)
}

fn beds(bytes: &[u8]) -> Result<Imported<BedRow>, Rejected> {
    super::beds(bytes).and_then(Scanned::all_or_none)
}

fn surfaces(bytes: &[u8]) -> Result<Imported<SurfaceRow>, Rejected> {
    super::surfaces(bytes).and_then(Scanned::all_or_none)
}

fn faults<Row: std::fmt::Debug>(read: Result<Imported<Row>, Rejected>) -> Vec<(u64, ImportFault)> {
    let rejected = read.expect_err("should be refused");
    rejected
        .faults
        .into_iter()
        .map(|fault| (fault.line, fault.fault))
        .collect()
}

#[test]
fn profiles_in_full_and_in_short() {
    let text = "profile,class,kind,check,first_fill,fill_minutes,filter,filter_check_days,filter_max_days,width_in,\
                length_in,capacity_lb,settings,low_in,high_in\n\
                Reed 8,replacement,Low air loss,hand,highest,25,replaceable,14,90,35.5,80,450,120:1;160:2,1,1.5\n\
                Moss,overlay,alternating,look-and-feel,,,none,,,,,,,,\n";
    let read = profiles(text.as_bytes()).unwrap();
    assert_eq!(read.extra_columns, Vec::<String>::new());
    assert_eq!(
        read.rows,
        [
            ProfileRow {
                line: 2,
                profile: "Reed 8".into(),
                class: Class::Replacement,
                kind: Kind::LowAirLoss,
                check: Check::Hand,
                first_fill: Some(FirstFill::Highest),
                fill_minutes: Some(25),
                filter: FilterKind::Replaceable,
                filter_check_days: Some(14),
                filter_max_days: Some(90),
                width: Some(Tenths(9017)),
                length: Some(Tenths(20320)),
                capacity_lb: Some(450),
                settings: vec![
                    SettingStep {
                        up_to_lb: 120,
                        setting: "1".into()
                    },
                    SettingStep {
                        up_to_lb: 160,
                        setting: "2".into()
                    },
                ],
                band: Some(Band::default()),
                holds_minutes: None,
                cover_opens: None,
                service_days: None,
            },
            ProfileRow {
                line: 3,
                profile: "Moss".into(),
                class: Class::Overlay,
                kind: Kind::Alternating,
                check: Check::LookAndFeel,
                first_fill: None,
                fill_minutes: None,
                filter: FilterKind::None,
                filter_check_days: None,
                filter_max_days: None,
                width: None,
                length: None,
                capacity_lb: None,
                settings: vec![],
                band: None,
                holds_minutes: None,
                cover_opens: None,
                service_days: None,
            },
        ]
    );
}

#[test]
fn surfaces_in_full() {
    let text = format!(
        "{SURFACES}LW-07,Reed 8,A1234,24-061,rented,12.5,ready,214b,2026-03-08,2025-01-31\nLW-08,Reed 8,,,owned,,soiled,,,\n\
         LW-09,Reed 8,,,owned,,,101,,\n"
    );
    let rows = surfaces(text.as_bytes()).unwrap().rows;
    let first = rows.first().unwrap();
    assert_eq!(first.daily_rate_cents, Some(1250));
    assert_eq!(first.bed.as_deref(), Some("214B"));
    assert_eq!(first.serial.as_deref(), Some("A1234"));
    assert_eq!(first.filter_changed, NaiveDate::from_ymd_opt(2026, 3, 8));
    assert_eq!(
        rows.iter().map(|row| row.line).collect::<Vec<_>>(),
        [2, 3, 4]
    );
    assert_eq!(rows.last().map(|row| row.state), Some(Start::Ready));
}

#[test]
fn as_spreadsheets_save_them() {
    let expected = beds(b"unit,bed\nElm,101\nElm,102\n").unwrap();
    for text in [
        "\u{feff}unit,bed\r\nElm,101\r\nElm,102\r\n",
        "unit,bed\rElm,101\rElm,102",
        "unit;bed\nElm;101\nElm;102\n",
        "unit\tbed\nElm\t101\nElm\t102\n",
        " Unit , BED \n\"Elm\",\"101\"\nElm, 102 \n",
        "\"unit\",\"bed\"\n\"Elm\",101\nElm,102\n,\n,\n",
    ] {
        assert_eq!(beds(text.as_bytes()), Ok(expected.clone()), "{text:?}");
    }
    let more = beds(b"bed,note,unit\n101,x,Elm\n102,,Elm\n").unwrap();
    assert_eq!(
        (more.rows, more.extra_columns),
        (expected.rows, vec!["note".to_owned()])
    );
    // Blank lines are passed over and still counted.
    let rows = beds(b"unit,bed\r\n\r\nElm,101\r\n\r\nElm,102\r\n")
        .unwrap()
        .rows;
    assert_eq!(rows.iter().map(|row| row.line).collect::<Vec<_>>(), [3, 5]);
}

/// Where a header has as many of two signs, a cell of it may hold the one that does not separate.
#[test]
fn the_sign_that_a_header_has_most_of_separates_and_a_comma_before_others() {
    for (header, sign) in [
        ("unit,bed,rails", b','),
        ("unit;bed;rails", b';'),
        ("unit\tbed\trails", b'\t'),
        ("unit,bed\trails", b','),
        ("unit,bed;rails", b','),
        ("unit;bed\trails", b';'),
        ("unit,bed;rails;outlet", b';'),
        ("unit,bed\trails\toutlet", b'\t'),
        ("unit;bed\trails\toutlet", b'\t'),
        ("unit", b','),
    ] {
        assert_eq!(read::separator(header), sign, "{header:?}");
    }
}

#[test]
fn beds_may_bring_their_frames() {
    let file = "unit,bed,frame_width_in,frame_length_in,rails,outlet,outlet_tested,approved\n\
                Elm,101,36,84,split,ordinary,2026-01-15,Overlay A; Soft B\n\
                Elm,102,,,,,,all\nElm,103,,,,,,\n";
    let rows = beds(file.as_bytes()).unwrap().rows;
    assert_eq!(rows[0].width, Some(Tenths(9_144)));
    assert_eq!(rows[0].length, Some(Tenths(21_336)));
    assert_eq!(rows[0].rails, Some(crate::choice::Rails::Split));
    assert_eq!(rows[0].outlet, Some(crate::choice::Outlet::Ordinary));
    assert_eq!(rows[0].outlet_tested, "2026-01-15".parse().ok());
    let names = ["Overlay A".to_owned(), "Soft B".to_owned()];
    assert_eq!(rows[0].approved.as_deref(), Some(&names[..]));
    assert_eq!(rows[1].approved, Some(Vec::new()));
    assert_eq!((rows[2].width, &rows[2].approved), (None, &None));
    let wrong = b"unit,bed,frame_width_in,rails\nElm,101,19,halves\n";
    let faults = beds(wrong).unwrap_err().faults;
    assert_eq!(faults.len(), 2, "{faults:?}");
}

#[test]
fn the_whole_file_is_wrong() {
    for (bytes, line, fault) in [
        (&b""[..], 0, ImportFault::Empty),
        (b"\xef\xbb\xbf \r\n", 0, ImportFault::Empty),
        (b"unit,bed\n", 0, ImportFault::NoRows),
        (b"unit,bed\n,\n", 0, ImportFault::NoRows),
        (b"unit,bed\nElm,101\nPe\xf1a,102\n", 3, ImportFault::NotUtf8),
        (b"\xff\xfeu\0n\0", 1, ImportFault::NotUtf8),
        (b"PK\x03\x04\x14\0", 0, ImportFault::Workbook),
        (
            b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1",
            0,
            ImportFault::Workbook,
        ),
        (b"u\0n\0i\0t\0", 1, ImportFault::NotUtf8),
        (
            b"unit\nElm\n",
            1,
            ImportFault::MissingColumn {
                column: "bed",
                nearest: None,
            },
        ),
        (
            b"unit,bedd\nElm,1\n",
            1,
            ImportFault::MissingColumn {
                column: "bed",
                nearest: Some("bedd".into()),
            },
        ),
        (
            b"unit,bed,Bed\nElm,1,2\n",
            1,
            ImportFault::ColumnTwice { column: "bed" },
        ),
    ] {
        assert_eq!(
            faults(beds(bytes)),
            [(line, fault)],
            "{:?}",
            String::from_utf8_lossy(bytes)
        );
    }
    let misnamed = surfaces(b"tag,profile,owned,state,seriel\nA1,Reed,owned,ready,1\n");
    assert_eq!(
        faults(misnamed),
        [(
            1,
            ImportFault::MisnamedColumn {
                column: "serial",
                found: "seriel".into()
            }
        )]
    );
    // Said once of the file, and not of each row; what lies under a bed needs none.
    let stateless = surfaces(b"tag,profile,bed\nA1,Reed,101\nA2,Reed,\nA3,Reed,\n");
    assert_eq!(
        faults(stateless),
        [(
            1,
            ImportFault::AbsentColumn {
                column: "state",
                first_line: 3
            }
        )]
    );
    let blank = surfaces(b"tag,profile,state\nA1,Reed,\n");
    assert_eq!(faults(blank), [(2, ImportFault::Blank { column: "state" })]);
    let large = vec![b'x'; FILE_BYTES_MAX + 1];
    assert_eq!(
        faults(beds(&large)),
        [(
            0,
            ImportFault::TooLarge {
                most_bytes: FILE_BYTES_MAX
            }
        )]
    );
}

#[test]
fn every_fault_of_every_row_is_told() {
    let text = format!(
        "{SURFACES}lw7,Reed 8,,,own,cheap,ready,Elm,3/8/2026,2026-02-30\nLW-07,,Mrs Alvarez,,owned,,clean,,,\n\
         LW-08,Reed,,,rented,99999,,,,\nLW-09,Reed\nLW-10,Reed,,,owned,,soiled,101,,\nLW-11,Reed,,,owned,,ready,101,,\n"
    );
    let words = |column, words: &[&'static str], nearest| ImportFault::NotOneOf {
        column,
        words: words.to_vec(),
        nearest,
    };
    assert_eq!(
        faults(surfaces(text.as_bytes())),
        [
            (
                2,
                words(
                    "owned",
                    &["owned", "rented", "resident", "hospice"],
                    Some("owned")
                )
            ),
            (
                2,
                ImportFault::NotANumber {
                    column: "daily_rate"
                }
            ),
            (
                2,
                ImportFault::BadName {
                    column: "bed",
                    most: 8
                }
            ),
            (
                2,
                ImportFault::NotADate {
                    column: "filter_changed"
                }
            ),
            (
                2,
                ImportFault::NotADate {
                    column: "in_service"
                }
            ),
            (
                3,
                ImportFault::Twice {
                    column: "tag",
                    first_line: 2
                }
            ),
            (3, ImportFault::Blank { column: "profile" }),
            (
                3,
                ImportFault::Guarded {
                    column: "serial",
                    found: Found::Name
                }
            ),
            (3, words("state", &["ready", "soiled"], None)),
            (
                4,
                ImportFault::OutOfRange {
                    column: "daily_rate",
                    least: 0,
                    most: 10_000
                }
            ),
            (4, ImportFault::Blank { column: "state" }),
            (
                5,
                ImportFault::CellCount {
                    expected: 10,
                    found: 2
                }
            ),
            (6, ImportFault::SoiledUnderBed),
            (
                7,
                ImportFault::Twice {
                    column: "bed",
                    first_line: 6
                }
            ),
        ]
    );
}

#[test]
fn profiles_that_cannot_be() {
    let head = "profile,class,kind,check,filter,settings,low_in,high_in,filter_check_days,filter_max_days,fill_minutes\n";
    for (row, fault) in [
        (
            "General,overlay,static,hand,none,,,,,,",
            ImportFault::Reserved { name: "general" },
        ),
        (
            "A,overlay,static,hand,none,160:2;120:1,,,,,",
            ImportFault::BadSettings,
        ),
        (
            "A,overlay,static,hand,none,120:1;120:2,,,,,",
            ImportFault::BadSettings,
        ),
        (
            "A,overlay,static,hand,none,soft,,,,,",
            ImportFault::BadSettings,
        ),
        (
            "A,overlay,static,hand,none,120:=1,,,,,",
            ImportFault::BadSettings,
        ),
        ("A,overlay,static,hand,none,,1.5,1,,,", ImportFault::BadBand),
        ("A,overlay,static,hand,none,,1,,,,", ImportFault::BadBand),
        (
            "A,overlay,static,hand,none,,9,10,,,",
            ImportFault::OutOfRange {
                column: "low_in",
                least: 0,
                most: 8,
            },
        ),
        (
            "A,overlay,static,hand,none,,,,30,14,",
            ImportFault::FilterDaysBackwards,
        ),
        (
            "A,overlay,static,hand,none,,,,,,0",
            ImportFault::OutOfRange {
                column: "fill_minutes",
                least: 1,
                most: 240,
            },
        ),
        (
            "A,overlay,static,hand,none,,,,,,1.5",
            ImportFault::NotANumber {
                column: "fill_minutes",
            },
        ),
        (
            "=A(),overlay,static,hand,none,,,,,,",
            ImportFault::BadName {
                column: "profile",
                most: 40,
            },
        ),
        (
            "\"A\nB\",overlay,static,hand,none,,,,,,",
            ImportFault::BreakInCell,
        ),
    ] {
        assert_eq!(
            faults(profiles(format!("{head}{row}\n").as_bytes())),
            [(2, fault)],
            "{row}"
        );
    }
}

#[test]
fn the_last_values_that_can_be() {
    let text = "profile,class,kind,check,filter,filter_check_days,filter_max_days,fill_minutes,width_in\n\
                A,overlay,static,hand,none,730,730,240,80\n";
    let rows = profiles(text.as_bytes()).unwrap().rows;
    assert_eq!(rows.first().and_then(|row| row.filter_max_days), Some(730));
    let text = format!(
        "{SURFACES}A1,Reed,,,rented,10000.00,ready,,,\nA2,Reed,,,rented,10000.01,ready,,,\n"
    );
    let most = ImportFault::OutOfRange {
        column: "daily_rate",
        least: 0,
        most: 10_000,
    };
    assert_eq!(faults(surfaces(text.as_bytes())), [(3, most)]);
}

#[test]
fn large_files_and_long_lists_of_faults() {
    let mut text = SURFACES.to_owned();
    for number in 0..10_000 {
        text.push_str(&format!("LW-{number},Reed 8,,,owned,,ready,,,\n"));
    }
    assert_eq!(surfaces(text.as_bytes()).unwrap().rows.len(), 10_000);
    let many: String = (0..=ROWS_MAX)
        .map(|number| format!("Elm,{number}\n"))
        .collect();
    let too_many = beds(format!("unit,bed\n{many}").as_bytes());
    assert_eq!(
        faults(too_many),
        [(
            ROWS_MAX as u64 + 2,
            ImportFault::TooManyRows { most: ROWS_MAX }
        )]
    );
    let wrong = "unit,bed\n".to_owned() + &"Elm,Elm\n".repeat(FAULTS_MAX + 7);
    let rejected = beds(wrong.as_bytes()).unwrap_err();
    assert_eq!((rejected.faults.len(), rejected.more), (FAULTS_MAX, 7));
}

#[test]
fn reads_what_export_writes() {
    let rows = [["-Elm", "101"], ["Oak", "102"]];
    let bytes = export::write(&["unit", "bed"], rows).unwrap();
    assert!(bytes.windows(5).any(|part| part == b"'-Elm"));
    let units: Vec<String> = beds(&bytes)
        .unwrap()
        .rows
        .into_iter()
        .map(|row| row.unit)
        .collect();
    assert_eq!(units, ["-Elm", "Oak"]);
}

proptest! {
    #[test]
    fn no_bytes_stop_the_reader(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        let _ = (profiles(&bytes), beds(&bytes), surfaces(&bytes));
    }

    #[test]
    fn no_cells_stop_the_reader(cells in "[-a-z0-9,;:\"'=\\r\\n. ]{0,120}") {
        let text = format!("{SURFACES}{cells}");
        if let Ok(read) = surfaces(text.as_bytes()) {
            prop_assert!(!read.rows.is_empty());
        }
    }
}

#[test]
fn how_long_it_holds_and_what_the_maker_allows() {
    let text = "profile,class,kind,check,filter,holds_minutes,cover_opens,service_days\n\
                Reed 8,replacement,both,hand,none,45,no,365\nMoss,overlay,both,hand,none,0,,\n";
    let rows = profiles(text.as_bytes()).unwrap().rows;
    let told = |row: &ProfileRow| (row.holds_minutes, row.cover_opens, row.service_days);
    let told: Vec<_> = rows.iter().map(told).collect();
    assert_eq!(
        told,
        [(Some(45), Some(false), Some(365)), (Some(0), None, None)]
    );
    assert!(profiles(text.replace(",no,", ",maybe,").as_bytes()).is_err());
}
