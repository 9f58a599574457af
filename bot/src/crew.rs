//! Those who work at desks: a thread for each, which waits for letters and for what is due. Decides when
//! a desk looks up and what happens when its file cannot be used; what it does then is [`crate::desk`]'s.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::sync::{Arc, Mutex};
use std::thread::JoinHandle;
use std::time::Duration;

use commands::ids::Guild;
use store::{Store, StoreError};
use tokio::sync::mpsc::UnboundedSender;

use crate::clock::{self, Clock, Moment};
use crate::config::Exit;
use crate::counters::Counters;
use crate::courier::Parcel;
use crate::desk::{Desk, Fails, Input, Output, Unsaved, fail};
use crate::inbox::{Inbox, TAKEN_MAX};
use crate::register::Catalogue;
use crate::status::Status;
use crate::threads::{locked, thread};

/// A file that cannot be used is tried again after this long …
const REOPEN_AFTER: Duration = Duration::from_secs(30);
/// … and the first time sooner: it may have been a moment's trouble, and if not, people are told.
const REOPEN_FIRST: Duration = Duration::from_secs(5);
/// When stopping, answers on their way are waited for this long.
const DRAIN: Duration = Duration::from_secs(3);

/// Those who work at desks.
pub(crate) struct Crew {
    pub(crate) folder: PathBuf,
    /// Where backups are kept, if they are.
    pub(crate) backups: Option<PathBuf>,
    pub(crate) catalogue: Arc<Catalogue>,
    pub(crate) clock: Arc<dyn Clock>,
    pub(crate) courier: UnboundedSender<Parcel>,
    pub(crate) status: Arc<Status>,
    pub(crate) counters: Arc<Counters>,
    pub(crate) threads: Mutex<Vec<JoinHandle<()>>>,
}

impl Crew {
    /// Opens a desk on a thread of its own.
    pub(crate) fn hire(self: &Arc<Self>, guild: Guild) -> Option<Arc<Inbox>> {
        let inbox = Arc::new(Inbox::default());
        let bell = Arc::downgrade(&inbox);
        self.clock.subscribe(Box::new(move || {
            if let Some(inbox) = bell.upgrade() {
                inbox.ring();
            }
        }));
        let (crew, at) = (self.clone(), inbox.clone());
        let work = move || {
            let worked = catch_unwind(AssertUnwindSafe(|| crew.work(guild, &at)));
            if worked.is_err() {
                // Better a restart, which reads everything back, than a facility that nobody serves.
                tracing::error!(guild = guild.0, "a desk failed");
                crew.status.end(Exit::Trouble);
            }
        };
        match thread(&format!("desk-{guild}"), work) {
            Ok(thread) => {
                locked(&self.threads).push(thread);
                self.status.hired(guild);
            }
            Err(fault) => {
                tracing::error!(%fault, guild = guild.0, "no thread for a desk");
                self.status.unserved(guild);
                return None;
            }
        }
        Some(inbox)
    }

    fn work(&self, guild: Guild, inbox: &Arc<Inbox>) {
        let mut inputs = Vec::with_capacity(TAKEN_MAX);
        let Some(mut desk) = self.open(guild, inbox, &mut inputs) else {
            return;
        };
        self.status.opened(guild);
        let mut wait = Duration::ZERO;
        let mut closed = false;
        while !closed {
            closed = inbox.take(wait, &mut inputs);
            let now = clock::moment(&*self.clock);
            self.step(&mut desk, &mut inputs, inbox, now);
            wait = self.wait(&desk, now);
        }
        self.drain(&mut desk, inbox);
        desk.stop(clock::moment(&*self.clock));
        self.clock.sending(guild, false);
        self.clock.armed(guild, None);
    }

    fn step(&self, desk: &mut Desk, inputs: &mut Vec<Input>, inbox: &Arc<Inbox>, now: Moment) {
        let heard = inputs.iter().filter(|one| matches!(one, Input::Heard(_)));
        let heard = heard.count() as u64;
        let outputs = desk.step(inputs.drain(..), now);
        let seen = desk.seen(heard);
        self.counters.stepped(desk.guild(), seen);
        self.status.stepped(desk.guild(), seen);
        for output in &outputs {
            if matches!(output, Output::Registered) {
                self.status.registered(desk.guild());
            }
        }
        if !outputs.is_empty() {
            // It only fails when the courier has gone, with the program.
            let _ = self.courier.send(Parcel {
                inbox: Some(inbox.clone()),
                outputs,
            });
        }
        self.clock.sending(desk.guild(), desk.waits());
        self.clock.armed(desk.guild(), desk.next_due(now));
    }

    fn wait(&self, desk: &Desk, now: Moment) -> Duration {
        let due = [desk.next_due(now), desk.next_alive()]
            .into_iter()
            .flatten()
            .min();
        let due = due.map_or(Duration::MAX, |at| self.clock.real_until(at));
        let tries = desk
            .next_try()
            .map_or(Duration::MAX, |at| at.saturating_sub(clock::mono()));
        due.min(tries)
    }

    /// Waits a little for the answers, and the files, that are on their way.
    fn drain(&self, desk: &mut Desk, inbox: &Arc<Inbox>) {
        let until = clock::mono() + DRAIN;
        let mut inputs = Vec::new();
        while desk.waits() && clock::mono() < until {
            std::thread::sleep(Duration::from_millis(5));
            inbox.take(Duration::ZERO, &mut inputs);
            let now = clock::moment(&*self.clock);
            self.step(desk, &mut inputs, inbox, now);
        }
        // The courier, which goes last, still carries it.
        self.post(desk.give_up_fetching());
    }

    /// Opens the facility's file, however long it takes; until then people are told that it does not work. What the chat told of
    /// itself meanwhile, which it does not tell again, is `left` for the desk.
    fn open(&self, guild: Guild, inbox: &Arc<Inbox>, left: &mut Vec<Input>) -> Option<Desk> {
        let mut told = Told::default();
        let mut unsaved = Unsaved::default();
        let mut first = true;
        loop {
            let now = clock::moment(&*self.clock);
            let there = store::not_lost(&self.folder, guild, self.backups.as_deref());
            let opened = there.and_then(|()| {
                let goes_on = || inbox.goes_on();
                Desk::open_telling(&self.folder, guild, self.catalogue.clone(), now, &goes_on)
            });
            match opened {
                Ok(desk) => {
                    left.extend(told.0);
                    if let Some(state) = desk.state() {
                        unsaved.over(Fails::Saving, state);
                        self.post(unsaved.says(true, now));
                    }
                    return Some(desk);
                }
                Err(fault) => {
                    tracing::error!(guild = guild.0, %fault, "a facility's file cannot be used");
                    self.status.unusable(guild, &fault, first);
                    self.counters.unusable(guild);
                    self.begin_unsaved(&mut unsaved, guild, &fault);
                    self.post(unsaved.says(!first, now));
                }
            }
            let rest = if first { REOPEN_FIRST } else { REOPEN_AFTER };
            first = false;
            let until = clock::mono() + rest;
            let mut inputs = Vec::new();
            while clock::mono() < until {
                let closed = inbox.take(until.saturating_sub(clock::mono()), &mut inputs);
                let heard = inputs.drain(..).filter_map(|input| match input {
                    Input::Heard(heard) => fail(&heard, "bot-nothing-recorded"),
                    Input::Joined { .. } | Input::RoleMade(_) | Input::RoleGone(_) => {
                        told.keep(input);
                        None
                    }
                    Input::Fetched { .. } | Input::Came { .. } | Input::NoBackup { .. } => None,
                });
                self.post(heard.collect());
                if closed {
                    return None;
                }
            }
        }
    }

    /// Nothing can be saved in a file that cannot be opened, and nobody is called: whoever its home would call is told, as far as it
    /// can be read who that is.
    fn begin_unsaved(&self, unsaved: &mut Unsaved, guild: Guild, fault: &StoreError) {
        // Who holds its lock calls people, or is putting a backup in its place.
        if unsaved.lasts().is_some() || matches!(fault, StoreError::Locked { .. }) {
            return;
        }
        let state = Store::read_in(&self.folder, guild).and_then(|store| store.replay());
        if let Ok(state) = state {
            unsaved.begins(Fails::Saving, &state);
        }
    }

    /// Sends what nobody here waits for.
    fn post(&self, outputs: Vec<Output>) {
        if !outputs.is_empty() {
            // It only fails when the courier has gone, with the program.
            let _ = self.courier.send(Parcel {
                inbox: None,
                outputs,
            });
        }
    }
}

/// What the chat told of itself while there was no desk: that we joined, with the roles as they are by now. Once a session of the
/// gateway it says so; without it the home has no commands and none of its roles is known.
#[derive(Default)]
struct Told(Option<Input>);

impl Told {
    fn keep(&mut self, input: Input) {
        match (input, &mut self.0) {
            (joined @ Input::Joined { .. }, told) => *told = Some(joined),
            (Input::RoleMade(role), Some(Input::Joined { roles, .. })) => {
                roles.insert(role);
            }
            (Input::RoleGone(role), Some(Input::Joined { roles, .. })) => {
                roles.remove(&role);
            }
            // Roles before we joined come with it.
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use commands::ids::ChatRole;

    #[test]
    fn what_the_chat_tells_of_itself_before_a_file_opens_is_kept_as_it_stands_by_then() {
        let joined = |roles: &[u64]| Input::Joined {
            app: 1,
            us: 2,
            roles: roles.iter().copied().map(ChatRole).collect(),
        };
        let mut told = Told::default();
        told.keep(Input::RoleMade(ChatRole(9)));
        assert!(told.0.is_none());
        told.keep(joined(&[1]));
        told.keep(joined(&[3, 4]));
        told.keep(Input::RoleMade(ChatRole(5)));
        told.keep(Input::RoleGone(ChatRole(3)));
        let Some(Input::Joined { app, us, roles }) = told.0 else {
            panic!("nothing is kept")
        };
        assert_eq!((app, us), (1, 2));
        assert_eq!(roles, [4, 5].map(ChatRole).into());
    }
}
