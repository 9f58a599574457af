//! Refusals of the HTTP interface, with the platform's status, code and words.
//!
//! Decides how a refusal reads; leaves when to refuse to the routes and checks.
//! Codes: the platform's reference, "JSON error codes"; the inner codes of 50035 are from memory.

use serde_json::{Map, Value, json};

/// A refusal.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// HTTP status.
    pub status: u16,
    /// The platform's own code; 0 where it has none.
    pub code: u32,
    /// The platform's words.
    pub message: &'static str,
    /// The tree of field errors, with 50035 only.
    pub errors: Option<Value>,
}

impl Problem {
    const fn new(status: u16, code: u32, message: &'static str) -> Problem {
        Problem {
            status,
            code,
            message,
            errors: None,
        }
    }

    /// The answer's body.
    pub fn body(&self) -> Value {
        match &self.errors {
            Some(errors) => json!({"message": self.message, "code": self.code, "errors": errors}),
            None => json!({"message": self.message, "code": self.code}),
        }
    }
}

/// The token is wrong or absent.
pub const UNAUTHORIZED: Problem = Problem::new(401, 0, "401: Unauthorized");
/// No such route.
pub const NOT_FOUND: Problem = Problem::new(404, 0, "404: Not Found");
/// The route has no such method.
pub const METHOD: Problem = Problem::new(405, 0, "405: Method Not Allowed");
/// No such application.
pub const UNKNOWN_APPLICATION: Problem = Problem::new(404, 10002, "Unknown Application");
/// No such channel.
pub const UNKNOWN_CHANNEL: Problem = Problem::new(404, 10003, "Unknown Channel");
/// No such guild.
pub const UNKNOWN_GUILD: Problem = Problem::new(404, 10004, "Unknown Guild");
/// No such member.
pub const UNKNOWN_MEMBER: Problem = Problem::new(404, 10007, "Unknown Member");
/// No such message.
pub const UNKNOWN_MESSAGE: Problem = Problem::new(404, 10008, "Unknown Message");
/// No such role.
pub const UNKNOWN_ROLE: Problem = Problem::new(404, 10011, "Unknown Role");
/// No such user.
pub const UNKNOWN_USER: Problem = Problem::new(404, 10013, "Unknown User");
/// No such webhook, or an interaction that was not answered yet.
pub const UNKNOWN_WEBHOOK: Problem = Problem::new(404, 10015, "Unknown Webhook");
/// The interaction is unknown, or its first answer came too late.
pub const UNKNOWN_INTERACTION: Problem = Problem::new(404, 10062, "Unknown interaction");
/// No such application command.
pub const UNKNOWN_COMMAND: Problem = Problem::new(404, 10063, "Unknown application command");
/// Too many commands created today.
pub const COMMANDS_A_DAY: Problem = Problem::new(
    400,
    30034,
    "Max number of daily application command creates has been reached (200)",
);
/// The message is over an hour old and was edited too often (only as a fault on demand: the
/// platform does not publish how often is too often; its status is from memory).
pub const TOO_MANY_EDITS: Problem = Problem::new(
    429,
    30046,
    "Maximum number of edits to messages older than 1 hour reached. Try again later.",
);
/// Too many commands of the application.
pub const COMMANDS: Problem = Problem::new(
    400,
    30032,
    "Maximum number of application commands reached (100).",
);
/// The file is too large.
pub const TOO_LARGE: Problem = Problem::new(413, 40005, "Request entity too large");
/// The interaction has had its first answer.
pub const ANSWERED: Problem =
    Problem::new(400, 40060, "Interaction has already been acknowledged.");
/// The bot may not see the channel.
pub const MISSING_ACCESS: Problem = Problem::new(403, 50001, "Missing Access");
/// The channel's own settings forbid it.
pub const MISSING_PERMISSIONS: Problem = Problem::new(403, 50013, "Missing Permissions");
/// The message is somebody else's.
pub const OTHERS_MESSAGE: Problem =
    Problem::new(403, 50005, "Cannot edit a message authored by another user");
/// Nothing to send.
pub const EMPTY_MESSAGE: Problem = Problem::new(400, 50006, "Cannot send an empty message");
/// The interaction's token is past its life.
pub const INVALID_TOKEN: Problem = Problem::new(401, 50027, "Invalid Webhook Token");
/// The body is no JSON.
pub const INVALID_JSON: Problem =
    Problem::new(400, 50109, "The request body contains invalid JSON.");
const INVALID_FORM: Problem = Problem::new(400, 50035, "Invalid Form Body");

/// Collects field errors into the tree of one 50035, and knows where in the body it is.
#[derive(Debug, Default)]
pub struct Faulty {
    path: Vec<Step>,
    tree: Map<String, Value>,
}

#[derive(Clone, Copy, Debug)]
enum Step {
    Key(&'static str),
    At(usize),
}

impl Faulty {
    /// Looks into a field while `inside` runs.
    pub fn key(&mut self, key: &'static str, inside: impl FnOnce(&mut Faulty)) {
        self.path.push(Step::Key(key));
        inside(self);
        self.path.pop();
    }

    /// Looks into an item of a list while `inside` runs.
    pub fn at(&mut self, index: usize, inside: impl FnOnce(&mut Faulty)) {
        self.path.push(Step::At(index));
        inside(self);
        self.path.pop();
    }

    /// Notes an error at where it is.
    pub fn here(&mut self, code: &str, message: impl Into<String>) {
        let message: String = message.into();
        let mut at = &mut self.tree;
        for step in &self.path {
            let key = match step {
                Step::Key(key) => (*key).to_owned(),
                Step::At(index) => index.to_string(),
            };
            let slot = at.entry(key).or_insert_with(|| Value::Object(Map::new()));
            let Value::Object(inner) = slot else { return };
            at = inner;
        }
        let list = at
            .entry("_errors")
            .or_insert_with(|| Value::Array(Vec::new()));
        if let Value::Array(list) = list {
            list.push(json!({"code": code, "message": message}));
        }
    }

    /// Whether something was noted.
    pub fn any(&self) -> bool {
        !self.tree.is_empty()
    }

    /// The refusal, where something was noted.
    ///
    /// # Errors
    /// 50035 with the tree.
    pub fn done(self) -> Result<(), Problem> {
        if self.tree.is_empty() {
            return Ok(());
        }
        Err(Problem {
            errors: Some(Value::Object(self.tree)),
            ..INVALID_FORM
        })
    }
}
