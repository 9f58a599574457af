//! The register of the invented home: units and beds, profiles, surfaces, as the files that a home would import.
//! Decides what is in them; leaves whether they may come in to the core.

use std::fmt::Write;

use chrono::{NaiveDate, TimeDelta};

/// A unit.
pub(super) struct UnitSpec {
    /// Its name.
    pub name: &'static str,
    /// Its beds, as they are typed.
    pub beds: &'static str,
    /// Its first bed; the others follow.
    first_bed: u32,
    /// How fast filters get dirty there, against an ordinary unit.
    pub dust: f64,
}

/// The units. The air in the third is dusty: its filters clog sooner.
pub(super) const UNITS: [UnitSpec; 3] = [
    UnitSpec {
        name: "Elm",
        beds: "101-112",
        first_bed: 101,
        dust: 1.0,
    },
    UnitSpec {
        name: "Birch",
        beds: "201-212",
        first_bed: 201,
        dust: 0.9,
    },
    UnitSpec {
        name: "Cedar",
        beds: "301-312",
        first_bed: 301,
        dust: 2.3,
    },
];

/// Surfaces in the register.
pub(super) const SURFACES: u32 = 40;
/// So many of them are under beds at first, shared out among the units.
const PLACED: u32 = 33;
/// The last of these is soiled at first, the others that are under no bed are ready.
const SOILED: u32 = SURFACES;
/// These two are rented.
const RENTED: [u32; 2] = [32, 33];

/// These are of one lot, which the maker recalls; nothing else is.
const RECALLED: [u32; 4] = [11, 21, 31, 39];
const RECALLED_LOT: u32 = 27;

/// Each stands for a kind of surface, not for a make or a model: the figures are invented, and plausible.
pub(super) const PROFILES: &str = "\
profile,class,kind,check,first_fill,fill_minutes,filter,filter_check_days,filter_max_days,width_in,length_in,capacity_lb,settings,low_in,high_in,holds_minutes,cover_opens,service_days
Standard A,replacement,alternating,hand,highest,25,replaceable,7,60,36,80,350,120:1;160:2;200:3;250:4;350:5,,,30,,
Wide B,replacement,both,hand,highest,35,replaceable,7,60,42,80,600,250:1;350:2;450:3;600:4,,,45,,
Overlay C,overlay,alternating,hand,lowest,15,rinsable,7,90,34,78,250,110:soft;180:medium;250:firm,1,2,20,no,
Airflow D,replacement,low-air-loss,look-and-feel,highest,30,rinsable,7,90,36,84,400,150:2;220:4;300:6;400:8,,,5,,
Whole bed E,integrated,both,none,lowest,40,replaceable,14,120,36,84,500,200:A;350:B;500:C,,,60,,365
Static F,overlay,static,hand,lowest,20,none,,,35,78,300,150:low;300:high,,,,no,
";

/// The surfaces as a file, on the day before the history begins.
pub(super) fn surfaces(day: NaiveDate) -> String {
    let mut csv = String::from(
        "tag,profile,serial,lot,owned,daily_rate,state,bed,filter_changed,in_service,tested\n",
    );
    for n in 1..=SURFACES {
        let bed = bed(n).map_or_else(String::new, |bed| bed.to_string());
        let state = if n == SOILED { "soiled" } else { "ready" };
        let (owned, rate) = if RENTED.contains(&n) {
            ("rented", "38.50")
        } else {
            ("owned", "")
        };
        let changed = day - TimeDelta::days(i64::from(3 + n * 7 % 35));
        let lot = if RECALLED.contains(&n) {
            RECALLED_LOT
        } else {
            20 + n % 4
        };
        let since = day - TimeDelta::days(i64::from(200 + n * 53 % 900));
        let tested = day - TimeDelta::days(i64::from(5 + n * 17 % 150));
        // Writing to a string does not fail.
        let _ = writeln!(
            csv,
            "{},{},QF-{},L{},{owned},{rate},{state},{bed},{changed},{since},{tested}",
            tag(n),
            profile(n),
            1_000 + n,
            lot,
        );
    }
    csv
}

/// The tag of a surface, counted from 1.
pub(super) fn tag(n: u32) -> String {
    format!("LW-{n:02}")
}

fn profile(n: u32) -> &'static str {
    match n % 20 {
        3 | 14 => "Wide B",
        5 | 9 | 16 => "Overlay C",
        8 | 18 => "Airflow D",
        12 => "Whole bed E",
        17 => "Static F",
        _ => "Standard A",
    }
}

/// Eleven of the twelve beds of each unit have a surface at first.
fn bed(n: u32) -> Option<u32> {
    let per_unit = PLACED / UNITS.len() as u32;
    let unit = UNITS.get(((n - 1) / per_unit) as usize)?;
    Some(unit.first_bed + (n - 1) % per_unit)
}
