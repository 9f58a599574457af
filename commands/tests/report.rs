//! Reports of a home whose days are known by heart: what they say is what was counted by hand, beside each check.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod common;

use commands::Decision;
use commands::Said;
use commands::ids::ChatRole;
use commands::role::Role;
use commands::said::Value;
use commands::words::Lang;
use common::{CARE, Home, SUPERVISORS, answer_message, answer_text, buttons, command, text};

fn of(home: &mut Home, period: &str) -> Decision {
    home.ask(
        Role::Supervisor,
        &command("report", &[("period", text(period))]),
    )
}

/// What the chat says, and each line of it that must be there.
fn says(home: &mut Home, period: &str, lines: &[&str]) -> String {
    let said = of(home, period);
    let said = answer_text(&said).to_owned();
    for line in lines {
        assert!(
            said.lines().any(|one| one == *line),
            "{line:?} is not in:\n{said}"
        );
    }
    said
}

/// The file of an answer whose name ends so.
fn file(decision: &Decision, ending: &str) -> String {
    let files = &answer_message(decision).expect("a message").files;
    let found = files.iter().find(|file| file.name.ends_with(ending));
    found.expect("such a file").text.clone()
}

fn does(home: &mut Home, role: Role, path: &str, options: &[(&str, &str)]) {
    let options: Vec<(&str, Value)> = options.iter().map(|(name, of)| (*name, text(of))).collect();
    home.does(role, path, &options);
}

fn check(home: &mut Home, surface: &str, air: &str) {
    does(
        home,
        Role::Aide,
        "handcheck",
        &[("surface", surface), ("air", air)],
    );
}

/// At 07:10 on 2 March three surfaces are in place, in Elm (two) and Birch; shifts of eight hours from 07:00.
#[test]
fn figures_are_what_was_counted_by_hand() {
    let mut home = Home::set_up();
    check(&mut home, "LW-01", "1 1/4");
    check(&mut home, "LW-02", "3/4");
    home.passes(10);
    check(&mut home, "LW-02", "1 1/4");
    check(&mut home, "LW-03", "none");
    home.passes(50);
    // The next shift begins at 15:00: LW-01 only, and once more.
    home.passes(7 * 60 + 30);
    check(&mut home, "LW-01", "1 1/4");
    check(&mut home, "LW-01", "1 1/4");
    // Until 08:00 of the next day: three shifts are over, nine checks were due.
    home.passes(16 * 60);
    let said = says(
        &mut home,
        "last 7 days",
        &[
            // 02-24 to 03-02 would be seven days as well; today counts.
            "**2026-02-25 to 2026-03-03** (7 days)",
            "Alarms: none.",
            // LW-01 twice, LW-02 once, and LW-03 once with why not; Wilson by scipy 1.17.1 for 4 of 9: 0.1888 to 0.7333.
            "Checks: 4 of 9 on time (between 19 and 73 in 100 would be no surprise).",
            "Of these, could not be made, with why: 1.",
            // Of LW-02 after its low reading, and not of LW-03.
            "Looked at again in time, where that was booked: 1 of 2.",
            "The shift from 07:00 is not over and is not counted.",
            "Low readings: 1, with no air left: 0.",
        ],
    );
    // They came into the register with their beds: nobody set them up.
    assert!(!said.contains("Set-ups"), "{said}");
    assert!(said.lines().count() <= 11, "{said}");
    let report = of(&mut home, "last 7 days");
    let parts = Said::Tap {
        id: buttons(&report)[1].clone(),
        chosen: Vec::new(),
    };
    let parts = home.ask(Role::Supervisor, &parts);
    let parts = answer_text(&parts);
    for line in [
        "- Birch, shift from 07:00: 1 of 1 on time (between 21 and 100 in 100 would be no surprise)",
        "- Elm, shift from 07:00: 2 of 2 on time (between 34 and 100 in 100 would be no surprise)",
        "- Elm, shift from 15:00: 1 of 2 on time (between 9 and 91 in 100 would be no surprise)",
        "- Birch, shift from 23:00: 0 of 1 on time (between 0 and 79 in 100 would be no surprise)",
    ] {
        assert!(parts.contains(line), "{line} is not in:\n{parts}");
    }
}

#[test]
fn what_was_typed_later_counts_when_it_happened() {
    let mut home = Home::set_up();
    // 15:10: the first shift is over, and nothing was entered.
    home.passes(8 * 60);
    says(
        &mut home,
        "today",
        &["Checks: 0 of 3 on time (between 0 and 56 in 100 would be no surprise)."],
    );
    for surface in ["LW-01", "LW-02"] {
        let late = [("surface", surface), ("air", "1 1/4"), ("when", "14:00")];
        does(&mut home, Role::Aide, "handcheck", &late);
    }
    says(
        &mut home,
        "today",
        &["Checks: 2 of 3 on time (between 21 and 94 in 100 would be no surprise)."],
    );
    // One of them was of the shift that runs, the other never was.
    let reason = ("reason", "typed the wrong time");
    does(
        &mut home,
        Role::Aide,
        "amend",
        &[("entry", "last"), reason, ("when", "15:05")],
    );
    says(
        &mut home,
        "today",
        &[
            "Checks: 1 of 3 on time (between 6 and 79 in 100 would be no surprise).",
            "Corrected, remarked on or taken back: 1. Each stands with how it read before.",
        ],
    );
    let report = of(&mut home, "today");
    let page = file(&report, ".html");
    assert!(
        page.contains("<s>2026-03-02 14:00</s>"),
        "the old time is struck through"
    );
    assert!(page.contains("typed the wrong time"), "with the reason");
    let rows = file(&report, ".csv");
    let row = rows
        .lines()
        .find(|row| row.contains(",corrected,"))
        .unwrap();
    assert!(row.contains("2026-03-02T15:05:00-06:00"), "{row}");
    assert!(row.contains("2026-03-02T14:00:00-06:00"), "{row}");
    let strike = [
        ("entry", "last"),
        ("reason", "it was another surface"),
        ("strike", "on"),
    ];
    does(&mut home, Role::Aide, "amend", &strike);
    says(
        &mut home,
        "today",
        &["Checks: 1 of 3 on time (between 6 and 79 in 100 would be no surprise)."],
    );
}

#[test]
fn nobody_is_checked_in_an_empty_bed_or_out_of_service() {
    let mut home = Home::set_up();
    let leave = [
        ("bed", "101"),
        ("until", "tomorrow 07:00"),
        ("why", "hospital"),
    ];
    does(&mut home, Role::Nurse, "leave", &leave);
    does(
        &mut home,
        Role::Aide,
        "pull",
        &[("surface", "LW-02"), ("fault", "hose")],
    );
    home.passes(8 * 60);
    let said = says(
        &mut home,
        "today",
        &["Checks: 0 of 1 on time (between 0 and 79 in 100 would be no surprise)."],
    );
    assert!(said.contains("Out of service: 1."), "{said}");
    // Fifteen minutes into the next shift somebody is discharged: not due for the rest of it.
    does(
        &mut home,
        Role::Nurse,
        "release",
        &[("surface", "LW-03"), ("reason", "discharge")],
    );
    home.passes(8 * 60);
    says(
        &mut home,
        "today",
        &["Checks: 0 of 1 on time (between 0 and 79 in 100 would be no surprise)."],
    );
}

#[test]
fn a_home_may_check_every_so_many_hours() {
    let mut home = Home::set_up();
    let every = [("name", "check-every"), ("value", "4 h")];
    does(&mut home, Role::Supervisor, "facility policy", &every);
    check(&mut home, "LW-01", "1 1/4");
    home.passes(16 * 60 + 10);
    // The shift from 07:00 had begun before that was set; then from 15:00 and from 19:00, three surfaces each.
    let said = "Checks: 1 of 9 on time (between 2 and 43 in 100 would be no surprise).";
    says(&mut home, "today", &[said]);
}

#[test]
fn a_turnover_that_is_broken_off_waits_no_more() {
    let mut home = Home::set_up();
    let release = |home: &mut Home, surface: &str| {
        let options = [("surface", surface), ("reason", "discharge")];
        does(home, Role::Nurse, "release", &options);
    };
    // Three are released at once. One goes to an inquiry after 30 minutes, one out of service and out of the house after 60.
    for surface in ["LW-01", "LW-02", "LW-03"] {
        release(&mut home, surface);
    }
    home.passes(30);
    does(&mut home, Role::Supervisor, "hold", &[("surface", "LW-01")]);
    home.passes(30);
    let fault = [("surface", "LW-02"), ("fault", "cover")];
    does(&mut home, Role::Upkeep, "pull", &fault);
    home.passes(60);
    let page = file(&of(&mut home, "today"), ".html");
    let turns = part(&page, "turns");
    let took = |tag: &str, took: &str| {
        let mut rows = turns
            .split("<tr>")
            .filter(|row| row.contains(&format!("<td>{tag}</td>")));
        let row = rows.next().unwrap_or_else(|| panic!("no {tag} in {turns}"));
        assert!(row.contains(took), "{row}");
        assert!(rows.next().is_none(), "{tag} twice");
    };
    took("LW-01", "broken off, out of service: ");
    took("LW-02", "broken off, out of service: ");
    took("LW-03", ">not yet<");
    // Of those that went, none is waiting, and one that is out when it leaves a bed begins none.
    let fault = [("surface", "LW-04"), ("fault", "cover")];
    let options = [("surface", "LW-04"), ("bed", "101")];
    does(&mut home, Role::Nurse, "place", &options);
    does(&mut home, Role::Aide, "pull", &fault);
    release(&mut home, "LW-04");
    let said = of(&mut home, "today");
    assert!(
        answer_text(&said).contains("Turnovers: 3."),
        "{}",
        answer_text(&said)
    );
    assert!(!part(&file(&said, ".html"), "turns").contains("LW-04"));
}

/// The part of a page with this name, up to the next.
fn part<'a>(page: &'a str, id: &str) -> &'a str {
    let begin = page.find(&format!("id=\"{id}\"")).expect("such a part");
    let rest = &page[begin..];
    rest.find("<h").map_or(rest, |end| &rest[..end])
}

#[test]
fn what_was_set_otherwise_is_said_with_who_agreed() {
    let mut home = Home::set_up();
    let policy = |home: &mut Home, role: Role, name: &str, value: &str| {
        does(
            home,
            role,
            "facility policy",
            &[("name", name), ("value", value)],
        );
    };
    home.passes(24 * 60);
    policy(&mut home, Role::Supervisor, "recheck", "20 min");
    home.passes(5);
    // An admin's waits for a supervisor.
    policy(&mut home, Role::Admin, "recheck", "10 min");
    let before = file(&of(&mut home, "today"), ".html");
    assert_eq!(
        part(&before, "settings").matches("<tr>").count(),
        2,
        "a head and one"
    );
    let wish = *home.state.wishes.keys().next().expect("it waits");
    home.passes(5);
    home.taps(Role::Supervisor, &format!("set|agree|{wish}"), &[]);
    let ladder = [
        ("first", "4"),
        ("second", "9"),
        ("third", "15"),
        ("repeat", "5"),
    ];
    does(&mut home, Role::Supervisor, "facility ladder", &ladder);
    does(
        &mut home,
        Role::Admin,
        "facility unit",
        &[("name", "Elm"), ("beds", "101-108")],
    );
    let report = of(&mut home, "today");
    let page = file(&report, ".html");
    let settings = part(&page, "settings");
    let rows: Vec<Vec<String>> = settings
        .split("<tr>")
        .skip(2)
        .map(|row| {
            let cells = row.split("</th>").flat_map(|cell| cell.split("</td>"));
            let bare = |cell: &str| {
                cell.rsplit_once('>')
                    .map_or_else(String::new, |(_, text)| text.to_owned())
            };
            cells.map(bare).collect()
        })
        .collect();
    let reads = |nth: usize, what: &str, rest: [&str; 4]| {
        assert!(rows[nth][2].starts_with(what), "{:?}", rows[nth]);
        assert_eq!(rows[nth][3..7], rest, "{what}");
    };
    assert_eq!(rows.len(), 4, "{settings}");
    reads(
        0,
        "recheck: ",
        [
            "15 min, as usual",
            "20 min",
            "supervisor",
            "needs nobody else",
        ],
    );
    reads(1, "recheck: ", ["20 min", "10 min", "admin", "supervisor"]);
    assert!(
        rows[2][3].contains('5') && rows[2][4].contains('4'),
        "{:?}",
        rows[2]
    );
    // Beds are not named before the home has approved that.
    reads(
        3,
        "Unit: Elm",
        ["6 beds", "8 beds", "admin", "needs nobody else"],
    );
    let csv = file(&report, ".csv");
    for line in [
        "20 min → 10 min (asked for by admin, agreed to by supervisor)",
        "Unit: Elm: 6 beds → 8 beds",
    ] {
        assert!(csv.contains(line), "{line} is not in:\n{csv}");
    }
    // The day before, the home was set up: another report's matter, and what held then is where the first change says.
    let first = file(&of(&mut home, "yesterday"), ".html");
    assert!(part(&first, "settings").contains("Home set up"), "{first}");
    assert!(
        page.contains("Made for supervisor on 2026-03-03"),
        "who it was made for"
    );
}

#[test]
fn alarms_count_until_they_are_over() {
    let mut home = Home::set_up();
    let alarm = |home: &mut Home, surface: &str| {
        does(home, Role::Aide, "alarm", &[("surface", surface)]);
        home.state.surfaces[surface].alarm.unwrap()
    };
    // Taken after 4 minutes, and fixed after 10.
    let no = alarm(&mut home, "LW-01");
    home.passes(4);
    home.taps(Role::Aide, &format!("take|{no}"), &[]);
    home.taps(Role::Aide, &format!("safe|{no}"), &[]);
    home.passes(6);
    home.taps(Role::Nurse, &format!("fixair|{no}|hose|318"), &[]);
    assert_eq!(home.state.surfaces["LW-01"].alarm, None, "it is over");
    says(
        &mut home,
        "today",
        &["Alarms: 1. On the way: after 4 min.", "Over: after 10 min."],
    );
    // Raised by mistake: none.
    let no = alarm(&mut home, "LW-02");
    home.taps(Role::Aide, &format!("back|{no}|LW-02"), &[]);
    assert_eq!(home.state.surfaces["LW-02"].alarm, None, "taken back");
    says(&mut home, "today", &["Alarms: 1. On the way: after 4 min."]);
    // One more, that nobody takes.
    alarm(&mut home, "LW-03");
    home.passes(60);
    says(
        &mut home,
        "today",
        &[
            "Alarms: 2. On the way: after 4 min.",
            "Over: after 10 min. Not over yet: 1.",
        ],
    );
    let report = of(&mut home, "today");
    let page = file(&report, ".html");
    assert!(page.contains("<td>Hose loose or kinked</td>"));
    assert!(page.contains("Not over yet: 1."));
    // It ends the next day: the report of the day before knows.
    home.passes(24 * 60);
    let no = home.state.surfaces["LW-03"].alarm.unwrap();
    home.taps(Role::Nurse, &format!("fixair|{no}|unplugged|318"), &[]);
    says(&mut home, "yesterday", &["Over: after 10 min to 25 h."]);
}

#[test]
fn wrong_turns() {
    let mut home = Home::set_up();
    for (options, answer) in [
        (
            &[("period", "next month")][..],
            "\"next month\" is no period that I know. Type `last month`, `2026-10`, `last 30 days`, or `2026-10-01 to 2026-10-31`.",
        ),
        (
            &[("period", "2026-04")],
            "Nothing is on record yet: 2026-04-01 is ahead, and today is 2026-03-02. Type a period that has begun, such as `last month`.",
        ),
        (
            &[("period", "2026-03-02 to 2026-03-01")],
            "2026-03-01 is before 2026-03-02. Type the earlier day first, such as `2026-03-01 to 2026-03-02`.",
        ),
        (
            &[("from", "2026-03-02"), ("to", "2026-03-01")],
            "2026-03-01 is before 2026-03-02. Type the earlier day first, such as `2026-03-01 to 2026-03-02`.",
        ),
        (
            &[("period", "2024-01-01 to 2026-03-01")],
            "That is 791 days; one report covers at most 400. Ask for it in parts, such as a year and then the next.",
        ),
        (
            &[("to", "2026-03-01")],
            "From which day? Give `from` too, such as `from:2026-10-01`, or type a `period`, such as `last month`.",
        ),
        (
            &[("period", "today"), ("to", "2026-03-01")],
            "Give either a `period` or `from` and `to`, not both.",
        ),
    ] {
        let options: Vec<(&str, Value)> =
            options.iter().map(|(name, of)| (*name, text(of))).collect();
        let said = home.ask(Role::Supervisor, &command("report", &options));
        assert_eq!(answer_text(&said), answer);
    }
    let aide = home.ask(Role::Aide, &command("report", &[]));
    assert!(answer_message(&aide).unwrap().files.is_empty());
    let odd = Said::Tap {
        id: "report|why|2031-01-01|2031-02-01".to_owned(),
        chosen: Vec::new(),
    };
    let odd = home.ask(Role::Supervisor, &odd);
    assert!(answer_text(&odd).starts_with("Nothing is on record yet"));
}

#[test]
fn a_period_with_nothing_in_it() {
    let mut home = Home::set_up();
    let said = says(
        &mut home,
        "2025-06",
        &["Alarms: none.", "Checks: none was due."],
    );
    assert!(said.contains("Low readings: 0"), "{said}");
    let report = of(&mut home, "2025-06");
    assert_eq!(file(&report, ".csv").lines().count(), 1, "the columns");
    // Two files, and room for the chat's own part.
    let files = &answer_message(&report).unwrap().files;
    assert_eq!(files[0].name, "report-2025-06-01-to-2025-06-30.html");
    assert_eq!(files[1].name, "report-rows-2025-06-01-to-2025-06-30.csv");
}

#[test]
fn nothing_in_it_runs_and_no_bed_is_named_before_the_home_approves() {
    let mut home = Home::set_up();
    let note = ("note", "=1+1 <b>two pads</b>");
    does(
        &mut home,
        Role::Aide,
        "handcheck",
        &[("surface", "LW-01"), ("air", "3/4"), note],
    );
    let report = of(&mut home, "today");
    let (page, rows) = (file(&report, ".html"), file(&report, ".csv"));
    assert!(page.contains("default-src 'none'"));
    for forbidden in [
        "<script", "<b>", "http://", "https://", "<img", "<link", "@import", "url(",
    ] {
        assert!(!page.contains(forbidden), "{forbidden} stands in the page");
    }
    assert!(rows.contains(",'=1+1 <b>two pads</b>,\r\n"), "{rows}");
    assert!(
        !page.contains("bed 101") && !rows.contains(",101,"),
        "a bed is named"
    );
    home.does(
        Role::Admin,
        "facility setup",
        &[
            ("timezone", text("America/Chicago")),
            ("care-channel", Value::Channel(CARE)),
            ("supervisor-channel", Value::Channel(SUPERVISORS)),
            ("aide", Value::Role(ChatRole(101))),
            ("nurse", Value::Role(ChatRole(102))),
            ("supervisor", Value::Role(ChatRole(103))),
            ("upkeep", Value::Role(ChatRole(104))),
            ("beds-in-posts", text("yes")),
        ],
    );
    let report = of(&mut home, "today");
    let (page, rows) = (file(&report, ".html"), file(&report, ".csv"));
    assert!(
        page.contains("bed 101") && rows.contains(",101,"),
        "approved"
    );
}

#[test]
fn people_stand_by_role_and_pace_in_no_report() {
    let mut home = Home::set_up();
    check(&mut home, "LW-01", "1 1/4");
    let report = of(&mut home, "today");
    let (page, rows) = (file(&report, ".html"), file(&report, ".csv"));
    // The chat's number of nobody, whoever asked included.
    for number in ["1003", "1004", "1005"] {
        assert!(!page.contains(number) && !rows.contains(number), "{number}");
    }
    for kind in ["pace-said", "duty", "let-in", "primer", "signed-off"] {
        assert!(!rows.contains(kind), "{kind}");
    }
}

#[test]
fn in_spanish_too() {
    let mut home = Home::set_up();
    check(&mut home, "LW-01", "3/4");
    let ask = command("report", &[("period", text("últimos 7 días"))]);
    let said = home.ask_as(&[Role::Supervisor], Lang::Spanish, &ask);
    assert!(
        answer_text(&said).starts_with("**Del 2026-02-24 al 2026-03-02** (7 días)"),
        "{}",
        answer_text(&said)
    );
    assert!(file(&said, ".html").contains("<html lang=\"es\">"));
}
