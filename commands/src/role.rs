//! The roles and what each may do. Decides who may ask for what, for commands, buttons, menus, forms
//! and autocompletion alike; leaves who holds which role to the facility's own mapping in its state.

use chrono::{DateTime, TimeDelta, Utc};
use serde::{Deserialize, Serialize};

use crate::choice::Stand;
use crate::decide;
use crate::refusal::Refusal;
use crate::request::Right;
use crate::rules::policy::Name;
use crate::said::Ask;
use crate::state::{LetIn, State};

/// In what capacity somebody acts. Aide, nurse and supervisor each include the one before; upkeep and
/// admin stand beside them and give no clinical right.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Role {
    /// The clock: what loftwatch does because a time has come.
    Clock,
    /// Whoever sets loftwatch up. Anyone who may manage the guild.
    Admin,
    /// Upkeep, supply and housekeeping.
    Upkeep,
    /// Certified aides and others at the bedside.
    Aide,
    /// Licensed nurses.
    Nurse,
    /// The nurse in charge of a shift or a unit.
    Supervisor,
}

impl Role {
    /// The roles that people can hold through the chat's roles.
    pub const MAPPED: [Role; 4] = [Role::Aide, Role::Nurse, Role::Supervisor, Role::Upkeep];

    /// The word used in logs, settings and keys.
    pub fn as_str(self) -> &'static str {
        match self {
            Role::Clock => "clock",
            Role::Admin => "admin",
            Role::Upkeep => "upkeep",
            Role::Aide => "aide",
            Role::Nurse => "nurse",
            Role::Supervisor => "supervisor",
        }
    }
}

impl Right {
    /// The roles that may, the least first. The one place that says so.
    pub fn roles(self) -> &'static [Role] {
        match self {
            Right::Read | Right::RaiseAlarm | Right::Pull | Right::Amend => &[
                Role::Aide,
                Role::Nurse,
                Role::Supervisor,
                Role::Upkeep,
                Role::Admin,
            ],
            Right::Check | Right::AnswerAlarm => &[Role::Aide, Role::Nurse, Role::Supervisor],
            Right::Upkeep | Right::CallRoll | Right::LookAgain | Right::Duty => {
                &[Role::Aide, Role::Nurse, Role::Supervisor, Role::Upkeep]
            }
            Right::Place | Right::Setting | Right::HandOver => &[Role::Nurse, Role::Supervisor],
            Right::Gaps | Right::Spares => &[Role::Nurse, Role::Supervisor, Role::Upkeep],
            Right::Maintain | Right::ReadRecalls => &[Role::Supervisor, Role::Upkeep],
            Right::Frames => &[Role::Supervisor, Role::Upkeep, Role::Admin],
            Right::ReadFleet | Right::ReadShelf => &[Role::Supervisor, Role::Upkeep, Role::Admin],
            // Whoever buys reads what that rests on, and changes nothing of it.
            Right::ChangeFleet | Right::Reckon | Right::ReadEvidence | Right::ReadSettings => {
                &[Role::Supervisor, Role::Admin]
            }
            Right::Settings => &[Role::Admin],
            // An admin's change of clinical policy waits for a supervisor; a supervisor's own does not.
            Right::Policy => &[Role::Supervisor, Role::Admin],
            Right::ConfirmPolicy | Right::Supervise | Right::Countersign => &[Role::Supervisor],
        }
    }

    /// The key of what one does by it, for a refusal.
    pub(crate) fn act_key(self) -> &'static str {
        match self {
            Right::Read => "act-read",
            Right::Check => "act-check",
            Right::RaiseAlarm => "act-raise-alarm",
            Right::AnswerAlarm => "act-answer-alarm",
            Right::CallRoll => "act-call-roll",
            Right::Pull => "act-pull",
            Right::Upkeep => "act-upkeep",
            Right::Place => "act-place",
            Right::Setting => "act-setting",
            Right::Gaps => "act-gaps",
            Right::Duty => "act-duty",
            Right::HandOver => "act-hand-over",
            Right::Maintain => "act-maintain",
            Right::Spares => "act-spares",
            Right::ReadRecalls => "act-read-recalls",
            Right::Frames => "act-frames",
            Right::LookAgain => "act-look-again",
            Right::Supervise => "act-supervise",
            Right::Amend => "act-amend",
            Right::Countersign => "act-countersign",
            Right::ReadFleet => "act-read-fleet",
            Right::ChangeFleet => "act-change-fleet",
            Right::Reckon => "act-reckon",
            Right::Settings => "act-settings",
            Right::Policy => "act-policy",
            Right::ConfirmPolicy => "act-confirm-policy",
            Right::ReadSettings => "act-read-settings",
            Right::ReadEvidence => "act-read-evidence",
            Right::ReadShelf => "act-read-shelf",
        }
    }
}

impl From<Stand> for Role {
    fn from(stand: Stand) -> Self {
        match stand {
            Stand::Aide => Role::Aide,
            Stand::Nurse => Role::Nurse,
        }
    }
}

/// The roles that somebody holds at this moment: those of the home, and the one in which they are let in for a shift.
pub fn held(state: &State, ask: &Ask) -> Vec<Role> {
    let let_in = state.staff.let_in_at(ask.who, ask.at);
    mapped(state, ask)
        .chain(let_in.map(|let_in| let_in.stand.into()))
        .chain(ask.manages.then_some(Role::Admin))
        .collect()
}

/// The roles that somebody holds through the chat's.
fn mapped(state: &State, ask: &Ask) -> impl Iterator<Item = Role> {
    state.facility.iter().flat_map(|facility| {
        facility
            .roles
            .iter()
            .filter(|(_, chat_role)| ask.chat_roles.contains(chat_role))
            .map(|(role, _)| *role)
    })
}

/// Somebody from outside, let in at this moment. Who holds a role at the bedside anyway is one of the home.
pub fn from_outside<'a>(state: &'a State, ask: &Ask) -> Option<&'a LetIn> {
    let let_in = state.staff.let_in_at(ask.who, ask.at)?;
    let own = mapped(state, ask).any(|role| Right::Check.roles().contains(&role));
    (!own).then_some(let_in)
}

/// The shift for which somebody is let in, where nothing else gives them this role.
pub(crate) fn only_let_in<'a>(state: &'a State, ask: &Ask, role: Role) -> Option<&'a LetIn> {
    let let_in = state.staff.let_in_at(ask.who, ask.at)?;
    let own = mapped(state, ask).any(|own| own == role);
    (Role::from(let_in.stand) == role && !own).then_some(let_in)
}

/// For how long after their shift somebody who was let in may still raise an alarm, and nothing else. As long as the shift that
/// follows: whoever is kept on because nobody came in their place has left the house by then, and until then hears what there
/// is to hear. A call for nothing costs somebody a look (common practice).
pub const ALARM_AFTER_SHIFT: TimeDelta = TimeDelta::hours(8);

/// Somebody who was let in and is not any more, for as long as they may still raise an alarm. Not who holds a role of the
/// home: they may anyway.
pub fn shift_over<'a>(state: &'a State, ask: &Ask) -> Option<&'a LetIn> {
    let let_in = state.staff.let_in.get(&ask.who)?;
    let over = let_in.until <= ask.at && ask.at < let_in.until + ALARM_AFTER_SHIFT;
    (over && held(state, ask).is_empty()).then_some(let_in)
}

/// What somebody reads who is let in no more, about anything that they may not do: who can let them in, and that an alarm still
/// goes out, where it does.
pub(crate) fn let_in_over(let_in: &LetIn, now: DateTime<Utc>) -> Refusal {
    let last = let_in.until + ALARM_AFTER_SHIFT;
    let until = decide::day_time(let_in.until);
    if now < last {
        Refusal::new("fault-let-in-over-soon")
            .text("until", until)
            .text("last", decide::day_time(last))
    } else {
        Refusal::new("fault-let-in-over").text("until", until)
    }
}

/// The role in which somebody may do this: of those that allow it, the one with the most clinical right.
///
/// # Errors
/// A [`Refusal`] that says which roles may.
pub fn authorize(state: &State, ask: &Ask, right: Right) -> Result<Role, Refusal> {
    if right == Right::RaiseAlarm
        && let Some(let_in) = shift_over(state, ask)
    {
        return Ok(let_in.stand.into());
    }
    let held = held(state, ask);
    // Who may change a setting is the home's policy.
    let aides_too = right == Right::Setting && state.policies.get(Name::SettingByAides) == 1;
    let may = if aides_too {
        Right::Check.roles()
    } else {
        right.roles()
    };
    held.iter()
        .copied()
        .filter(|role| may.contains(role))
        .max()
        .ok_or_else(|| {
            if state.facility.is_none() {
                return Refusal::new("fault-not-set-up");
            }
            if let Some(let_in) = state.staff.let_in.get(&ask.who)
                && held.is_empty()
            {
                return let_in_over(let_in, ask.at);
            }
            // Whoever hears an alarm and may not raise one here must not stop at that.
            let key = if right == Right::RaiseAlarm {
                "fault-role-alarm"
            } else {
                "fault-role"
            };
            Refusal::new(key)
                .number("count", may.len() as i64)
                .keys("act", [right.act_key().to_owned()])
                .keys(
                    "roles",
                    may.iter().map(|role| format!("role-{}", role.as_str())),
                )
        })
}
