//! The design's list of commands read by hand, and what each button, menu and form stands for. Written from the design
//! and from what the thing does, not from the code: where the two differ, one of them is wrong.

use std::collections::BTreeSet;

use commands::role::Role;

/// The roles of a line such as `nurse upkeep`. Aide, nurse and supervisor each include those above; upkeep and admin
/// stand beside them. `all` is everybody with a role.
pub fn roles(line: &str) -> BTreeSet<Role> {
    let bedside = [Role::Aide, Role::Nurse, Role::Supervisor];
    line.split_whitespace()
        .flat_map(|word| match word {
            "aide" => bedside.to_vec(),
            "nurse" => bedside[1..].to_vec(),
            "supervisor" => bedside[2..].to_vec(),
            "upkeep" => vec![Role::Upkeep],
            "admin" => vec![Role::Admin],
            "all" => vec![
                Role::Aide,
                Role::Nurse,
                Role::Supervisor,
                Role::Upkeep,
                Role::Admin,
            ],
            other => panic!("{other} is no role"),
        })
        .collect()
}

/// A command; whom the design's list names; whom it is for beyond that, and why.
pub const COMMANDS_BY_HAND: &[(&str, &str, &str, &str)] = &[
    ("handcheck", "aide", "", ""),
    ("round", "aide", "", ""),
    ("alarm", "aide", "upkeep admin", "whoever hears it calls"),
    ("outage", "aide", "upkeep admin", "whoever sees it calls"),
    ("filter", "aide upkeep", "", ""),
    (
        "clean",
        "aide",
        "upkeep",
        "housekeeping cleans between residents",
    ),
    (
        "due",
        "aide",
        "upkeep admin",
        "upkeep has its own list; reading changes nothing",
    ),
    ("surface", "aide", "upkeep admin", "reading changes nothing"),
    ("place", "nurse", "", ""),
    ("release", "nurse", "", ""),
    ("setting", "nurse", "", ""),
    ("move", "nurse", "", ""),
    ("swap", "nurse", "", ""),
    ("leave", "nurse", "", ""),
    ("static", "aide", "", ""),
    ("cpr", "aide", "", ""),
    ("hold", "supervisor", "", ""),
    ("zones", "nurse upkeep", "", ""),
    ("match", "nurse", "", ""),
    ("pull", "all", "", ""),
    (
        "return",
        "upkeep",
        "supervisor",
        "where nobody of upkeep is in the house",
    ),
    ("recall", "supervisor", "", ""),
    ("stock", "upkeep", "supervisor", "orders are a supervisor's"),
    ("rental start", "supervisor", "", ""),
    ("rental stop", "supervisor", "", ""),
    ("fleet import", "supervisor", "admin", "setting up a home"),
    (
        "fleet export",
        "supervisor",
        "upkeep admin",
        "reading the register",
    ),
    (
        "fleet list",
        "supervisor",
        "upkeep admin",
        "reading the register",
    ),
    ("fleet add", "supervisor", "admin", "setting up a home"),
    ("fleet retire", "supervisor", "admin", "the register"),
    ("facility setup", "admin", "", ""),
    ("facility unit", "admin", "", ""),
    ("facility schedule", "admin", "", ""),
    (
        "facility ladder",
        "admin",
        "supervisor",
        "an admin's change waits for a supervisor anyway",
    ),
    (
        "facility policy",
        "admin",
        "supervisor",
        "an admin's change waits for a supervisor anyway",
    ),
    (
        "facility show",
        "admin",
        "supervisor",
        "what waits for a supervisor stands there",
    ),
    ("help", "all", "", ""),
    // Not in the design's list.
    ("mark", "", "nurse", "as a release, which marks too"),
    ("service", "", "upkeep supervisor", "as a return"),
    ("catchup", "", "aide", "hand checks, from paper"),
    ("rental list", "", "supervisor", "as the other rentals"),
    (
        "facility frame",
        "",
        "upkeep supervisor admin",
        "upkeep measures; an admin's approvals wait",
    ),
    (
        "facility product",
        "",
        "supervisor admin",
        "an admin's shorter contact times wait",
    ),
    (
        "facility storage",
        "",
        "supervisor admin",
        "as the register",
    ),
];

/// A verb, and the command whose people it is for, or their roles. More than one where the same verb is about matters of
/// different weight, such as the rails of a set-up among its other steps.
pub const TAPS_BY_HAND: &[(&str, &[&str])] = &[
    ("go", &["/round"]),
    ("air", &["/handcheck"]),
    ("type", &["/handcheck"]),
    ("typed", &["/handcheck"]),
    ("skip", &["/round"]),
    // Answering is for those at the bedside; whoever only heard it has called them.
    ("take", &["aide"]),
    ("safe", &["aide"]),
    ("fixed", &["aide"]),
    ("cause", &["aide"]),
    ("fixair", &["/handcheck"]),
    ("fixtype", &["/handcheck"]),
    ("fixtyped", &["/handcheck"]),
    ("kind", &["/alarm"]),
    ("pull", &["/pull"]),
    // Of what one did oneself, which the rule holds.
    ("back", &["all"]),
    ("turnf", &["/clean"]),
    ("turnok", &["/clean"]),
    ("pick", &["/due"]),
    ("at steps", &["aide"]),
    ("at done", &["aide", "nurse"]),
    ("at miss", &["aide"]),
    ("at right", &["aide"]),
    ("at set", &["/setting"]),
    ("at same", &["/setting"]),
    ("at type", &["/setting"]),
    ("at typed", &["/setting"]),
    ("at min", &["aide"]),
    ("at mins", &["aide"]),
    ("at alt", &["/static"]),
    ("at over", &["/cpr"]),
    // That somebody is back in bed is seen by whoever is there; that they are gone for good is a nurse's word.
    ("at back", &["aide"]),
    ("at away", &["aide"]),
    ("at gone", &["/release"]),
    ("turn dried", &["/clean"]),
    ("turn looked", &["/clean"]),
    ("turn parts", &["/clean"]),
    ("turn part", &["/clean"]),
    ("turn which", &["/clean"]),
    ("turn fails", &["/clean"]),
    ("turn repaired", &["/return"]),
    ("turn note", &["/return"]),
    ("turn noted", &["/return"]),
    ("turn tested", &["/service"]),
    ("turn reported", &["/hold"]),
    ("turn letgo", &["/hold"]),
    ("turn letgosure", &["/hold"]),
    ("turn recall", &["/recall"]),
    ("house acted", &["/zones"]),
    ("house waive", &["/place"]),
    ("house well", &["/return"]),
    ("house badly", &["/return"]),
    ("house confirm", &["/rental stop"]),
    ("house confirmed", &["/rental stop"]),
    ("house collected", &["/rental stop"]),
    ("house item", &["/stock"]),
    ("power take", &["aide upkeep"]),
    ("power seen", &["aide upkeep"]),
    ("power later", &["aide upkeep"]),
    ("power again", &["aide upkeep"]),
    ("power mended", &["aide upkeep"]),
    ("power back", &["aide upkeep"]),
    ("power paper", &["/catchup"]),
    ("power place", &["/place"]),
    ("set agree", &["supervisor"]),
    ("set decline", &["supervisor"]),
    ("set page", &["/facility show"]),
    ("set topic", &["all"]),
];
