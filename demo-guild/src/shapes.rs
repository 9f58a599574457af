//! The platform's JSON objects, whole, as strict clients want them.
//!
//! Decides only how our data is spelt in the platform's words.

use std::fmt::Write as _;

use chrono::{DateTime, SecondsFormat};
use serde_json::{Value, json};

use crate::asked::{Asked, Deed};
use crate::chat::{Attachment, Cause, Channel, Chat, Message, Person, Role};
use crate::ids::Id;
use crate::limits::What;

/// The version of the interface spoken.
pub const VERSION: u8 = 10;
/// Send messages.
pub const SEND_MESSAGES: u64 = 1 << 11;
/// See and send in channels, read their history, attach files, use commands.
const MEMBER_PERMISSIONS: u64 = 1 << 10 | SEND_MESSAGES | 1 << 15 | 1 << 16 | 1 << 31;
/// The same, and reach every role, embed links and manage messages.
pub const BOT_PERMISSIONS: u64 = MEMBER_PERMISSIONS | 1 << 13 | 1 << 14 | 1 << 17;
const MANAGE_GUILD: u64 = 1 << 5;

/// What a person may do in the guild, as the platform's bits.
pub fn permissions(person: &Person) -> u64 {
    MEMBER_PERMISSIONS | if person.manage_guild { MANAGE_GUILD } else { 0 }
}

/// Wall time in the platform's writing (ISO 8601 in UTC).
pub fn time(ms: u64) -> String {
    let at = i64::try_from(ms)
        .ok()
        .and_then(DateTime::from_timestamp_millis)
        .unwrap_or_default();
    at.to_rfc3339_opts(SecondsFormat::Micros, false)
}

/// A user.
pub fn user(id: Id, name: &str, bot: bool) -> Value {
    let username: String = name
        .to_lowercase()
        .split_whitespace()
        .collect::<Vec<_>>()
        .join("_");
    json!({
        "id": id, "username": username, "discriminator": "0", "global_name": name, "avatar": null,
        "bot": bot, "system": false, "public_flags": 0, "flags": 0, "banner": null,
        "accent_color": null, "avatar_decoration_data": null, "collectibles": null,
        "primary_guild": null, "clan": null,
    })
}

/// The bot as it sees itself.
pub fn me(chat: &Chat) -> Value {
    let mut me = user(chat.bot, &chat.bot_name, true);
    me["username"] = chat.bot_name.clone().into();
    me["discriminator"] = "0000".into();
    me["mfa_enabled"] = false.into();
    me["verified"] = true.into();
    me["locale"] = "en-US".into();
    me["email"] = Value::Null;
    me["premium_type"] = 0.into();
    me
}

/// A member; with permissions where an interaction carries it.
pub fn member(person: &Person, with_permissions: bool) -> Value {
    let mut member = member_of(
        user(person.id, &person.name, false),
        &person.roles,
        person.id,
    );
    if with_permissions {
        member["permissions"] = permissions(person).to_string().into();
    }
    member
}

/// The bot as a member.
pub fn bot_member(chat: &Chat) -> Value {
    member_of(me(chat), &[chat.bot_role], chat.bot)
}

fn member_of(user: Value, roles: &[Id], joined: Id) -> Value {
    json!({
        "user": user, "nick": null, "avatar": null, "banner": null, "roles": roles,
        "joined_at": time(joined.made_ms()), "premium_since": null, "deaf": false, "mute": false,
        "flags": 0, "pending": false, "communication_disabled_until": null,
        "unusual_dm_activity_until": null, "avatar_decoration_data": null,
    })
}

/// A role, @everyone's too.
pub fn role(id: Id, name: &str, position: usize) -> Value {
    json!({
        "id": id, "name": name, "description": null, "color": 0,
        "colors": {"primary_color": 0, "secondary_color": null, "tertiary_color": null},
        "hoist": false, "icon": null, "unicode_emoji": null, "position": position,
        "permissions": MEMBER_PERMISSIONS.to_string(), "managed": false, "mentionable": true,
        "flags": 0,
    })
}

/// All roles of the guild, @everyone first and the bot's own last.
pub fn roles(chat: &Chat) -> Vec<Value> {
    let everyone = Role {
        id: chat.guild,
        name: "@everyone".to_owned(),
    };
    let all = std::iter::once(&everyone).chain(&chat.roles);
    let mut all: Vec<Value> = all
        .enumerate()
        .map(|(position, r)| role(r.id, &r.name, position))
        .collect();
    let mut own = role(chat.bot_role, &chat.bot_name, all.len());
    own["permissions"] = BOT_PERMISSIONS.to_string().into();
    own["managed"] = true.into();
    own["tags"] = json!({"bot_id": chat.bot});
    all.push(own);
    all
}

/// A channel as an interaction carries it.
pub fn partial_channel(id: Id, name: &str, direct: bool) -> Value {
    if direct {
        return json!({"id": id, "type": 1, "flags": 0, "last_message_id": null});
    }
    json!({
        "id": id, "name": name, "type": 0, "permissions": BOT_PERMISSIONS.to_string(),
        "parent_id": null, "topic": null, "nsfw": false, "position": 0, "flags": 0,
        "last_message_id": null, "rate_limit_per_user": 0,
    })
}

/// A channel, whole.
pub fn channel(chat: &Chat, channel: &Channel) -> Value {
    let last = channel.messages().next_back().map(|m| m.id);
    if let Some(person) = channel.direct.and_then(|p| chat.person(p)) {
        let recipients = [user(person.id, &person.name, false)];
        return json!({"id": channel.id, "type": 1, "flags": 0, "last_message_id": last,
            "recipients": recipients});
    }
    let position = chat.order.iter().position(|id| *id == channel.id);
    let forbids = json!({"id": chat.bot_role, "type": 0, "allow": "0", "deny": channel.forbidden.to_string()});
    let overwrites: Vec<Value> = Some(forbids)
        .filter(|_| channel.forbidden != 0)
        .into_iter()
        .collect();
    json!({
        "id": channel.id, "guild_id": chat.guild, "name": channel.name, "type": 0,
        "position": position, "permission_overwrites": overwrites, "topic": null, "nsfw": false,
        "last_message_id": last, "rate_limit_per_user": 0, "parent_id": null,
        "last_pin_timestamp": null, "flags": 0,
    })
}

/// The guild without what only a GUILD_CREATE has.
pub fn guild(chat: &Chat) -> Value {
    let mut guild = json!({
        "id": chat.guild, "name": chat.guild_name, "owner_id": owner(chat), "afk_timeout": 300,
        "widget_enabled": false, "verification_level": 1, "default_message_notifications": 0,
        "explicit_content_filter": 0, "roles": roles(chat), "emojis": [], "features": [],
        "stickers": [], "mfa_level": 0, "system_channel_flags": 0, "max_members": 500_000,
        "premium_tier": 0, "premium_subscription_count": 0, "preferred_locale": "en-US",
        "max_video_channel_users": 25, "max_stage_video_channel_users": 50, "nsfw_level": 0,
        "nsfw": false, "premium_progress_bar_enabled": false, "region": "deprecated",
    });
    for unset in [
        "icon",
        "icon_hash",
        "splash",
        "discovery_splash",
        "afk_channel_id",
        "widget_channel_id",
        "application_id",
        "system_channel_id",
        "rules_channel_id",
        "max_presences",
        "vanity_url_code",
        "description",
        "banner",
        "public_updates_channel_id",
        "safety_alerts_channel_id",
        "incidents_data",
        "hub_type",
        "home_header",
        "latest_onboarding_question_id",
    ] {
        guild[unset] = Value::Null;
    }
    guild
}

/// The guild as a GUILD_CREATE brings it.
pub fn guild_create(chat: &Chat) -> Value {
    let mut whole = guild(chat);
    let channels: Vec<Value> = chat
        .order
        .iter()
        .filter_map(|id| chat.channels.get(id))
        .filter(|c| c.bot)
        .map(|c| channel(chat, c))
        .collect();
    whole["joined_at"] = time(chat.bot.made_ms()).into();
    whole["large"] = false.into();
    whole["unavailable"] = false.into();
    whole["member_count"] = (chat.people.len() + 1).into();
    // Without the privileged intent for members the platform sends the bot alone.
    whole["members"] = json!([bot_member(chat)]);
    whole["channels"] = channels.into();
    for none in [
        "voice_states",
        "threads",
        "presences",
        "stage_instances",
        "guild_scheduled_events",
        "soundboard_sounds",
        "activity_instances",
    ] {
        whole[none] = json!([]);
    }
    whole
}

/// The foreign guild's name.
pub const ELSEWHERE: &str = "Elsewhere";

/// The foreign guild as a GUILD_CREATE brings it: nobody reads more of it than whose it is.
pub fn foreign_create(chat: &Chat) -> Value {
    let mut whole = guild_create(chat);
    let guild = chat.foreign;
    whole["id"] = json!(guild);
    whole["name"] = ELSEWHERE.into();
    whole["roles"] = json!([role(guild, "@everyone", 0)]);
    whole["channels"] = json!([]);
    whole["members"] = json!([]);
    whole
}

fn owner(chat: &Chat) -> Id {
    let manager = chat
        .people
        .iter()
        .find(|p| p.manage_guild)
        .or(chat.people.first());
    manager.map_or(chat.bot, |p| p.id)
}

/// A file.
pub fn attachment(of: &Attachment, ephemeral: bool) -> Value {
    let (width, height) = of.size().unzip();
    json!({
        "id": of.id, "filename": of.name, "size": of.bytes.len(), "url": of.url,
        "proxy_url": of.url, "content_type": of.content_type, "ephemeral": ephemeral,
        "width": width, "height": height, "description": of.description,
    })
}

/// Whether the bot, which lacks the intent for it, gets a message's text: its own, those that
/// mention it, and those written to it directly.
pub fn text_is_open(chat: &Chat, message: &Message) -> bool {
    let direct = chat
        .channels
        .get(&message.channel)
        .is_some_and(|c| c.direct.is_some());
    message.author.id == chat.bot || direct || message.mentions.contains(&chat.bot)
}

/// A message as the bot gets it over HTTP.
pub fn message(chat: &Chat, of: &Message) -> Value {
    let open = text_is_open(chat, of);
    let author = if of.author.id == chat.bot {
        me(chat)
    } else {
        user(of.author.id, &of.author.name, of.author.bot)
    };
    let mentions: Vec<Value> = of
        .mentions
        .iter()
        .map(|id| match chat.person(*id) {
            Some(person) => user(*id, &person.name, false),
            None => me(chat),
        })
        .collect();
    let hidden = of.ephemeral_for.is_some();
    let files: Vec<Value> = of
        .attachments
        .iter()
        .filter(|_| open)
        .map(|a| attachment(a, hidden))
        .collect();
    let none: &[Value] = &[];
    let mut whole = json!({
        "id": of.id, "channel_id": of.channel, "author": author,
        "content": if open { of.content.as_str() } else { "" },
        "timestamp": time(of.id.made_ms()), "edited_timestamp": of.edited_wall.map(time),
        "tts": false, "mention_everyone": of.mention_everyone, "mentions": mentions,
        "mention_roles": of.mention_roles, "attachments": files,
        "embeds": if open { &of.embeds[..] } else { none }, "pinned": false,
        "type": 0, "flags": of.flags,
        "components": if open { &of.components[..] } else { none },
    });
    if let Some(nonce) = &of.nonce {
        whole["nonce"] = nonce.clone();
    }
    if let Some(cause) = of.cause {
        let command = cause.deed == Deed::Command;
        whole["type"] = if command { 20.into() } else { 0.into() };
        whole["application_id"] = json!(chat.bot);
        whole["webhook_id"] = json!(chat.bot);
        whole["interaction_metadata"] = metadata(chat, cause);
    }
    if let Some(answers) = of.answers {
        whole["type"] = 19.into();
        whole["message_reference"] = json!({"type": 0, "message_id": answers,
            "channel_id": of.channel, "guild_id": chat.guild});
    }
    whole
}

/// The interaction that a message answers.
fn metadata(chat: &Chat, cause: Cause) -> Value {
    let asker = chat
        .person(cause.person)
        .map(|p| user(p.id, &p.name, false));
    let of = |kind: u8| {
        json!({
            "id": cause.interaction, "type": kind, "user": asker,
            "authorizing_integration_owners": {"0": chat.guild},
            "original_response_message_id": null,
        })
    };
    let mut whole = of(cause.deed.number());
    match cause.deed {
        Deed::Command | Deed::Complete => {}
        Deed::Component(on) => whole["interacted_message_id"] = json!(on),
        // What opened the form; the guild does not keep it, so it goes by the form's own id.
        Deed::Submit(Some(on)) => {
            let mut opener = of(Deed::Component(on).number());
            opener["interacted_message_id"] = json!(on);
            whole["triggering_interaction_metadata"] = opener;
        }
        Deed::Submit(None) => {
            whole["triggering_interaction_metadata"] = of(Deed::Command.number());
        }
    }
    whole
}

/// A message as the gateway tells it.
pub fn message_event(chat: &Chat, of: &Message) -> Value {
    let mut whole = message(chat, of);
    if chat
        .channels
        .get(&of.channel)
        .is_some_and(|c| c.direct.is_none())
    {
        whole["guild_id"] = json!(chat.guild);
        let mut member = chat
            .person(of.author.id)
            .map_or_else(|| bot_member(chat), |p| member(p, false));
        if let Some(member) = member.as_object_mut() {
            member.remove("user");
        }
        whole["member"] = member;
    }
    whole
}

/// An interaction as the gateway brings it, with that `data`. Written out by hand from objects
/// serialised before, since one is made for every tap under load.
pub fn interaction(chat: &Chat, asked: &Asked, person: &Person, data: &str, from: From) -> String {
    let channel = chat.channels.get(&asked.channel);
    let partial = channel.map_or("null", |c| &*c.partial_json);
    let mut out = String::with_capacity(data.len() + partial.len() + 2_048);
    let bot = chat.bot;
    // Writing to a string cannot fail.
    let _ = write!(
        out,
        r#"{{"id":"{}","application_id":"{bot}","type":{},"token":"{}","version":1,"channel_id":"{}","channel":{partial},"locale":{},"entitlements":[],"app_permissions":"{BOT_PERMISSIONS}","attachment_size_limit":{},"data":{data}"#,
        asked.id,
        asked.deed.number(),
        asked.token,
        asked.channel,
        Value::from(person.locale.as_str()),
        What::Upload.most(),
    );
    let _ = match from {
        From::Guild | From::Foreign => {
            let guild = if from == From::Guild {
                chat.guild
            } else {
                chat.foreign
            };
            write!(
                out,
                r#","guild_id":"{guild}","guild":{{"id":"{guild}","locale":"en-US","features":[]}},"guild_locale":"en-US","context":0,"authorizing_integration_owners":{{"0":"{guild}"}},"member":{}"#,
                person.member_json
            )
        }
        From::Direct => write!(
            out,
            r#","context":1,"authorizing_integration_owners":{{"0":"0"}},"user":{}"#,
            person.user_json
        ),
    };
    if let Deed::Component(on) | Deed::Submit(Some(on)) = asked.deed
        && let Some(message) = chat.message(on)
    {
        let _ = write!(out, r#","message":{}"#, self::message(chat, message));
    }
    out.push('}');
    out
}

/// Where an interaction comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum From {
    /// The guild served.
    Guild,
    /// A guild that the bot was not set up for.
    Foreign,
    /// A direct message.
    Direct,
}
