//! The one table of commands. Registration with the chat, `/help`, the parser and the README all read
//! it; the tests at its end check the table itself.

use crate::choice::{
    Action, Cleaning, Cover, Finding, Import, Method, Mode, Owned, Position, ReleaseReason, Site,
    Start, What,
};
use crate::parse::{self, Given};
use crate::refusal::Refusal;
use crate::request::{Request, Right};
use crate::rules::priority::AlarmKind;

/// A command.
#[derive(Clone, Copy)]
pub struct Command {
    /// Its name; a subcommand's after one space: `fleet add`.
    pub path: &'static str,
    /// The key of its one-line description in the words.
    pub about: &'static str,
    /// What one must be allowed to do.
    pub right: Right,
    /// Its options, required ones first.
    pub options: &'static [Opt],
    /// Lines that a person could type; each parses, which a test holds.
    pub examples: &'static [&'static str],
    /// Reads its options.
    pub parse: fn(&Given<'_>) -> Result<Request, Refusal>,
}

/// An option.
#[derive(Clone, Copy, Debug)]
pub struct Opt {
    /// Its name.
    pub name: &'static str,
    /// The key of its description in the words.
    pub about: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// Must be given.
    pub required: bool,
}

/// What an option takes.
#[derive(Clone, Copy, Debug)]
pub enum Takes {
    /// Text.
    Text,
    /// Text with suggestions while it is typed.
    Suggested,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// A whole number between two bounds.
    Whole(i64, i64),
    /// A chat role.
    Role,
    /// A text channel.
    Channel,
    /// A file.
    File,
}

const fn must(name: &'static str, about: &'static str, takes: Takes) -> Opt {
    Opt {
        name,
        about,
        takes,
        required: true,
    }
}

const fn may(name: &'static str, about: &'static str, takes: Takes) -> Opt {
    Opt {
        name,
        about,
        takes,
        required: false,
    }
}

const SURFACE: Opt = must("surface", "option-surface", Takes::Suggested);
const UNIT: Opt = may("unit", "option-unit", Takes::Suggested);
const NOTE: Opt = may("note", "option-note", Takes::Text);

/// The kinds of alarm that people choose from; `bottomed-out` comes from a hand check.
const ALARM_WORDS: &[&str] = &[
    AlarmKind::Unknown.as_str(),
    AlarmKind::LowPressure.as_str(),
    AlarmKind::Power.as_str(),
    AlarmKind::HighPressure.as_str(),
    AlarmKind::Fault.as_str(),
];

/// The longest ladder rung that can be set, in minutes.
pub(crate) const RUNG_MINUTES_MOST: i64 = 60;

/// Every command, in the order in which help lists them. Those that share a first word are one group.
pub const COMMANDS: &[Command] = &[
    Command {
        path: "handcheck",
        about: "about-handcheck",
        right: Right::Check,
        options: &[
            SURFACE,
            must("air", "option-air", Takes::Suggested),
            may("site", "option-site", Takes::Choice(Site::WORDS)),
            may(
                "position",
                "option-position",
                Takes::Choice(Position::WORDS),
            ),
            may("mode", "option-mode", Takes::Choice(Mode::WORDS)),
            may("layers", "option-layers", Takes::Whole(0, 20)),
            may("setting", "option-setting", Takes::Text),
            may("when", "option-when", Takes::Text),
            NOTE,
        ],
        examples: &[
            "/handcheck surface:LW-07 air:1 1/4",
            "/handcheck surface:LW-07 air:3/4 position:back-raised layers:2",
        ],
        parse: parse::hand_check,
    },
    Command {
        path: "round",
        about: "about-round",
        right: Right::Check,
        options: &[UNIT],
        examples: &["/round", "/round unit:Elm"],
        parse: parse::round,
    },
    Command {
        path: "alarm",
        about: "about-alarm",
        right: Right::RaiseAlarm,
        options: &[
            SURFACE,
            may("kind", "option-alarm-kind", Takes::Choice(ALARM_WORDS)),
            NOTE,
        ],
        examples: &[
            "/alarm surface:LW-07",
            "/alarm surface:LW-07 kind:low-pressure",
        ],
        parse: parse::alarm,
    },
    Command {
        path: "due",
        about: "about-due",
        right: Right::Read,
        options: &[UNIT],
        examples: &["/due", "/due unit:Elm"],
        parse: parse::due,
    },
    Command {
        path: "surface",
        about: "about-surface",
        right: Right::Read,
        options: &[SURFACE],
        examples: &["/surface surface:LW-07"],
        parse: parse::surface,
    },
    Command {
        path: "clean",
        about: "about-clean",
        right: Right::Upkeep,
        options: &[
            SURFACE,
            must(
                "reason",
                "option-clean-reason",
                Takes::Choice(Cleaning::WORDS),
            ),
            must("method", "option-method", Takes::Choice(Method::WORDS)),
            must("cover", "option-cover", Takes::Choice(Cover::WORDS)),
            may("product", "option-product", Takes::Text),
            NOTE,
        ],
        examples: &["/clean surface:LW-07 reason:routine method:soap-and-water cover:intact"],
        parse: parse::clean,
    },
    Command {
        path: "filter",
        about: "about-filter",
        right: Right::Upkeep,
        options: &[
            SURFACE,
            must("finding", "option-finding", Takes::Choice(Finding::WORDS)),
            must("action", "option-action", Takes::Choice(Action::WORDS)),
        ],
        examples: &["/filter surface:LW-07 finding:dusty action:replaced"],
        parse: parse::filter,
    },
    Command {
        path: "place",
        about: "about-place",
        right: Right::Place,
        options: &[SURFACE, must("bed", "option-bed", Takes::Suggested)],
        examples: &["/place surface:LW-07 bed:103"],
        parse: parse::place,
    },
    Command {
        path: "release",
        about: "about-release",
        right: Right::Place,
        options: &[
            SURFACE,
            must(
                "reason",
                "option-release-reason",
                Takes::Choice(ReleaseReason::WORDS),
            ),
        ],
        examples: &["/release surface:LW-07 reason:discharge"],
        parse: parse::release,
    },
    Command {
        path: "fleet list",
        about: "about-fleet-list",
        right: Right::ReadFleet,
        options: &[],
        examples: &["/fleet list"],
        parse: parse::fleet_list,
    },
    Command {
        path: "fleet add",
        about: "about-fleet-add",
        right: Right::ChangeFleet,
        options: &[
            must("tag", "option-tag", Takes::Text),
            must("profile", "option-profile", Takes::Suggested),
            may("serial", "option-serial", Takes::Text),
            may("lot", "option-lot", Takes::Text),
            may("owned", "option-owned", Takes::Choice(Owned::WORDS)),
            may("state", "option-state", Takes::Choice(Start::WORDS)),
        ],
        examples: &["/fleet add tag:LW-41 profile:general"],
        parse: parse::fleet_add,
    },
    Command {
        path: "fleet import",
        about: "about-fleet-import",
        right: Right::ChangeFleet,
        options: &[
            must("what", "option-import", Takes::Choice(Import::WORDS)),
            must("file", "option-file", Takes::File),
        ],
        examples: &["/fleet import what:surfaces file:surfaces.csv"],
        parse: parse::fleet_import,
    },
    Command {
        path: "fleet export",
        about: "about-fleet-export",
        right: Right::ReadFleet,
        options: &[],
        examples: &["/fleet export"],
        parse: parse::fleet_export,
    },
    Command {
        path: "fleet retire",
        about: "about-fleet-retire",
        right: Right::ChangeFleet,
        options: &[SURFACE],
        examples: &["/fleet retire surface:LW-07"],
        parse: parse::fleet_retire,
    },
    Command {
        path: "facility setup",
        about: "about-facility-setup",
        right: Right::Settings,
        options: &[
            must("timezone", "option-timezone", Takes::Suggested),
            must("care-channel", "option-care-channel", Takes::Channel),
            must(
                "supervisor-channel",
                "option-supervisor-channel",
                Takes::Channel,
            ),
            must("aide", "option-role-aide", Takes::Role),
            must("nurse", "option-role-nurse", Takes::Role),
            must("supervisor", "option-role-supervisor", Takes::Role),
            may("upkeep", "option-role-upkeep", Takes::Role),
        ],
        examples: &[],
        parse: parse::facility_setup,
    },
    Command {
        path: "facility unit",
        about: "about-facility-unit",
        right: Right::Settings,
        options: &[
            must("name", "option-unit-name", Takes::Suggested),
            must("beds", "option-beds", Takes::Text),
            may("channel", "option-unit-channel", Takes::Channel),
        ],
        examples: &["/facility unit name:Elm beds:101-112, 114A"],
        parse: parse::facility_unit,
    },
    Command {
        path: "facility schedule",
        about: "about-facility-schedule",
        right: Right::Settings,
        options: &[
            must("what", "option-what", Takes::Choice(What::WORDS)),
            must("when", "option-schedule-when", Takes::Text),
            UNIT,
        ],
        examples: &[
            "/facility schedule what:due-list when:every 8h from 07:00",
            "/facility schedule what:summary when:weekdays 06:45 unit:Elm",
        ],
        parse: parse::facility_schedule,
    },
    Command {
        path: "facility ladder",
        about: "about-facility-ladder",
        right: Right::Policy,
        options: &[
            must("first", "option-first", Takes::Whole(1, RUNG_MINUTES_MOST)),
            must(
                "second",
                "option-second",
                Takes::Whole(1, RUNG_MINUTES_MOST),
            ),
            must("third", "option-third", Takes::Whole(1, RUNG_MINUTES_MOST)),
            must(
                "repeat",
                "option-repeat",
                Takes::Whole(1, RUNG_MINUTES_MOST),
            ),
        ],
        examples: &["/facility ladder first:5 second:10 third:15 repeat:5"],
        parse: parse::facility_ladder,
    },
    Command {
        path: "facility policy",
        about: "about-facility-policy",
        right: Right::Policy,
        options: &[
            must("name", "option-policy-name", Takes::Suggested),
            must("value", "option-policy-value", Takes::Text),
        ],
        examples: &["/facility policy name:recheck value:20 min"],
        parse: parse::facility_policy,
    },
    Command {
        path: "facility show",
        about: "about-facility-show",
        right: Right::ReadSettings,
        options: &[],
        examples: &["/facility show"],
        parse: parse::facility_show,
    },
    Command {
        path: "help",
        about: "about-help",
        right: Right::Read,
        options: &[may("topic", "option-topic", Takes::Suggested)],
        examples: &["/help", "/help topic:alarm"],
        parse: parse::help,
    },
];

/// The command of this path.
pub fn find(path: &str) -> Option<&'static Command> {
    COMMANDS.iter().find(|command| command.path == path)
}

/// The key of what a group of subcommands is for.
pub fn group_about(group: &str) -> String {
    format!("group-{group}")
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::words::{Lang, has, say};

    #[test]
    fn names_are_unique_and_fit_the_platform() {
        let mut paths = BTreeSet::new();
        for command in COMMANDS {
            assert!(paths.insert(command.path), "{} stands twice", command.path);
            assert!(command.options.len() <= 25, "{}", command.path);
            let mut names = BTreeSet::new();
            let mut optional = false;
            for option in command.options {
                assert!(
                    names.insert(option.name),
                    "{} {}",
                    command.path,
                    option.name
                );
                assert!(
                    option.name.len() <= 32
                        && option
                            .name
                            .bytes()
                            .all(|b| b.is_ascii_lowercase() || b == b'-')
                );
                assert!(
                    !(option.required && optional),
                    "{}: required ones first",
                    command.path
                );
                optional |= !option.required;
            }
        }
    }

    #[test]
    fn everything_is_described_in_at_most_100_characters() {
        for command in COMMANDS {
            let keys = command
                .options
                .iter()
                .map(|option| option.about)
                .chain([command.about]);
            for key in keys {
                assert!(has(Lang::English, key), "no sentence under {key}");
                assert!(
                    say(Lang::English, key, &[]).chars().count() <= 100,
                    "{key} is too long"
                );
            }
            if let Some((group, _)) = command.path.split_once(' ') {
                assert!(
                    has(Lang::English, &group_about(group)),
                    "no sentence for the group {group}"
                );
            }
        }
    }

    #[test]
    fn every_example_parses() {
        for command in COMMANDS {
            for example in command.examples {
                let options = parse::typed(command, example)
                    .unwrap_or_else(|| panic!("{example} names no options"));
                if command
                    .options
                    .iter()
                    .any(|option| matches!(option.takes, Takes::File))
                {
                    continue;
                }
                (command.parse)(&Given(&options))
                    .unwrap_or_else(|no| panic!("{example}: {}", no.say(Lang::English)));
            }
        }
    }
}
