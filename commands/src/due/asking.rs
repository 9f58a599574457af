//! Whom to ask: the one place through which every rung, call and post finds whose phones ring. Decides that people on
//! duty in the unit are asked by person, in the role that they took it in; that what concerns a resident's safety goes to
//! everybody of the role where nobody of it is on duty, and beside them where those have not answered; that routine work
//! rings nobody off duty. Leaves which roles are asked about what, and when, to whoever calls.

use chrono::{DateTime, Utc};

use crate::decide::{Draft, person, unit_channel};
use crate::decision::Lane;
use crate::ids::{Channel, Person, Unit};
use crate::message::Message;
use crate::record::{Body, On};
use crate::role::Role;
use crate::state::{Called, Facility, State};

/// Whose phones ring for a post.
#[derive(Clone, Debug)]
pub(crate) struct Asks {
    /// Roles and people.
    pub called: Called,
    /// Arrives without a sound where it rings nobody.
    routine: bool,
    /// Whose phone does not ring, though they are among those who know: it is of their own doing.
    own: Option<Person>,
}

/// For what concerns a resident's safety: those on duty in the unit, and of a role that nobody on duty there has,
/// everybody. Anybody on duty anywhere counts where no unit is named.
pub(crate) fn safety(
    state: &State,
    unit: Option<&Unit>,
    roles: &[Role],
    now: DateTime<Utc>,
) -> Asks {
    Asks {
        called: called(state, unit, roles, now, true),
        routine: false,
        own: None,
    }
}

/// For what nobody on duty has answered: they once more, and everybody of the role beside them.
pub(crate) fn everybody(
    state: &State,
    unit: Option<&Unit>,
    roles: &[Role],
    now: DateTime<Utc>,
) -> Asks {
    let mut asks = safety(state, unit, roles, now);
    let mapped = state.facility.as_ref().map(|facility| &facility.roles);
    let all: Vec<Role> = roles
        .iter()
        .filter(|role| mapped.is_some_and(|mapped| mapped.contains_key(*role)))
        .copied()
        .collect();
    asks.called.add(&all, &[]);
    asks
}

/// For work that waits on the shift card anyway: those on duty, and nobody else.
pub(crate) fn routine(
    state: &State,
    unit: Option<&Unit>,
    roles: &[Role],
    now: DateTime<Utc>,
) -> Asks {
    Asks {
        called: called(state, unit, roles, now, false),
        routine: true,
        own: None,
    }
}

/// For what concerns residents of every unit that reads in this channel.
pub(crate) fn in_channel(
    state: &State,
    facility: &Facility,
    channel: Channel,
    roles: &[Role],
    now: DateTime<Utc>,
) -> Asks {
    let mut asks = Asks {
        called: Called::default(),
        routine: false,
        own: None,
    };
    for unit in state.units.keys() {
        if unit_channel(state, facility, Some(unit)) == channel {
            let of = called(state, Some(unit), roles, now, true);
            asks.called.add(&of.roles, &of.people);
        }
    }
    if asks.called.is_empty() {
        return safety(state, None, roles, now);
    }
    asks
}

/// One person, who has begun something and is needed to finish it; `None` where their duty is over.
pub(crate) fn by_name(state: &State, who: Person, role: Role, now: DateTime<Utc>) -> Option<Asks> {
    (!state.duty.is_over(who, now)).then(|| Asks {
        called: Called {
            roles: Vec::new(),
            people: vec![(who, role)],
        },
        routine: false,
        own: None,
    })
}

fn called(
    state: &State,
    unit: Option<&Unit>,
    roles: &[Role],
    now: DateTime<Utc>,
    else_all: bool,
) -> Called {
    let mut called = Called::default();
    let here = state.duty.now(unit, now);
    for role in roles {
        let on_duty: Vec<(Person, Role)> = here
            .iter()
            .filter(|duty| duty.role == *role)
            .map(|duty| (duty.who, *role))
            .collect();
        let mapped = state
            .facility
            .as_ref()
            .is_some_and(|facility| facility.roles.contains_key(role));
        if !on_duty.is_empty() {
            called.add(&[], &on_duty);
        } else if else_all && mapped {
            called.add(&[*role], &[]);
        }
    }
    called
}

impl Asks {
    /// The same, and the phone of whoever brought it about does not ring for it. They count as told.
    pub fn by(mut self, who: Person) -> Self {
        self.own = Some(who);
        self
    }

    /// The message with whom it asks named at its end.
    pub fn on(&self, facility: &Facility, mut message: Message) -> Message {
        let mut people: Vec<Person> = Vec::new();
        for (who, _) in &self.called.people {
            if !people.contains(who) && self.own != Some(*who) {
                people.push(*who);
            }
        }
        let roles: Vec<_> = self
            .called
            .roles
            .iter()
            .filter_map(|role| facility.roles.get(role).copied())
            .collect();
        let names: Vec<String> = people
            .iter()
            .map(|who| person(*who))
            .chain(roles.iter().map(|role| format!("<@&{role}>")))
            .collect();
        if !names.is_empty() {
            message.text = format!("{}\n{}", message.text, names.join(" "));
        }
        message.silent = self.routine && names.is_empty();
        message.ping_people = people;
        message.ping_roles = roles;
        message
    }
}

impl Draft {
    /// Posts a message that asks somebody, and records who was told, for the ladder and the handover.
    pub fn ask(
        &mut self,
        facility: &Facility,
        on: On,
        asks: &Asks,
        (key, channel, lane): (String, Channel, Lane),
        message: Message,
    ) {
        self.tell(on, asks);
        self.post(key, channel, lane, asks.on(facility, message));
    }

    /// Records who was told.
    pub fn tell(&mut self, on: On, asks: &Asks) {
        if !asks.called.is_empty() {
            self.fact(Body::Told {
                on,
                roles: asks.called.roles.clone(),
                people: asks.called.people.clone(),
            });
        }
    }
}
