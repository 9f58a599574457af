//! Every published limit: the most is accepted, one more is refused, at the right field and with
//! the platform's code. Generated from the table; a limit without a probe does not compile.

// Helpers of a test may panic like the test itself.
#![allow(clippy::unwrap_used, clippy::wildcard_enum_match_arm)]

mod common;

use common::{Api, read};
use demo_guild::limits::What;
use demo_guild::{Guild, Options};
use reqwest::{Method, StatusCode, multipart};
use serde_json::{Value, json};

/// One request that is as large as asked in one respect.
enum Probe {
    /// A request and where in the body an error is noted.
    Body(Method, &'static str, Value, &'static str),
    /// The first answer to an interaction: the deed it answers, the body, where an error is noted.
    Answer(Deed, Value, &'static str),
    /// A file of so many bytes.
    File(usize),
    /// So many files.
    Files(usize),
    /// So many commands created one after another by a fresh application.
    Creations(usize),
}

#[derive(Clone, Copy)]
enum Deed {
    Command,
    Complete,
}

const COMMANDS: &str = "/applications/{app}/guilds/{guild}/commands";
const MESSAGES: &str = "/channels/{channel}/messages";

fn text(n: usize) -> String {
    "é".repeat(n)
}

fn texts(n: usize) -> Vec<String> {
    (0..n).map(|i| format!("n{i}")).collect()
}

fn command(name: &str) -> Value {
    json!({"name": name, "description": "d", "options": []})
}

fn option(name: &str) -> Value {
    json!({"type": 3, "name": name, "description": "d"})
}

fn with(key: &str, value: Value) -> Value {
    let mut whole = command("probe");
    whole[key] = value;
    whole
}

fn create(body: Value, at: &'static str) -> Probe {
    Probe::Body(Method::POST, COMMANDS, body, at)
}

fn message(body: Value, at: &'static str) -> Probe {
    Probe::Body(Method::POST, MESSAGES, body, at)
}

fn row(items: Value) -> Value {
    json!({"type": 1, "components": items})
}

fn button(key: &str, value: Value) -> Value {
    let mut button = json!({"type": 2, "style": 1, "custom_id": "b", "label": "l"});
    button[key] = value;
    json!({"components": [row(json!([button]))]})
}

fn select(key: &str, value: Value) -> Value {
    let options = json!([{"label": "l", "value": "v"}]);
    let mut select = json!({"type": 3, "custom_id": "s", "options": options});
    select[key] = value;
    json!({"components": [row(json!([select]))]})
}

fn select_option(key: &str, value: Value) -> Value {
    let mut option = json!({"label": "l", "value": "v"});
    option[key] = value;
    select("options", json!([option]))
}

fn embed(embed: Value) -> Value {
    json!({"content": "c", "embeds": [embed]})
}

fn input(id: &str) -> Value {
    row(json!([{"type": 4, "style": 1, "custom_id": id, "label": "l"}]))
}

fn form(key: &str, value: Value) -> Value {
    let mut form = json!({"custom_id": "f", "title": "t", "components": [input("i")]});
    form[key] = value;
    json!({"type": 9, "data": form})
}

fn form_input(key: &str, value: Value) -> Value {
    let mut row = input("i");
    row["components"][0][key] = value;
    form("components", json!([row]))
}

fn choices(list: Value) -> Value {
    json!({"type": 8, "data": {"choices": list}})
}

/// A command of exactly `n` characters, in options whose choices are long.
fn command_of(n: usize) -> Value {
    // "probe" and "d", and ten options of a name and a description of one character.
    let mut left = n - 6 - 10 * 2;
    let mut options = Vec::new();
    for o in 0..10u8 {
        let mut choices = Vec::new();
        while choices.len() < 25 && left > 0 {
            let size = left.clamp(1, 40);
            let value: String = text(size - 1);
            choices.push(json!({"name": "c", "value": value}));
            left -= size;
        }
        let name = char::from(b'a' + o).to_string();
        options.push(json!({"type": 3, "name": name, "description": "d", "choices": choices}));
    }
    assert_eq!(left, 0);
    with("options", json!(options))
}

/// Embeds whose text together is exactly `n` characters.
fn embeds_of(n: usize) -> Value {
    let first = n.min(4_000);
    json!({"content": "c", "embeds": [{"description": text(first)}, {"description": text(n - first)}]})
}

fn probe(what: What, n: usize) -> Probe {
    let list =
        |n: usize, of: fn(&str) -> Value| -> Value { texts(n).iter().map(|t| of(t)).collect() };
    let choice = |c: &str| json!({"name": c, "value": c});
    match what {
        What::Commands => Probe::Body(Method::PUT, COMMANDS, list(n, command), ""),
        What::CommandsADay => Probe::Creations(n),
        What::CommandName => create(with("name", text(n).into()), "/name"),
        What::Description => create(with("description", text(n).into()), "/description"),
        What::Options => create(with("options", list(n, option)), "/options"),
        What::Choices => {
            let mut option = option("o");
            option["choices"] = list(n, |c| json!({"name": c, "value": c}));
            create(with("options", json!([option])), "/options/0/choices")
        }
        What::ChoiceName => {
            let mut option = option("o");
            option["choices"] = json!([{"name": text(n), "value": "v"}]);
            create(
                with("options", json!([option])),
                "/options/0/choices/0/name",
            )
        }
        What::ChoiceValue => {
            let mut option = option("o");
            option["choices"] = json!([{"name": "n", "value": text(n)}]);
            create(
                with("options", json!([option])),
                "/options/0/choices/0/value",
            )
        }
        What::CommandSize => create(if n == 0 { command("p") } else { command_of(n) }, ""),
        What::OptionLength => {
            let mut option = option("o");
            option["max_length"] = n.max(1).into();
            create(with("options", json!([option])), "/options/0/max_length")
        }
        What::Content => message(
            json!({"content": text(n), "embeds": [{"title": "t"}]}),
            "/content",
        ),
        What::Embeds => message(
            json!({"content": "c", "embeds": list(n, |t| json!({"title": t}))}),
            "/embeds",
        ),
        What::EmbedSize => message(embeds_of(n), "/embeds"),
        What::EmbedTitle => message(embed(json!({"title": text(n)})), "/embeds/0/title"),
        What::EmbedDescription => message(
            embed(json!({"description": text(n)})),
            "/embeds/0/description",
        ),
        What::EmbedFields => message(
            embed(json!({"fields": list(n, |t| json!({"name": t, "value": "v"}))})),
            "/embeds/0/fields",
        ),
        What::EmbedFieldName => message(
            embed(json!({"fields": [{"name": text(n), "value": "v"}]})),
            "/embeds/0/fields/0/name",
        ),
        What::EmbedFieldValue => message(
            embed(json!({"fields": [{"name": "n", "value": text(n)}]})),
            "/embeds/0/fields/0/value",
        ),
        What::EmbedFooter => message(
            embed(json!({"footer": {"text": text(n)}})),
            "/embeds/0/footer/text",
        ),
        What::EmbedAuthor => message(
            embed(json!({"author": {"name": text(n)}})),
            "/embeds/0/author/name",
        ),
        What::Rows => {
            let one =
                |id: &str| row(json!([{"type": 2, "style": 1, "custom_id": id, "label": "l"}]));
            message(
                json!({"content": "c", "components": list(n, one)}),
                "/components",
            )
        }
        What::Buttons => {
            let one = |id: &str| json!({"type": 2, "style": 1, "custom_id": id, "label": "l"});
            message(
                json!({"components": [row(list(n, one))]}),
                "/components/0/components",
            )
        }
        What::CustomId => message(
            button("custom_id", text(n).into()),
            "/components/0/components/0/custom_id",
        ),
        What::ButtonLabel => {
            let mut body = button("label", text(n).into());
            body["components"][0]["components"][0]["emoji"] = json!({"name": "x"});
            message(body, "/components/0/components/0/label")
        }
        What::ButtonUrl => {
            let mut body = button("url", text(n).into());
            body["components"][0]["components"][0]["style"] = 5.into();
            body["components"][0]["components"][0]["custom_id"] = Value::Null;
            message(body, "/components/0/components/0/url")
        }
        What::SelectOptions => {
            let options = list(n, |t| json!({"label": t, "value": t}));
            message(
                select("options", options),
                "/components/0/components/0/options",
            )
        }
        What::SelectLabel => message(
            select_option("label", text(n).into()),
            "/components/0/components/0/options/0/label",
        ),
        What::SelectValue => message(
            select_option("value", text(n).into()),
            "/components/0/components/0/options/0/value",
        ),
        What::SelectDescription => message(
            select_option("description", text(n).into()),
            "/components/0/components/0/options/0/description",
        ),
        What::SelectPlaceholder => message(
            select("placeholder", text(n).into()),
            "/components/0/components/0/placeholder",
        ),
        What::FormTitle => {
            Probe::Answer(Deed::Command, form("title", text(n).into()), "/data/title")
        }
        What::Inputs => Probe::Answer(
            Deed::Command,
            form("components", list(n, input)),
            "/data/components",
        ),
        What::InputLabel => Probe::Answer(
            Deed::Command,
            form_input("label", text(n).into()),
            "/data/components/0/components/0/label",
        ),
        What::InputPlaceholder => Probe::Answer(
            Deed::Command,
            form_input("placeholder", text(n).into()),
            "/data/components/0/components/0/placeholder",
        ),
        What::InputValue => Probe::Answer(
            Deed::Command,
            form_input("value", text(n).into()),
            "/data/components/0/components/0/value",
        ),
        What::Completions => {
            Probe::Answer(Deed::Complete, choices(list(n, choice)), "/data/choices")
        }
        What::CompletionName => Probe::Answer(
            Deed::Complete,
            choices(json!([{"name": text(n), "value": "v"}])),
            "/data/choices/0/name",
        ),
        What::CompletionValue => Probe::Answer(
            Deed::Complete,
            choices(json!([{"name": "n", "value": text(n)}])),
            "/data/choices/0/value",
        ),
        What::Upload => Probe::File(n),
        What::Files => Probe::Files(n),
        What::FileDescription => message(
            json!({"content": "c", "attachments": [{"id": 0, "description": text(n)}]}),
            "/attachments/0/description",
        ),
        What::Nonce => message(json!({"content": "c", "nonce": "n".repeat(n)}), "/nonce"),
        What::AllowedMentions => {
            let users: Vec<String> = (1..=n).map(|i| i.to_string()).collect();
            message(
                json!({"content": "c", "allowed_mentions": {"users": users}}),
                "/allowed_mentions/users",
            )
        }
    }
}

async fn guild() -> Guild {
    Guild::serve(common::home(), Options::headless())
        .await
        .unwrap()
}

/// Whether it was accepted; if not, the status, the code and whether the field is named.
async fn tried(guild: &Guild, probe: Probe) -> Result<(), (StatusCode, u64, bool)> {
    let api = Api::of(guild);
    let path = |path: &str| {
        path.replace("{app}", &guild.bot_id().to_string())
            .replace("{guild}", &guild.guild_id().to_string())
            .replace("{channel}", &guild.channel("north").to_string())
    };
    let judge = |(status, body): (StatusCode, Value), at: &str| {
        if status.is_success() {
            return Ok(());
        }
        let here = body["errors"]
            .pointer(at)
            .is_some_and(|e| e["_errors"][0]["code"].is_string());
        Err((status, body["code"].as_u64().unwrap_or(0), here))
    };
    match probe {
        Probe::Body(method, to, body, at) => judge(api.send(method, &path(to), &body).await, at),
        Probe::Answer(deed, body, at) => judge(
            common::answer(guild, matches!(deed, Deed::Complete), &body).await,
            at,
        ),
        Probe::File(bytes) => {
            let part = multipart::Part::bytes(vec![0; bytes]).file_name("f.bin");
            let form = multipart::Form::new()
                .text("payload_json", "{}")
                .part("files[0]", part);
            let request = api.request(Method::POST, &path(MESSAGES)).multipart(form);
            judge(read(request.send().await.unwrap()).await, "")
        }
        Probe::Files(n) => {
            let mut form = multipart::Form::new().text("payload_json", r#"{"content":"c"}"#);
            for i in 0..n {
                let part = multipart::Part::bytes(vec![0; 1]).file_name("f.bin");
                form = form.part(format!("files[{i}]"), part);
            }
            let request = api.request(Method::POST, &path(MESSAGES)).multipart(form);
            judge(read(request.send().await.unwrap()).await, "/files")
        }
        Probe::Creations(n) => {
            let mut left = n;
            let mut last = Ok(());
            while left > 0 {
                let part = left.min(100);
                let names: Vec<Value> = texts(part)
                    .iter()
                    .map(|t| command(&format!("{t}x{left}")))
                    .collect();
                last = judge(
                    api.send(Method::PUT, &path(COMMANDS), &json!(names)).await,
                    "",
                );
                left -= part;
            }
            last
        }
    }
}

#[tokio::test]
async fn the_most_is_accepted_and_one_more_is_refused() {
    for what in What::ALL {
        let most = what.most();
        assert_eq!(
            tried(&guild().await, probe(*what, most)).await,
            Ok(()),
            "{what:?} of {most}"
        );
        let refused = tried(&guild().await, probe(*what, most + 1)).await;
        let expected = match what {
            What::Upload => (StatusCode::PAYLOAD_TOO_LARGE, 40005, false),
            What::CommandsADay => (StatusCode::BAD_REQUEST, 30034, false),
            _ => (StatusCode::BAD_REQUEST, 50035, true),
        };
        assert_eq!(refused, Err(expected), "{what:?} of {}", most + 1);
    }
}

#[tokio::test]
async fn the_least_is_accepted_and_one_fewer_is_refused() {
    for what in What::ALL.iter().filter(|w| w.least() > 0) {
        let guild = guild().await;
        assert_eq!(
            tried(&guild, probe(*what, what.least())).await,
            Ok(()),
            "{what:?} least"
        );
        let refused = tried(&guild, probe(*what, what.least() - 1)).await;
        assert_eq!(
            refused,
            Err((StatusCode::BAD_REQUEST, 50035, true)),
            "{what:?} none"
        );
    }
}

#[tokio::test]
async fn what_is_no_matter_of_size_is_refused_too() {
    let guild = guild().await;
    let required_last =
        json!([option("a"), {"type": 3, "name": "b", "description": "d", "required": true}]);
    let twice = json!([
        {"type": 2, "style": 1, "custom_id": "a", "label": "l"},
        {"type": 2, "style": 1, "custom_id": "a", "label": "l"},
    ]);
    let mixed = json!([option("a"), {"type": 1, "name": "b", "description": "d"}]);
    let both = json!([{"type": 3, "name": "a", "description": "d", "autocomplete": true,
        "choices": [{"name": "n", "value": "v"}]}]);
    let parse = json!({"parse": ["roles"], "roles": ["1"]});
    let beside = json!([{"type": 2, "style": 1, "custom_id": "a", "label": "l"},
        {"type": 3, "custom_id": "s", "options": [{"label": "l", "value": "v"}]}]);
    let cases = [
        (create(with("name", "Upper".into()), "/name"), "upper case"),
        (create(with("name", "a b".into()), "/name"), "a space"),
        (create(with("name", "a!".into()), "/name"), "a mark"),
        (
            create(with("options", required_last), "/options/1/required"),
            "required last",
        ),
        (
            create(
                with("options", json!([option("a"), option("a")])),
                "/options/1/name",
            ),
            "same option",
        ),
        (create(with("options", mixed), "/options/1/type"), "mixed"),
        (
            create(with("options", both), "/options/0/choices"),
            "choices and completion",
        ),
        (
            Probe::Body(
                Method::PUT,
                COMMANDS,
                json!([command("a"), command("a")]),
                "/1/name",
            ),
            "same command",
        ),
        (
            message(
                json!({"components": [row(twice)]}),
                "/components/0/components/1/custom_id",
            ),
            "same custom id",
        ),
        (
            message(
                json!({"components": [row(beside)]}),
                "/components/0/components/1",
            ),
            "menu beside",
        ),
        (
            message(
                json!({"content": "c", "allowed_mentions": parse}),
                "/allowed_mentions/roles",
            ),
            "both",
        ),
        (message(json!({"content": 5}), "/content"), "a number"),
        (
            Probe::Answer(
                Deed::Command,
                json!({"type": 8, "data": {"choices": []}}),
                "/type",
            ),
            "choices to a command",
        ),
        (
            Probe::Answer(
                Deed::Command,
                json!({"type": 7, "data": {"content": "c"}}),
                "/type",
            ),
            "update of nothing",
        ),
        (
            Probe::Answer(
                Deed::Complete,
                json!({"type": 4, "data": {"content": "c"}}),
                "/type",
            ),
            "message to completion",
        ),
    ];
    for (probe, name) in cases {
        let refused = tried(&guild, probe).await;
        assert_eq!(
            refused,
            Err((StatusCode::BAD_REQUEST, 50035, true)),
            "{name}"
        );
    }
    let fine = [
        create(with("name", "größe-2_日本".into()), ""),
        message(
            json!({"content": "c", "allowed_mentions": {"parse": []}}),
            "",
        ),
    ];
    for probe in fine {
        assert_eq!(tried(&guild, probe).await, Ok(()));
    }
}

/// The figures that the platform's published interface description (v10) states itself, read there
/// once, with the schema and property. The table must say the same.
const PUBLISHED: &[(What, usize, usize)] = &[
    (What::CommandName, 1, 32),         // ApplicationCommandCreateRequest.name
    (What::Description, 1, 100),        // ApplicationCommandStringOption.description
    (What::Options, 0, 25),             // ApplicationCommandCreateRequest.options
    (What::Choices, 0, 25),             // ApplicationCommandStringOption.choices
    (What::ChoiceName, 1, 100),         // ApplicationCommandOptionStringChoice.name
    (What::OptionLength, 0, 6_000),     // ApplicationCommandStringOption.min_length
    (What::Content, 0, 2_000),          // IncomingWebhookInteractionRequest.content
    (What::Embeds, 0, 10),              // MessageCreateRequest.embeds
    (What::EmbedTitle, 0, 256),         // RichEmbed.title
    (What::EmbedDescription, 0, 4_096), // RichEmbed.description
    (What::EmbedFields, 0, 25),         // RichEmbed.fields
    (What::EmbedFooter, 0, 2_048),      // RichEmbedFooter.text
    (What::EmbedAuthor, 0, 256),        // RichEmbedAuthor.name
    (What::Buttons, 1, 5),              // ActionRowComponentForMessageRequest.components
    (What::CustomId, 1, 100),           // ButtonComponentForMessageRequest.custom_id
    (What::ButtonLabel, 0, 80),         // ButtonComponentForMessageRequest.label
    (What::SelectOptions, 1, 25),       // StringSelectComponentForMessageRequest.options
    (What::SelectLabel, 1, 100),        // StringSelectOptionForRequest.label
    (What::SelectValue, 1, 100),        // StringSelectOptionForRequest.value
    (What::SelectDescription, 0, 100),  // StringSelectOptionForRequest.description
    (What::SelectPlaceholder, 0, 150),  // StringSelectComponentForMessageRequest.placeholder
    (What::FormTitle, 1, 45),           // ModalInteractionCallbackRequestData.title
    (What::InputLabel, 1, 45),          // TextInputComponentForModalRequest.label
    (What::InputPlaceholder, 0, 100),   // TextInputComponentForModalRequest.placeholder
    (What::InputValue, 0, 4_000),       // TextInputComponentForModalRequest.value
    (What::Completions, 0, 25), // InteractionApplicationCommandAutocompleteCallbackStringData
    (What::Files, 0, 10),       // MessageCreateRequest.attachments
    (What::FileDescription, 0, 1_024), // MessageAttachmentRequest.description
    (What::Nonce, 0, 25),       // MessageCreateRequest.nonce
    (What::AllowedMentions, 0, 100), // MessageAllowedMentionsRequest.roles
];

#[test]
fn the_table_says_what_the_platform_publishes() {
    for (what, least, most) in PUBLISHED {
        assert_eq!((what.least(), what.most()), (*least, *most), "{what:?}");
    }
    // The description gives these two no least length; their most it does:
    // RichEmbedField.name and RichEmbedField.value.
    assert_eq!(
        (What::EmbedFieldName.most(), What::EmbedFieldValue.most()),
        (256, 1_024)
    );
    // ButtonComponentForMessageRequest.url.
    assert_eq!(What::ButtonUrl.most(), 512);
}
