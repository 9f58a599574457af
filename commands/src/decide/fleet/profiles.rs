//! Profiles from a file and back into one. Decides which cells of a profile are clinical, that an admin's change of them
//! waits for a supervisor where surfaces of the register have it, and how a profile is written so that it reads back.

use super::super::draft::{Asked, Draft};
use super::super::{check, facility, paper, wish};
use super::import::{Done, rejected};
use crate::choice::{FirstFill, YesNo};
use crate::ids::ProfileName;
use crate::record::{Body, Profile, Wish};
use crate::refusal::Refusal;
use crate::rules::air::{INCH_TENTHS, Tenths};
use crate::rules::export;
use crate::rules::import::{ImportFault, LineFault, ProfileRow, Scanned};
use crate::say;
use crate::state::{GENERAL, Life, State};

/// Profiles in use that one file may ask to change: each is a card of its own, to be read.
pub(super) const ASKED_MOST: usize = 5;

/// The columns, as they are read.
const COLUMNS: [&str; 18] = [
    "profile",
    "class",
    "kind",
    "check",
    "filter",
    "first_fill",
    "fill_minutes",
    "filter_check_days",
    "filter_max_days",
    "width_in",
    "length_in",
    "capacity_lb",
    "settings",
    "low_in",
    "high_in",
    "holds_minutes",
    "cover_opens",
    "service_days",
];

/// Those that say what is done for whoever lies on it, and when.
const CLINICAL: [&str; 12] = [
    "class",
    "kind",
    "check",
    "first_fill",
    "fill_minutes",
    "filter_check_days",
    "filter_max_days",
    "capacity_lb",
    "settings",
    "low_in",
    "high_in",
    "holds_minutes",
];

/// What a file of profiles brings, and what each change that waits says to its asker.
pub(super) fn import(
    asked: &Asked<'_>,
    draft: &mut Draft,
    file: Scanned<ProfileRow>,
    waiting: &mut Vec<String>,
) -> Done {
    let state = asked.state;
    let Scanned {
        imported: file,
        mut faults,
        more,
    } = file;
    let count = file.rows.len();
    let mut at_once = Vec::new();
    let mut to_ask = Vec::new();
    let mut told = Vec::new();
    for row in file.rows {
        let (line, after) = (row.line, profile(row));
        let before = state.profiles.get(&after.name);
        let clinical = before
            .map(|before| changes(before, &after))
            .filter(|(old, new)| old != new && in_use(state, &after.name));
        let Some((old, new)) = clinical else {
            at_once.push(after);
            continue;
        };
        if wish::waits(asked) {
            to_ask.push((line, after));
        } else {
            let name = check::escaped(after.name.as_str());
            told.push((say!(state.lang(), "what-profile", profile = name), old, new));
            at_once.push(after);
        }
    }
    if let Some((line, _)) = to_ask.get(ASKED_MOST) {
        faults.push(LineFault {
            line: *line,
            fault: ImportFault::TooManyToAsk { most: ASKED_MOST },
        });
    }
    rejected(faults, more)?;
    for after in at_once {
        let profile = Box::new(after);
        let wish = Wish::Profile {
            profile: profile.clone(),
        };
        wish::overtaken(asked, draft, &wish);
        draft.fact(Body::ProfileSet(profile));
    }
    facility::tell(asked, draft, told);
    for (_, after) in to_ask {
        let wish = Wish::Profile {
            profile: Box::new(after),
        };
        waiting.push(wish::add(asked, draft, wish).1);
    }
    Ok((count, file.extra_columns))
}

/// Whether a surface of the register has it.
fn in_use(state: &State, name: &ProfileName) -> bool {
    state
        .surfaces
        .values()
        .any(|surface| surface.profile == *name && !matches!(surface.life, Life::Retired { .. }))
}

/// A row as a profile. What the file leaves out is as careful as the built-in profile.
fn profile(row: ProfileRow) -> Profile {
    let days = |given: Option<u32>, usual: u16| {
        given
            .and_then(|days| u16::try_from(days).ok())
            .unwrap_or(usual)
    };
    let general = crate::state::general_profile();
    Profile {
        name: ProfileName::from(row.profile),
        class: row.class,
        kind: row.kind,
        check: row.check,
        first_fill: row.first_fill.unwrap_or(FirstFill::Highest),
        fill_minutes: days(row.fill_minutes, general.fill_minutes),
        filter: row.filter,
        filter_check_days: days(row.filter_check_days, general.filter_check_days),
        filter_max_days: days(row.filter_max_days, general.filter_max_days),
        width: row.width,
        length: row.length,
        capacity_lb: row
            .capacity_lb
            .and_then(|pounds| u16::try_from(pounds).ok()),
        settings: row
            .settings
            .into_iter()
            .map(|step| {
                (
                    u16::try_from(step.up_to_lb).unwrap_or(u16::MAX),
                    step.setting,
                )
            })
            .collect(),
        band: row.band,
        holds_minutes: row
            .holds_minutes
            .and_then(|minutes| u16::try_from(minutes).ok()),
        cover_opens: row.cover_opens,
        service_days: row.service_days.and_then(|days| u16::try_from(days).ok()),
    }
}

/// The clinical cells that differ, as they are and as they would be, under the names of their columns. A profile's words
/// are typed words and the same in every language.
pub(in crate::decide) fn changes(before: &Profile, after: &Profile) -> (String, String) {
    let (old, new) = (cells(before), cells(after));
    let clinical = |at: usize| CLINICAL.contains(&COLUMNS[at]) && old[at] != new[at];
    let differs: Vec<usize> = (0..COLUMNS.len()).filter(|at| clinical(*at)).collect();
    let column = |column: &str| column.replace('_', "\\_");
    let shown = |cells| shown(cells, &differs, &column, check::escaped);
    (shown(&old), shown(&new))
}

/// As [`changes`] for a page: every cell that differs, and of a profile that was not there before every one that says
/// something.
pub(in crate::decide) fn changes_on_paper(
    before: Option<&Profile>,
    after: &Profile,
) -> (String, String) {
    let (old, new) = (before.map(cells).unwrap_or_default(), cells(after));
    let name = |at: usize| COLUMNS[at] == "profile";
    let differs: Vec<usize> = (0..COLUMNS.len())
        .filter(|at| old[*at] != new[*at] && !name(*at))
        .collect();
    let shown = |cells| shown(cells, &differs, &str::to_owned, paper::plain);
    let old = before.map_or_else(String::new, |_| shown(&old));
    (old, shown(&new))
}

fn shown(
    cells: &[String; 18],
    differs: &[usize],
    column: &dyn Fn(&str) -> String,
    typed: fn(&str) -> String,
) -> String {
    let each = differs.iter().map(|at| {
        let cell = match cells[*at].as_str() {
            "" => "–",
            cell => cell,
        };
        format!("{} {}", column(COLUMNS[*at]), typed(cell))
    });
    each.collect::<Vec<_>>().join(", ")
}

/// A profile as a row of its file.
fn cells(of: &Profile) -> [String; 18] {
    let whole = |number: Option<u16>| number.map_or_else(String::new, |number| number.to_string());
    let inches = |length: Option<Tenths>| length.map_or_else(String::new, in_inches);
    let steps = of
        .settings
        .iter()
        .map(|(up_to, set)| format!("{up_to}:{set}"));
    let settings = steps.collect::<Vec<_>>().join(";");
    let opens = |opens: bool| if opens { YesNo::Yes } else { YesNo::No };
    [
        of.name.to_string(),
        of.class.as_str().to_owned(),
        of.kind.as_str().to_owned(),
        of.check.as_str().to_owned(),
        of.filter.as_str().to_owned(),
        of.first_fill.as_str().to_owned(),
        of.fill_minutes.to_string(),
        of.filter_check_days.to_string(),
        of.filter_max_days.to_string(),
        inches(of.width),
        inches(of.length),
        whole(of.capacity_lb),
        settings,
        inches(of.band.map(|band| band.low)),
        inches(of.band.map(|band| band.high)),
        whole(of.holds_minutes),
        of.cover_opens
            .map_or_else(String::new, |yes| opens(yes).as_str().to_owned()),
        whole(of.service_days),
    ]
}

/// A profile in a line, under the names of its columns; what is not said is left out.
pub(in crate::decide) fn line(of: &Profile) -> String {
    let cells = cells(of);
    let said = COLUMNS
        .iter()
        .zip(&cells)
        .skip(1)
        .filter(|(_, cell)| !cell.is_empty());
    let each: Vec<String> = said.map(|(name, cell)| format!("{name} {cell}")).collect();
    format!("- {}: {}", of.name, each.join(", "))
}

/// Inches as a cell holds them; a thousandth of one is less than what is kept.
fn in_inches(length: Tenths) -> String {
    let text = format!("{:.3}", f64::from(length.0) / f64::from(INCH_TENTHS));
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// `/fleet export what:profiles`: as `/fleet import` reads them. The built-in one is no home's to bring.
pub(super) fn export(asked: &Asked<'_>) -> Result<(String, usize), Refusal> {
    let own = || {
        asked
            .state
            .profiles
            .values()
            .filter(|profile| profile.name.as_str() != GENERAL)
    };
    let bytes =
        export::write(&COLUMNS, own().map(cells)).map_err(|_| Refusal::new("fault-export"))?;
    let text = String::from_utf8(bytes).map_err(|_| Refusal::new("fault-export"))?;
    Ok((text, own().count()))
}
