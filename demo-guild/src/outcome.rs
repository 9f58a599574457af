//! What a person gets back for what they did.

use std::sync::Arc;
use std::time::Duration;

use serde::Serialize;
use serde_json::Value;

use crate::chat::Message;
use crate::check::form::Form;
use crate::ids::Id;

/// How an interaction was answered first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// With a message.
    Message,
    /// By changing the message that was acted on.
    Update,
    /// Not yet: the answer follows.
    Deferred,
    /// With a form to fill in.
    Form,
    /// With choices to complete with.
    Choices,
}

/// One choice of an autocompletion.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Choice {
    /// What the person reads.
    pub name: String,
    /// What is sent.
    pub value: Value,
}

/// The first answer.
#[derive(Clone, Debug)]
pub struct Answer {
    /// What it is.
    pub kind: Kind,
    /// The message written or changed.
    pub message: Option<Arc<Message>>,
    /// The form opened.
    pub form: Option<Form>,
    /// The choices offered.
    pub choices: Vec<Choice>,
}

/// What came of something a person did.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// The interaction made; none where the person's own client refused.
    pub interaction: Option<Id>,
    /// The first answer.
    pub answered: Option<Answer>,
    /// Why there is none, in a sentence for people.
    pub failed: Option<String>,
    /// How long the person waited, on the wall.
    pub waited: Duration,
}

impl Outcome {
    /// Refused before anything was sent.
    pub(crate) fn refused(why: impl Into<String>) -> Outcome {
        let waited = Duration::ZERO;
        Outcome {
            interaction: None,
            answered: None,
            failed: Some(why.into()),
            waited,
        }
    }

    /// The message answered with, where there is one.
    pub fn message(&self) -> Option<&Arc<Message>> {
        self.answered.as_ref()?.message.as_ref()
    }

    /// The text answered with; empty where there is none.
    pub fn text(&self) -> &str {
        self.message().map_or("", |m| m.content.as_str())
    }

    /// The form answered with, where there is one.
    pub fn form(&self) -> Option<&Form> {
        self.answered.as_ref()?.form.as_ref()
    }
}
