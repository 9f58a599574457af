//! The roles and what each may do. Decides who may ask for what, for commands, buttons, menus, forms
//! and autocompletion alike; leaves who holds which role to the facility's own mapping in its state.

use serde::{Deserialize, Serialize};

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

    /// Whether acting as `self` includes what `other` may do.
    pub fn includes(self, other: Role) -> bool {
        match (self, other) {
            (a, b) if a == b => true,
            (Role::Nurse | Role::Supervisor, Role::Aide) | (Role::Supervisor, Role::Nurse) => true,
            _ => false,
        }
    }
}
