//! The application's registered commands, global and of guilds.
//!
//! Decides ids, versions, what counts as a creation, and which command a person's client finds.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use serde_json::{Map, Value, json};

use crate::check;
use crate::ids::{Id, Mint};
use crate::limits::What;
use crate::problem::{self, Faulty, Problem};

const DAY_MS: u64 = 24 * 60 * 60 * 1_000;

/// Where a command is registered: globally, or for one guild.
pub type Scope = Option<Id>;

/// The register.
#[derive(Debug, Default)]
pub struct Register {
    scopes: BTreeMap<Scope, BTreeMap<String, Arc<Value>>>,
    created: BTreeMap<Scope, Vec<u64>>,
}

/// What registering needs to know of the world.
#[derive(Clone, Copy, Debug)]
pub struct Stamp<'a> {
    /// Makes ids and versions.
    pub mint: &'a Mint,
    /// Now, in ms of the wall clock.
    pub wall_ms: u64,
    /// The application.
    pub application: Id,
}

impl Register {
    /// Commands of one scope, by name.
    pub fn of(&self, scope: Scope) -> impl Iterator<Item = &Arc<Value>> {
        self.scopes
            .get(&scope)
            .into_iter()
            .flat_map(BTreeMap::values)
    }

    /// All that a person in that guild finds, by name; a guild's own before a global one.
    pub fn seen_in(&self, guild: Id) -> Vec<Arc<Value>> {
        let mut seen: BTreeMap<&str, &Arc<Value>> = BTreeMap::new();
        for scope in [None, Some(guild)] {
            for command in self.of(scope) {
                seen.insert(command["name"].as_str().unwrap_or(""), command);
            }
        }
        seen.into_values().cloned().collect()
    }

    /// The command of that name that a person in that guild finds.
    pub fn find(&self, guild: Id, name: &str) -> Option<&Arc<Value>> {
        let of = |scope| {
            self.scopes
                .get(&scope)
                .and_then(|c: &BTreeMap<_, _>| c.get(name))
        };
        of(Some(guild)).or_else(|| of(None))
    }

    /// A command by id.
    ///
    /// # Errors
    /// 10063.
    pub fn get(&self, scope: Scope, id: Id) -> Result<&Arc<Value>, Problem> {
        let text = id.to_string();
        self.of(scope)
            .find(|c| c["id"] == text.as_str())
            .ok_or(problem::UNKNOWN_COMMAND)
    }

    /// Whether nothing is registered anywhere.
    pub fn is_empty(&self) -> bool {
        self.scopes.values().all(BTreeMap::is_empty)
    }

    /// Replaces all commands of a scope.
    ///
    /// # Errors
    /// 50035, or 30034 where too many are new today.
    pub fn replace(&mut self, scope: Scope, body: &Value, stamp: Stamp<'_>) -> Result<(), Problem> {
        let mut faulty = Faulty::default();
        let Some(list) = body.as_array() else {
            faulty.here(
                "LIST_TYPE_CONVERT",
                "Only iterables may be used in a ListType.",
            );
            return faulty.done();
        };
        check::length(&mut faulty, list.len(), What::Commands);
        let mut names = BTreeSet::new();
        for (index, command) in list.iter().enumerate() {
            faulty.at(index, |f| {
                check::command::command(f, command);
                if !names.insert(command["name"].as_str().unwrap_or("")) {
                    f.key("name", |f| {
                        f.here(
                            "APPLICATION_COMMANDS_DUPLICATE_NAME",
                            "Application command names must be unique",
                        );
                    });
                }
            });
        }
        faulty.done()?;
        let before = self.scopes.get(&scope).cloned().unwrap_or_default();
        let new = names.iter().filter(|n| !before.contains_key(**n)).count();
        self.count(scope, new, stamp.wall_ms)?;
        let mut after = BTreeMap::new();
        for command in list {
            let name = command["name"].as_str().unwrap_or("").to_owned();
            let whole = whole(scope, command, before.get(&name), stamp);
            after.insert(name, whole);
        }
        self.scopes.insert(scope, after);
        Ok(())
    }

    /// Adds a command, or changes the one of that name; whether it is new.
    ///
    /// # Errors
    /// 50035, 30032 or 30034.
    pub fn upsert(
        &mut self,
        scope: Scope,
        body: &Value,
        stamp: Stamp<'_>,
    ) -> Result<(Arc<Value>, bool), Problem> {
        let mut faulty = Faulty::default();
        check::command::command(&mut faulty, body);
        faulty.done()?;
        let name = body["name"].as_str().unwrap_or("").to_owned();
        let commands = self.scopes.entry(scope).or_default();
        let known = commands.get(&name).cloned();
        if known.is_none() {
            if commands.len() >= What::Commands.most() {
                return Err(problem::COMMANDS);
            }
            self.count(scope, 1, stamp.wall_ms)?;
        }
        let whole = whole(scope, body, known.as_ref(), stamp);
        self.scopes
            .entry(scope)
            .or_default()
            .insert(name, Arc::clone(&whole));
        Ok((whole, known.is_none()))
    }

    /// Changes parts of a command.
    ///
    /// # Errors
    /// 10063 or 50035.
    pub fn patch(
        &mut self,
        scope: Scope,
        id: Id,
        body: &Value,
        stamp: Stamp<'_>,
    ) -> Result<Arc<Value>, Problem> {
        let known = Arc::clone(self.get(scope, id)?);
        let mut merged = known.as_object().cloned().unwrap_or_default();
        for (key, value) in body.as_object().into_iter().flatten() {
            merged.insert(key.clone(), value.clone());
        }
        let merged = Value::Object(merged);
        let mut faulty = Faulty::default();
        check::command::command(&mut faulty, &merged);
        let (old, new) = (&known["name"], &merged["name"]);
        if old != new && self.of(scope).any(|c| c["name"] == *new) {
            faulty.key("name", |f| {
                f.here(
                    "APPLICATION_COMMANDS_DUPLICATE_NAME",
                    "Application command names must be unique",
                );
            });
        }
        faulty.done()?;
        let whole = whole(scope, &merged, Some(&known), stamp);
        let commands = self.scopes.entry(scope).or_default();
        commands.remove(old.as_str().unwrap_or(""));
        commands.insert(new.as_str().unwrap_or("").to_owned(), Arc::clone(&whole));
        Ok(whole)
    }

    /// Removes a command.
    ///
    /// # Errors
    /// 10063.
    pub fn remove(&mut self, scope: Scope, id: Id) -> Result<(), Problem> {
        let name = self.get(scope, id)?["name"]
            .as_str()
            .unwrap_or("")
            .to_owned();
        self.scopes.entry(scope).or_default().remove(&name);
        Ok(())
    }

    /// Counts creations against the day's limit; all or none.
    fn count(&mut self, scope: Scope, new: usize, wall_ms: u64) -> Result<(), Problem> {
        let made = self.created.entry(scope).or_default();
        made.retain(|at| wall_ms.saturating_sub(*at) < DAY_MS);
        if made.len() + new > What::CommandsADay.most() {
            return Err(problem::COMMANDS_A_DAY);
        }
        made.extend(std::iter::repeat_n(wall_ms, new));
        Ok(())
    }
}

/// A command as a list has it (the platform's reference, "Retrieving localized commands"): without its translations,
/// and with those of this locale beside the names and descriptions where there are any.
pub fn in_locale(command: &mut Value, locale: &str) {
    let Some(body) = command.as_object_mut() else {
        return;
    };
    for field in ["name", "description"] {
        let all = body.remove(&format!("{field}_localizations"));
        if let Some(own) = all.as_ref().and_then(|all| all.get(locale)) {
            body.insert(format!("{field}_localized"), own.clone());
        }
    }
    for below in ["options", "choices"] {
        let list = body.get_mut(below).and_then(Value::as_array_mut);
        list.into_iter()
            .flatten()
            .for_each(|one| in_locale(one, locale));
    }
}

/// The whole object of a command as the platform keeps it. An unchanged one keeps its version.
fn whole(scope: Scope, body: &Value, before: Option<&Arc<Value>>, stamp: Stamp<'_>) -> Arc<Value> {
    let given = body.as_object().cloned().unwrap_or_default();
    let or = |key: &str, other: Value| match given.get(key) {
        None | Some(Value::Null) => other,
        Some(value) => value.clone(),
    };
    let permissions = match given.get("default_member_permissions") {
        Some(Value::Number(n)) => Value::String(n.to_string()),
        Some(other) => other.clone(),
        None => Value::Null,
    };
    let mut whole = Map::new();
    let id = before.map_or_else(
        || stamp.mint.next(stamp.wall_ms).to_string(),
        |b| b["id"].as_str().unwrap_or("").to_owned(),
    );
    whole.insert("id".into(), id.into());
    whole.insert(
        "application_id".into(),
        stamp.application.to_string().into(),
    );
    whole.insert("type".into(), json!(1));
    for key in ["name", "description"] {
        whole.insert(key.into(), or(key, Value::Null));
    }
    for key in ["name_localizations", "description_localizations"] {
        whole.insert(key.into(), or(key, Value::Null));
    }
    whole.insert("options".into(), or("options", json!([])));
    whole.insert("default_member_permissions".into(), permissions);
    whole.insert("nsfw".into(), or("nsfw", json!(false)));
    match scope {
        Some(guild) => {
            whole.insert("guild_id".into(), guild.to_string().into());
        }
        None => {
            whole.insert("dm_permission".into(), or("dm_permission", json!(true)));
            whole.insert("contexts".into(), or("contexts", Value::Null));
            whole.insert(
                "integration_types".into(),
                or("integration_types", json!([0])),
            );
        }
    }
    let version = before.filter(|b| whole.iter().all(|(key, value)| b[key.as_str()] == *value));
    let version = version.map_or_else(
        || stamp.mint.next(stamp.wall_ms).to_string(),
        |b| b["version"].as_str().unwrap_or("").to_owned(),
    );
    whole.insert("version".into(), version.into());
    Arc::new(Value::Object(whole))
}
