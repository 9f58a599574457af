//! Interactions that wait for their first answer or may still be followed up, and forms that are
//! open on a person's phone.
//!
//! Decides how long each may be answered, and once; leaves what the answer does to `answering`.

use std::collections::{HashMap, VecDeque};
use std::sync::Arc;

use tokio::sync::oneshot;

use crate::check::form::Form;
use crate::ids::Id;
use crate::limits::{FIRST_ANSWER_MS, TOKEN_LIFE_MS};
use crate::outcome::Answer;
use crate::problem::{self, Problem};

/// Interactions remembered. Only load makes more in a token's life; then the oldest go early, so
/// that a long run does not fill the memory.
const KEPT_INTERACTIONS: usize = 50_000;

/// What a person did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Deed {
    /// Sent a command.
    Command,
    /// Typed into an option that completes.
    Complete,
    /// Tapped a button or chose from a menu of that message.
    Component(Id),
    /// Sent a form, opened from that message or from a command.
    Submit(Option<Id>),
}

impl Deed {
    /// The platform's number for the kind of interaction.
    pub const fn number(self) -> u8 {
        match self {
            Deed::Command => 2,
            Deed::Component(_) => 3,
            Deed::Complete => 4,
            Deed::Submit(_) => 5,
        }
    }

    /// The message that it was done on.
    pub const fn on(self) -> Option<Id> {
        match self {
            Deed::Component(message) => Some(message),
            Deed::Submit(message) => message,
            Deed::Command | Deed::Complete => None,
        }
    }
}

/// One interaction.
#[derive(Debug)]
pub struct Asked {
    /// Its id.
    pub id: Id,
    /// Its token.
    pub token: Arc<str>,
    /// Who asked.
    pub person: Id,
    /// Where.
    pub channel: Id,
    /// What was done.
    pub deed: Deed,
    /// What the page knows it by.
    pub nonce: Option<String>,
    /// What was typed, for the answer to show.
    pub typed: Option<String>,
    /// The form that was sent, and the interaction that opened it.
    pub form: Option<(String, Id)>,
    /// Whether it has had its first answer.
    pub answered: bool,
    /// The last refusal of an answer, for whoever wonders why there is none.
    pub refused: Option<String>,
    /// The message that `@original` is.
    pub original: Option<Id>,
    /// Who waits for the answer.
    pub waiter: Option<oneshot::Sender<Answer>>,
}

/// All of them.
#[derive(Debug, Default)]
pub struct Asking {
    by_id: HashMap<Id, Asked>,
    by_token: HashMap<Arc<str>, Id>,
    ages: VecDeque<Id>,
    forms: HashMap<(Id, String), OpenForm>,
}

/// A form on a person's phone.
#[derive(Clone, Debug)]
pub struct OpenForm {
    /// The form.
    pub form: Form,
    /// The interaction that it answered.
    pub by: Id,
    /// Where it was opened.
    pub channel: Id,
    /// The message whose button or menu opened it.
    pub on: Option<Id>,
}

impl Asking {
    /// Remembers a new interaction; forgets those past their token's life, and the oldest where
    /// there are too many.
    pub fn add(&mut self, asked: Asked, wall_ms: u64) {
        while let Some(old) = self.ages.front().copied() {
            let lives = wall_ms.saturating_sub(old.made_ms()) <= TOKEN_LIFE_MS;
            if lives && self.ages.len() < KEPT_INTERACTIONS {
                break;
            }
            self.ages.pop_front();
            if let Some(gone) = self.by_id.remove(&old) {
                self.by_token.remove(&gone.token);
            }
        }
        self.ages.push_back(asked.id);
        self.by_token.insert(Arc::clone(&asked.token), asked.id);
        self.by_id.insert(asked.id, asked);
    }

    /// The interaction, if its first answer may be given now.
    ///
    /// # Errors
    /// 10062 where it is unknown or too old, 40060 where it was answered.
    pub fn unanswered(&mut self, id: Id, token: &str, wall_ms: u64) -> Result<&mut Asked, Problem> {
        let asked = self.by_id.get_mut(&id).filter(|a| *a.token == *token);
        let asked = asked.ok_or(problem::UNKNOWN_INTERACTION)?;
        if asked.answered {
            return Err(problem::ANSWERED);
        }
        if wall_ms.saturating_sub(id.made_ms()) > FIRST_ANSWER_MS {
            return Err(problem::UNKNOWN_INTERACTION);
        }
        Ok(asked)
    }

    /// The answered interaction of a token, for its webhook's routes.
    ///
    /// # Errors
    /// 10015 where it is unknown or was not answered, 50027 where its life is over.
    pub fn with_token(&mut self, token: &str, wall_ms: u64) -> Result<&mut Asked, Problem> {
        let id = self.by_token.get(token).ok_or(problem::UNKNOWN_WEBHOOK)?;
        let asked = self.by_id.get_mut(id).ok_or(problem::UNKNOWN_WEBHOOK)?;
        if wall_ms.saturating_sub(asked.id.made_ms()) > TOKEN_LIFE_MS {
            return Err(problem::INVALID_TOKEN);
        }
        if asked.answered {
            Ok(asked)
        } else {
            Err(problem::UNKNOWN_WEBHOOK)
        }
    }

    /// An interaction, for whoever waits for it.
    pub fn get(&self, id: Id) -> Option<&Asked> {
        self.by_id.get(&id)
    }

    /// The same, to note something on it.
    pub fn get_mut(&mut self, id: Id) -> Option<&mut Asked> {
        self.by_id.get_mut(&id)
    }

    /// Opens a form on a person's phone, in place of one of the same name.
    pub fn open_form(&mut self, person: Id, open: OpenForm) {
        self.forms
            .insert((person, open.form.custom_id.clone()), open);
    }

    /// The form of that name on a person's phone.
    pub fn form(&self, person: Id, custom_id: &str) -> Option<&OpenForm> {
        self.forms.get(&(person, custom_id.to_owned()))
    }

    /// Closes the one that was opened then. One that was opened anew stays.
    pub fn close_form(&mut self, person: Id, custom_id: &str, by: Id) {
        let place = (person, custom_id.to_owned());
        if self.forms.get(&place).is_some_and(|open| open.by == by) {
            self.forms.remove(&place);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ids::FIRST_MS;

    fn asked(id: Id) -> Asked {
        let token = format!("t{id}").into();
        let (person, channel, deed) = (Id(1), Id(2), Deed::Command);
        let (nonce, typed, form, refused) = (None, None, None, None);
        let (answered, original, waiter) = (false, None, None);
        Asked {
            id,
            token,
            person,
            channel,
            deed,
            nonce,
            typed,
            form,
            answered,
            refused,
            original,
            waiter,
        }
    }

    #[test]
    fn the_first_answer_has_three_seconds_and_the_token_fifteen_minutes() {
        let made = FIRST_MS + 1_000;
        let id = Id::at_ms(made);
        let token = format!("t{id}");
        let mut asking = Asking::default();
        asking.add(asked(id), made);
        assert_eq!(
            asking.with_token(&token, made).err(),
            Some(problem::UNKNOWN_WEBHOOK)
        );
        assert!(asking.unanswered(id, "other", made).is_err());
        assert!(asking.unanswered(id, &token, made + 3_000).is_ok());
        let late = asking.unanswered(id, &token, made + 3_001).err();
        assert_eq!(late, Some(problem::UNKNOWN_INTERACTION));
        asking.get_mut(id).unwrap().answered = true;
        let again = asking.unanswered(id, &token, made + 3_001).err();
        assert_eq!(again, Some(problem::ANSWERED));
        assert!(asking.with_token(&token, made + 900_000).is_ok());
        let over = asking.with_token(&token, made + 900_001).err();
        assert_eq!(over, Some(problem::INVALID_TOKEN));
        // The next one sweeps it out.
        let next = Id::at_ms(made + 900_001);
        asking.add(asked(next), made + 900_001);
        assert!(asking.get(id).is_none() && asking.get(next).is_some());
    }

    #[test]
    fn under_load_the_oldest_go_first() {
        let mut asking = Asking::default();
        let first = Id::at_ms(FIRST_MS + 1).0;
        for n in 0..KEPT_INTERACTIONS as u64 + 10 {
            asking.add(asked(Id(first + n)), FIRST_MS + 1);
        }
        assert_eq!(asking.by_id.len(), KEPT_INTERACTIONS);
        assert_eq!(asking.by_token.len(), KEPT_INTERACTIONS);
        assert!(asking.get(Id(first)).is_none());
    }
}
