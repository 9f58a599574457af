//! The platform's interactions and messages as what was said. Decides nothing but the translation;
//! authority and sense are judged in `commands`.

#![expect(
    clippy::wildcard_enum_match_arm,
    reason = "the chat library's lists are not ours and grow"
)]

use std::time::Duration;

use chrono::{DateTime, Utc};
use commands::ids::{Channel, ChatRole, Guild, Person};
use commands::said::{FileRef, Options, Picked, Value};
use commands::words::Lang;
use commands::{Ask, Said, Source};
use serenity::model::application::{
    ActionRowComponent, CommandDataOption, CommandDataOptionValue, CommandDataResolved,
    CommandInteraction, ComponentInteractionDataKind, Interaction,
};
use serenity::model::channel::{Message, MessageFlags};
use serenity::model::guild::Member;
use serenity::model::id::UserId;

use crate::event::{Heard, Way};
use crate::request::Token;

/// What an interaction says, and in which guild; no guild for direct messages. `None` for what is no
/// request of a person.
pub fn interaction(
    from: Interaction,
    at: DateTime<Utc>,
    act_by: Duration,
) -> Option<(Option<Guild>, Heard)> {
    let id = from.id().get();
    let (said, edge) = match from {
        Interaction::Command(command) => {
            let edge = Edge::of_command(&command);
            let (path, options, _) = command_said(command);
            (Said::Command { path, options }, edge)
        }
        Interaction::Autocomplete(command) => {
            let edge = Edge::of_command(&command);
            let (path, options, focused) = command_said(command);
            (
                Said::Completing {
                    path,
                    options,
                    focused: focused.unwrap_or_default(),
                },
                edge,
            )
        }
        Interaction::Component(tap) => {
            let edge = Edge {
                guild: tap.guild_id.map(|id| Guild(id.get())),
                channel: tap.channel_id.get(),
                who: tap.user.id,
                roles: roles(tap.member.as_ref()),
                manages: manages(tap.member.as_ref()),
                lang: Lang::of_locale(&tap.locale),
                token: Token(tap.token),
                on_message: Some(tap.message.id.get()),
                public: is_public(&tap.message),
            };
            let chosen = chosen(tap.data.kind);
            (
                Said::Tap {
                    id: tap.data.custom_id,
                    chosen,
                },
                edge,
            )
        }
        Interaction::Modal(form) => {
            let edge = Edge {
                guild: form.guild_id.map(|id| Guild(id.get())),
                channel: form.channel_id.get(),
                who: form.user.id,
                roles: roles(form.member.as_ref()),
                manages: manages(form.member.as_ref()),
                lang: Lang::of_locale(&form.locale),
                token: Token(form.token),
                on_message: form.message.as_ref().map(|message| message.id.get()),
                public: form.message.as_deref().is_some_and(is_public),
            };
            let rows = form
                .data
                .components
                .into_iter()
                .flat_map(|row| row.components);
            let fields = rows.filter_map(field).collect();
            (
                Said::Form {
                    id: form.data.custom_id,
                    fields,
                },
                edge,
            )
        }
        _ => return None,
    };
    let ask = Ask {
        source: Source::interaction(id),
        who: Person(edge.who.get()),
        chat_roles: edge.roles,
        manages: edge.manages,
        // The desk knows what the chat has told of its roles.
        deleted: Vec::new(),
        channel: Channel(edge.channel),
        lang: edge.lang,
        at,
    };
    let way = Way::Interaction {
        id,
        token: edge.token,
        on_message: edge.on_message,
        public: edge.public,
        deferred: false,
    };
    Some((
        edge.guild,
        Heard {
            ask,
            said,
            way,
            act_by,
        },
    ))
}

/// What a message that mentions `us` says; `None` for messages that do not, and for those of programs.
pub fn mention(
    message: Message,
    us: u64,
    at: DateTime<Utc>,
    act_by: Duration,
) -> Option<(Guild, Heard)> {
    let guild = Guild(message.guild_id?.get());
    let mentioned = message.mentions.iter().any(|user| user.id.get() == us);
    if message.author.bot || message.webhook_id.is_some() || !mentioned {
        return None;
    }
    let text = message
        .content
        .replace(&format!("<@{us}>"), " ")
        .replace(&format!("<@!{us}>"), " ");
    let id = message.id.get();
    let ask = Ask {
        source: Source::message(id),
        who: Person(message.author.id.get()),
        chat_roles: message
            .member
            .iter()
            .flat_map(|member| member.roles.iter().map(|role| ChatRole(role.get())))
            .collect(),
        // A message does not say so; what needs it is typed as a command.
        manages: false,
        deleted: Vec::new(),
        channel: Channel(message.channel_id.get()),
        lang: Lang::default(),
        at,
    };
    let said = Said::Mention {
        text: text.trim().to_owned(),
        files: !message.attachments.is_empty(),
    };
    Some((
        guild,
        Heard {
            ask,
            said,
            way: Way::Message { id },
            act_by,
        },
    ))
}

/// What all interactions carry around what was said.
struct Edge {
    guild: Option<Guild>,
    channel: u64,
    who: UserId,
    roles: Vec<ChatRole>,
    manages: bool,
    lang: Lang,
    token: Token,
    on_message: Option<u64>,
    public: bool,
}

impl Edge {
    fn of_command(command: &CommandInteraction) -> Self {
        Self {
            guild: command.guild_id.map(|id| Guild(id.get())),
            channel: command.channel_id.get(),
            who: command.user.id,
            roles: roles(command.member.as_deref()),
            manages: manages(command.member.as_deref()),
            lang: Lang::of_locale(&command.locale),
            token: Token(command.token.clone()),
            on_message: None,
            public: false,
        }
    }
}

fn is_public(message: &Message) -> bool {
    !message
        .flags
        .is_some_and(|flags| flags.contains(MessageFlags::EPHEMERAL))
}

fn roles(member: Option<&Member>) -> Vec<ChatRole> {
    member
        .iter()
        .flat_map(|member| member.roles.iter().map(|role| ChatRole(role.get())))
        .collect()
}

fn manages(member: Option<&Member>) -> bool {
    let permissions = member.and_then(|member| member.permissions);
    permissions.is_some_and(|has| has.manage_guild() || has.administrator())
}

/// A command's path, its options, and the option being typed.
fn command_said(command: CommandInteraction) -> (String, Options, Option<String>) {
    let guild = command.guild_id.map(|id| id.get());
    let mut path = command.data.name;
    let mut given = command.data.options;
    // A group's subcommand is one option that holds the others; there are at most two such levels.
    while let [
        CommandDataOption {
            value:
                CommandDataOptionValue::SubCommand(_) | CommandDataOptionValue::SubCommandGroup(_),
            ..
        },
    ] = given.as_slice()
    {
        let Some(inner) = given.pop() else { break };
        path.push(' ');
        path.push_str(&inner.name);
        given = match inner.value {
            CommandDataOptionValue::SubCommand(options)
            | CommandDataOptionValue::SubCommandGroup(options) => options,
            _ => Vec::new(),
        };
    }
    let mut focused = None;
    let mut options = Options::new();
    for option in given {
        if matches!(option.value, CommandDataOptionValue::Autocomplete { .. }) {
            focused = Some(option.name.clone());
        }
        if let Some(value) = value(option.value, &command.data.resolved, guild) {
            options.insert(option.name, value);
        }
    }
    (path, options, focused)
}

fn value(
    from: CommandDataOptionValue,
    resolved: &CommandDataResolved,
    guild: Option<u64>,
) -> Option<Value> {
    Some(match from {
        CommandDataOptionValue::String(text)
        | CommandDataOptionValue::Autocomplete { value: text, .. } => Value::Text(text),
        CommandDataOptionValue::Integer(number) => Value::Whole(number),
        // None of ours takes one; its text lets the core say what it takes instead.
        CommandDataOptionValue::Number(number) => Value::Text(number.to_string()),
        CommandDataOptionValue::Boolean(yes) => Value::Flag(yes),
        // The platform gives everybody's role the guild's own number.
        CommandDataOptionValue::Role(role) if Some(role.get()) == guild => Value::Everybody,
        CommandDataOptionValue::Role(role) => Value::Role(ChatRole(role.get())),
        CommandDataOptionValue::Channel(channel) => Value::Channel(Channel(channel.get())),
        CommandDataOptionValue::User(user) => Value::Person(picked(user, resolved)),
        CommandDataOptionValue::Attachment(id) => {
            let file = resolved.attachments.get(&id)?;
            Value::File(FileRef {
                name: file.filename.clone(),
                url: file.url.clone(),
                size: u64::from(file.size),
            })
        }
        _ => return None,
    })
}

/// Who was picked, by number alone, and the chat roles that they hold. The platform resolves whom it knows: members of the guild as members too.
fn picked(id: UserId, resolved: &CommandDataResolved) -> Picked {
    let person = Person(id.get());
    if resolved.users.get(&id).is_some_and(|user| user.bot) {
        Picked::Program(person)
    } else if let Some(member) = resolved.members.get(&id) {
        Picked::Member {
            who: person,
            chat_roles: member
                .roles
                .iter()
                .map(|role| ChatRole(role.get()))
                .collect(),
        }
    } else {
        Picked::Outside(person)
    }
}

fn chosen(kind: ComponentInteractionDataKind) -> Vec<String> {
    match kind {
        ComponentInteractionDataKind::StringSelect { values } => values,
        _ => Vec::new(),
    }
}

fn field(component: ActionRowComponent) -> Option<(String, String)> {
    match component {
        ActionRowComponent::InputText(input) => {
            Some((input.custom_id, input.value.unwrap_or_default()))
        }
        _ => None,
    }
}

/// The number and secret of an interaction that the chat library could not read, and the language of
/// whoever waits for its answer.
pub fn unread(value: &serde_json::Value) -> Option<(u64, Token, Lang)> {
    let id = value.get("id")?.as_str()?.parse().ok()?;
    let token = Token(value.get("token")?.as_str()?.to_owned());
    let locale = value
        .get("locale")
        .and_then(|locale| locale.as_str())
        .unwrap_or_default();
    Some((id, token, Lang::of_locale(locale)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn read(value: serde_json::Value) -> (Option<Guild>, Heard) {
        let from: Interaction = serde_json::from_value(value).unwrap();
        interaction(from, DateTime::UNIX_EPOCH, Duration::from_secs(9)).unwrap()
    }

    fn user() -> serde_json::Value {
        json!({"id": "5", "username": "aide", "discriminator": "0", "global_name": null, "avatar": null})
    }

    fn base(kind: u8, data: serde_json::Value) -> serde_json::Value {
        json!({
            "id": "11", "application_id": "2", "type": kind, "data": data, "guild_id": "3",
            "channel_id": "4", "channel": {"id": "4", "type": 0},
            "member": {"user": user(), "roles": ["70", "71"], "permissions": "32", "joined_at": "2026-01-01T00:00:00Z",
                "deaf": false, "mute": false, "flags": 0, "nick": null, "avatar": null},
            "token": "secret", "version": 1, "app_permissions": "0", "locale": "en-US",
            "guild_locale": "en-US", "entitlements": [], "authorizing_integration_owners": {},
            "context": 0, "attachment_size_limit": 10485760,
        })
    }

    #[test]
    fn a_subcommand_with_its_options_and_who_asked() {
        let data = json!({"id": "9", "name": "fleet", "type": 1, "options": [
            {"name": "add", "type": 1, "options": [
                {"name": "tag", "type": 3, "value": "LW-07"}, {"name": "count", "type": 4, "value": 3},
                {"name": "who", "type": 8, "value": "70"}, {"name": "all", "type": 8, "value": "3"}]}]});
        let (guild, heard) = read(base(2, data));
        assert_eq!(guild, Some(Guild(3)));
        assert_eq!((heard.ask.who, heard.ask.channel), (Person(5), Channel(4)));
        assert_eq!(heard.ask.chat_roles, [ChatRole(70), ChatRole(71)]);
        assert!(heard.ask.manages);
        let Said::Command { path, options } = heard.said else {
            panic!("not a command")
        };
        assert_eq!(path, "fleet add");
        assert_eq!(options["tag"], Value::Text("LW-07".into()));
        assert_eq!(options["count"], Value::Whole(3));
        assert_eq!(options["who"], Value::Role(ChatRole(70)));
        assert_eq!(options["all"], Value::Everybody);
        assert!(!format!("{:?}", heard.way).contains("secret"));
    }

    #[test]
    fn whoever_is_picked_is_a_member_a_program_or_from_outside() {
        let user = |id: &str, bot: bool| {
            json!({"id": id, "username": "somebody", "discriminator": "0", "global_name": null,
                "avatar": null, "bot": bot})
        };
        let member = json!({"roles": ["31"], "permissions": "0", "joined_at": "2026-01-01T00:00:00Z",
            "deaf": false, "mute": false, "flags": 0, "nick": "never read", "avatar": null});
        let data = json!({"id": "9", "name": "team", "type": 1, "options": [
            {"name": "one", "type": 6, "value": "21"}, {"name": "two", "type": 6, "value": "22"},
            {"name": "three", "type": 6, "value": "23"}, {"name": "four", "type": 6, "value": "24"}],
            "resolved": {"users": {"21": user("21", false), "22": user("22", true), "23": user("23", false)},
                "members": {"21": member, "22": member}}});
        let (_, heard) = read(base(2, data));
        let Said::Command { options, .. } = heard.said else {
            panic!("not a command")
        };
        for (name, picked) in [
            (
                "one",
                Picked::Member {
                    who: Person(21),
                    chat_roles: vec![ChatRole(31)],
                },
            ),
            ("two", Picked::Program(Person(22))),
            ("three", Picked::Outside(Person(23))),
            // Whom the platform does not resolve it does not know.
            ("four", Picked::Outside(Person(24))),
        ] {
            assert_eq!(options[name], Value::Person(picked), "{name}");
        }
    }

    #[test]
    fn what_is_being_typed_is_named() {
        let data = json!({"id": "9", "name": "handcheck", "type": 1, "options": [
            {"name": "surface", "type": 3, "value": "21", "focused": true}]});
        let (_, heard) = read(base(4, data));
        let Said::Completing {
            focused, options, ..
        } = heard.said
        else {
            panic!("not completing")
        };
        assert_eq!(
            (focused.as_str(), &options["surface"]),
            ("surface", &Value::Text("21".into()))
        );
    }

    #[test]
    fn a_form_brings_its_fields() {
        let data = json!({"custom_id": "note", "components": [{"type": 1, "components": [
            {"type": 4, "custom_id": "text", "value": "dry"}]}]});
        let (_, heard) = read(base(5, data));
        let Said::Form { id, fields } = heard.said else {
            panic!("not a form")
        };
        assert_eq!((id.as_str(), fields["text"].as_str()), ("note", "dry"));
    }

    #[test]
    fn what_cannot_be_read_can_still_be_answered() {
        let (id, token, _) = unread(&json!({"id": "8", "token": "t", "locale": "es-ES"})).unwrap();
        assert_eq!((id, token), (8, Token("t".into())));
        assert!(unread(&json!({"id": 8})).is_none());
    }
}
