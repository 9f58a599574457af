//! Where a conversation takes place. Decides what a step may ask of it; the desk in memory
//! ([`super::world`]) and the whole program over the protocol ([`crate::wire`]) are such places, so that a
//! step means the same on both.

use std::collections::BTreeMap;

use anyhow::Result;
use chrono::{DateTime, Utc};
use commands::Said;
use commands::ids::{Channel, ChatRole, Person};
use commands::rules::zone::Zone;
use commands::said::Value;

use super::cast::Cast;
use super::chat::{Chat, Look};
use super::disk::Disk;
use super::script::Step;

/// What can be seen of a conversation: who there is, what the chat reads, the cards that were kept.
pub struct Scene<'a> {
    /// Who and what there is.
    pub cast: &'a mut Cast,
    /// The chat.
    pub chat: &'a mut Chat,
    /// Cards kept under a name.
    pub kept: &'a mut BTreeMap<String, Kept>,
}

/// Where a conversation takes place, and what can happen there.
pub trait Stage {
    /// What can be seen.
    fn scene(&mut self) -> Scene<'_>;
    /// Facility time.
    fn now(&self) -> DateTime<Utc>;
    /// The home's zone.
    fn zone(&self) -> Zone;
    /// Time passes up to this moment, and all happens on the way that is due.
    ///
    /// # Errors
    /// When that is not possible.
    fn pass_to(&mut self, until: DateTime<Utc>) -> Result<()>;
    /// People do things at the same moment.
    ///
    /// # Errors
    /// When they cannot.
    fn hear(&mut self, things: &[Thing]) -> Result<()>;
    /// There are other people, or they have other roles.
    ///
    /// # Errors
    /// When the stage cannot show that.
    fn cast_changed(&mut self) -> Result<()>;
    /// The chat has a role less.
    ///
    /// # Errors
    /// When what follows cannot be done.
    fn role_deleted(&mut self, role: ChatRole) -> Result<()>;
    /// The program stops in good order.
    ///
    /// # Errors
    /// When it does not.
    fn stop(&mut self) -> Result<()>;
    /// The program starts.
    ///
    /// # Errors
    /// When it does not.
    fn start(&mut self) -> Result<()>;
    /// The power fails: nothing is finished, nothing is said.
    ///
    /// # Errors
    /// When what survives cannot be kept.
    fn cut_power(&mut self) -> Result<()>;
    /// The disk takes nothing any more, or takes again.
    ///
    /// # Errors
    /// When the file cannot be reached.
    fn disk_becomes(&mut self, disk: Disk) -> Result<()>;
    /// The step is done: waits until all that follows from it has come.
    ///
    /// # Errors
    /// When the stage does not come to rest.
    fn settle(&mut self, step: &Step, timed: bool) -> Result<()>;
    /// Those who got no answer in this step.
    fn unanswered(&mut self) -> Vec<Person>;
}

/// A card that is kept under a name, with the buttons it had.
#[derive(Clone, Debug)]
pub struct Kept {
    /// How it read.
    pub look: Look,
    /// The message.
    pub message: u64,
    /// Where.
    pub channel: u64,
    /// Who alone sees it.
    pub only: Option<u64>,
}

/// Something that a person does.
#[derive(Clone, Debug)]
pub struct Thing {
    /// Who.
    pub who: Person,
    /// Where.
    pub channel: Channel,
    /// The message whose button was tapped.
    pub on: Option<u64>,
    /// What.
    pub said: Said,
}

impl Thing {
    /// Whether it is words, not an interaction.
    pub fn is_message(&self) -> bool {
        matches!(self.said, Said::Mention { .. })
    }

    /// The file that it names.
    pub fn file(&self) -> Option<&str> {
        let Said::Command { options, .. } = &self.said else {
            return None;
        };
        options.values().find_map(|value| match value {
            Value::File(file) => Some(file.name.as_str()),
            Value::Text(_)
            | Value::Whole(_)
            | Value::Flag(_)
            | Value::Role(_)
            | Value::Everybody
            | Value::Channel(_)
            | Value::Person(_) => None,
        })
    }
}
