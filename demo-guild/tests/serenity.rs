//! The real client library against the guild: every kind of interaction decodes and is answered.

// Helpers of a test may panic like the test itself.
#![allow(clippy::unwrap_used, clippy::wildcard_enum_match_arm)]

mod common;

use std::sync::{Arc, Mutex};
use std::time::Duration;

use demo_guild::{Fault, Guild, Kind, Limits, Options};
use serde_json::json;
use serenity::all::*;

/// What the bot saw, one line each.
type Seen = Arc<Mutex<Vec<String>>>;

struct Bot {
    seen: Seen,
}

impl Bot {
    fn saw(&self, what: impl Into<String>) {
        self.seen.lock().unwrap().push(what.into());
    }
}

#[async_trait]
impl EventHandler for Bot {
    async fn ready(&self, ctx: Context, ready: Ready) {
        self.saw(format!("ready {}", ready.guilds.len()));
        let commands = vec![
            CreateCommand::new("note")
                .description("Writes a note")
                .add_option(
                    CreateCommandOption::new(CommandOptionType::String, "text", "What")
                        .required(true)
                        .set_autocomplete(true),
                )
                .add_option(
                    CreateCommandOption::new(CommandOptionType::Integer, "count", "How many")
                        .min_int_value(1)
                        .max_int_value(9),
                )
                .add_option(
                    CreateCommandOption::new(CommandOptionType::String, "kind", "Which")
                        .add_string_choice("Loud one", "loud")
                        .add_string_choice("Quiet one", "quiet"),
                )
                .add_option(CreateCommandOption::new(
                    CommandOptionType::Role,
                    "role",
                    "Whom",
                ))
                .add_option(CreateCommandOption::new(
                    CommandOptionType::Channel,
                    "place",
                    "Where",
                ))
                .add_option(CreateCommandOption::new(
                    CommandOptionType::User,
                    "user",
                    "Who",
                ))
                .add_option(CreateCommandOption::new(
                    CommandOptionType::Number,
                    "size",
                    "Size",
                ))
                .add_option(CreateCommandOption::new(
                    CommandOptionType::Boolean,
                    "sure",
                    "Sure",
                )),
            CreateCommand::new("fleet")
                .description("The register")
                .add_option(
                    CreateCommandOption::new(CommandOptionType::SubCommand, "add", "Adds one")
                        .add_sub_option(
                            CreateCommandOption::new(CommandOptionType::String, "tag", "Tag")
                                .required(true),
                        ),
                )
                .add_option(
                    CreateCommandOption::new(
                        CommandOptionType::SubCommand,
                        "import",
                        "Reads a file",
                    )
                    .add_sub_option(
                        CreateCommandOption::new(CommandOptionType::Attachment, "file", "File")
                            .required(true),
                    ),
                ),
            CreateCommand::new("card").description("Buttons and a menu"),
            CreateCommand::new("form").description("Opens a form"),
            CreateCommand::new("slow").description("Answers later"),
            CreateCommand::new("mute").description("Never answers"),
            CreateCommand::new("picture").description("Sends a file"),
        ];
        Command::set_global_commands(&ctx.http, commands)
            .await
            .unwrap();
    }

    async fn guild_create(&self, _: Context, guild: Guild_, _: Option<bool>) {
        self.saw(format!("guild {} {}", guild.name, guild.channels.len()));
    }

    async fn message(&self, _: Context, message: Message) {
        if !message.author.bot {
            let dm = message.guild_id.is_none();
            self.saw(format!(
                "message {:?} mentions {} dm {dm}",
                message.content,
                message.mentions.len()
            ));
        }
    }

    async fn resume(&self, _: Context, _: ResumedEvent) {
        self.saw("resumed");
    }

    async fn guild_members_chunk(&self, _: Context, chunk: GuildMembersChunkEvent) {
        self.saw(format!("chunk {} {:?}", chunk.members.len(), chunk.nonce));
    }

    async fn interaction_create(&self, ctx: Context, interaction: Interaction) {
        match interaction {
            Interaction::Command(command) => self.command(&ctx, &command).await,
            Interaction::Autocomplete(command) => {
                let at = command.data.autocomplete().unwrap();
                self.saw(format!("complete {} {:?}", at.name, at.value));
                let response =
                    CreateAutocompleteResponse::new().add_string_choice("LW-07, bed 12", "LW-07");
                let response = CreateInteractionResponse::Autocomplete(response);
                command.create_response(&ctx.http, response).await.unwrap();
            }
            Interaction::Component(component) => {
                let what = match &component.data.kind {
                    ComponentInteractionDataKind::Button => "tapped".to_owned(),
                    ComponentInteractionDataKind::StringSelect { values } => values.join("+"),
                    other => format!("{other:?}"),
                };
                self.saw(format!(
                    "component {} {what} on {}",
                    component.data.custom_id, component.message.id
                ));
                let said = CreateInteractionResponseMessage::new()
                    .content(what)
                    .components(vec![]);
                let response = CreateInteractionResponse::UpdateMessage(said);
                component
                    .create_response(&ctx.http, response)
                    .await
                    .unwrap();
            }
            Interaction::Modal(modal) => {
                let ActionRowComponent::InputText(input) = &modal.data.components[0].components[0]
                else {
                    panic!("no input");
                };
                let said = format!("form says {}", input.value.as_deref().unwrap());
                self.saw(said.clone());
                let message = CreateInteractionResponseMessage::new()
                    .content(said)
                    .ephemeral(true);
                let response = CreateInteractionResponse::Message(message);
                modal.create_response(&ctx.http, response).await.unwrap();
            }
            other => self.saw(format!("other {other:?}")),
        }
    }
}

use serenity::all::Guild as Guild_;

impl Bot {
    async fn command(&self, ctx: &Context, command: &CommandInteraction) {
        let data = &command.data;
        let options: Vec<String> = data
            .options()
            .iter()
            .map(|o| format!("{}={}", o.name, shown(&o.value)))
            .collect();
        let from = match (command.guild_id, &command.member) {
            (Some(guild), Some(member)) => {
                assert!(member.permissions.is_some() && command.app_permissions.is_some());
                format!("guild {guild} roles {}", member.roles.len())
            }
            (None, None) => "direct".to_owned(),
            other => panic!("half a guild: {other:?}"),
        };
        let said = format!("{} [{}] {from}", data.name, options.join(" "));
        self.saw(said.clone());
        let message = CreateInteractionResponseMessage::new().content(said);
        let response = match data.name.as_str() {
            "card" => {
                let buttons = CreateActionRow::Buttons(vec![
                    CreateButton::new("go").label("Go"),
                    CreateButton::new("no").label("No").disabled(true),
                ]);
                let kind = CreateSelectMenuKind::String {
                    options: vec![
                        CreateSelectMenuOption::new("A", "a"),
                        CreateSelectMenuOption::new("B", "b"),
                    ],
                };
                let menu =
                    CreateActionRow::SelectMenu(CreateSelectMenu::new("pick", kind).max_values(2));
                CreateInteractionResponse::Message(message.components(vec![buttons, menu]))
            }
            "form" => {
                let input =
                    CreateInputText::new(InputTextStyle::Short, "Why", "why").max_length(20);
                let rows = vec![CreateActionRow::InputText(input)];
                CreateInteractionResponse::Modal(
                    CreateModal::new("reason", "Reason").components(rows),
                )
            }
            "slow" => {
                command.defer_ephemeral(&ctx.http).await.unwrap();
                let edit = EditInteractionResponse::new().content("here at last");
                let edited = command.edit_response(&ctx.http, edit).await.unwrap();
                assert_eq!(edited.content, "here at last");
                assert_eq!(command.get_response(&ctx.http).await.unwrap().id, edited.id);
                let more = CreateInteractionResponseFollowup::new().content("and more");
                command.create_followup(&ctx.http, more).await.unwrap();
                return;
            }
            "mute" => return,
            "picture" => {
                let file = CreateAttachment::bytes(vec![1, 2, 3], "chart.png");
                CreateInteractionResponse::Message(message.add_file(file))
            }
            _ => CreateInteractionResponse::Message(message),
        };
        command.create_response(&ctx.http, response).await.unwrap();
    }
}

fn shown(value: &ResolvedValue<'_>) -> String {
    match value {
        ResolvedValue::Attachment(file) => format!("{}:{}", file.filename, file.size),
        ResolvedValue::Boolean(flag) => flag.to_string(),
        ResolvedValue::Integer(n) => n.to_string(),
        ResolvedValue::Number(n) => n.to_string(),
        ResolvedValue::String(text) => (*text).to_owned(),
        ResolvedValue::SubCommand(inner) => inner
            .iter()
            .map(|o| format!("{}={}", o.name, shown(&o.value)))
            .collect(),
        ResolvedValue::Channel(channel) => channel.name.clone().unwrap(),
        ResolvedValue::Role(role) => role.name.clone(),
        ResolvedValue::User(user, member) => format!("{}/{}", user.name, member.is_some()),
        other => format!("{other:?}"),
    }
}

/// A guild with the bot connected in a runtime of its own, as the library asks for.
async fn connected(limits: Limits) -> (Guild, Seen) {
    let guild = Guild::serve(
        common::home(),
        Options {
            limits,
            ..Options::headless()
        },
    )
    .await
    .unwrap();
    let seen = Seen::default();
    let (token, url, bot) = (
        guild.token(),
        guild.url(),
        Bot {
            seen: Arc::clone(&seen),
        },
    );
    std::thread::spawn(move || {
        let runtime = tokio::runtime::Builder::new_current_thread()
            .enable_all()
            .build()
            .unwrap();
        runtime.block_on(async move {
            let http = HttpBuilder::new(&token)
                .proxy(url)
                .ratelimiter_disabled(true)
                .build();
            let intents = GatewayIntents::GUILDS
                | GatewayIntents::GUILD_MESSAGES
                | GatewayIntents::DIRECT_MESSAGES;
            let mut client = ClientBuilder::new_with_http(http, intents)
                .event_handler(bot)
                .await
                .unwrap();
            // Ends with an error when the guild goes.
            let _ = client.start().await;
        });
    });
    tokio::time::timeout(Duration::from_secs(20), guild.bot_ready())
        .await
        .unwrap();
    (guild, seen)
}

/// Waits until the bot saw something that starts so.
async fn wait_for(seen: &Seen, start: &str) -> String {
    for _ in 0..500 {
        if let Some(line) = seen
            .lock()
            .unwrap()
            .iter()
            .rev()
            .find(|l| l.starts_with(start))
        {
            return line.clone();
        }
        tokio::time::sleep(Duration::from_millis(20)).await;
    }
    panic!("the bot never saw {start}: {:?}", seen.lock().unwrap());
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn every_kind_of_interaction_decodes_and_is_answered() {
    let (guild, seen) = connected(Limits::published()).await;
    assert_eq!(wait_for(&seen, "guild").await, "guild Elm House 2");
    let (ana, ward) = (guild.person("Ana"), guild.channel("north"));
    let role = guild.role("Nurses").to_string();

    let options = [
        ("text", json!("hello")),
        ("count", json!(3)),
        ("kind", json!("Loud one")),
        ("role", json!(role)),
        ("place", json!(ward.to_string())),
        ("user", json!(guild.person("Bo").to_string())),
        ("size", json!(1.5)),
        ("sure", json!(true)),
    ];
    let told = guild.command(ana, ward, "note", &options).await;
    assert_eq!(told.failed, None);
    let home = guild.guild_id();
    assert_eq!(
        told.text(),
        format!(
            "note [text=hello count=3 kind=loud role=Nurses place=north user=bo/true size=1.5 sure=true] guild {home} roles 1"
        )
    );
    assert!(told.waited < Duration::from_secs(3));
    assert_eq!(
        told.message().unwrap().reply_to_command.as_deref(),
        Some("/note hello 3 loud Nurses north Bo 1.5 true")
    );

    let told = guild
        .command(ana, ward, "fleet add", &[("tag", json!("LW-07"))])
        .await;
    assert_eq!(
        told.text(),
        format!("fleet [add=tag=LW-07] guild {home} roles 1")
    );

    let file = json!({"name": "beds.csv", "text": "unit,bed\n"});
    let told = guild
        .command(ana, ward, "/fleet import", &[("file", file)])
        .await;
    assert_eq!(
        told.text(),
        format!("fleet [import=file=beds.csv:9] guild {home} roles 1")
    );

    let choices = guild
        .complete(ana, ward, "note", &[("text", json!("lw"))], "text")
        .await;
    assert_eq!(choices.len(), 1);
    assert_eq!(
        (choices[0].name.as_str(), &choices[0].value),
        ("LW-07, bed 12", &json!("LW-07"))
    );
    assert_eq!(wait_for(&seen, "complete").await, "complete text \"lw\"");

    let card = guild
        .command(ana, ward, "card", &[])
        .await
        .message()
        .unwrap()
        .id;
    let told = guild.tap(ana, card, "no").await;
    assert_eq!(told.failed.as_deref(), Some("This button is switched off."));
    let told = guild.choose(ana, card, "pick", &["a", "b"]).await;
    let answer = told.answered.clone().unwrap();
    assert_eq!((answer.kind, told.text()), (Kind::Update, "a+b"));
    assert_eq!(guild.message(card).unwrap().content, "a+b");
    let told = guild.tap(ana, card, "go").await;
    assert_eq!(
        told.failed.as_deref(),
        Some("This button is no longer there.")
    );
    let card = guild
        .command(ana, ward, "card", &[])
        .await
        .message()
        .unwrap()
        .id;
    assert_eq!(guild.tap(ana, card, "go").await.text(), "tapped");

    let told = guild.command(ana, ward, "form", &[]).await;
    assert_eq!(told.form().unwrap().fields[0].label, "Why");
    let told = guild
        .submit(
            ana,
            ward,
            "reason",
            &[("why", "a text that is too long for it")],
        )
        .await;
    assert_eq!(
        told.failed.as_deref(),
        Some("Why: write 1 to 20 characters.")
    );
    let told = guild
        .submit(ana, ward, "reason", &[("why", "because")])
        .await;
    assert_eq!(told.text(), "form says because");
    assert_eq!(told.message().unwrap().ephemeral_for, Some(ana));
    let told = guild.submit(ana, ward, "reason", &[("why", "again")]).await;
    assert_eq!(told.failed.as_deref(), Some("This form is no longer open."));

    let told = guild.command(ana, ward, "slow", &[]).await;
    assert_eq!(told.answered.as_ref().unwrap().kind, Kind::Deferred);
    let settled = guild.settled(&told, Duration::from_secs(5)).await.unwrap();
    assert_eq!(
        (settled.content.as_str(), settled.ephemeral_for),
        ("here at last", Some(ana))
    );

    let told = guild.command(ana, ward, "mute", &[]).await;
    assert_eq!(
        told.failed.as_deref(),
        Some("loftwatch did not answer within 3 seconds.")
    );
    assert!(told.waited >= Duration::from_secs(3));

    let told = guild.command(ana, ward, "picture", &[]).await;
    let file = &told.message().unwrap().attachments[0];
    assert_eq!(
        (file.name.as_str(), &file.bytes[..]),
        ("chart.png", &[1u8, 2, 3][..])
    );
    let fetched = reqwest::get(&file.url)
        .await
        .unwrap()
        .bytes()
        .await
        .unwrap();
    assert_eq!(&fetched[..], &[1, 2, 3]);

    let told = guild
        .direct_command(ana, "note", &[("text", json!("hi"))])
        .await;
    assert_eq!(told.text(), "note [text=hi] direct");
    let told = guild
        .foreign_command(ana, "note", &[("text", json!("hi"))])
        .await;
    assert_eq!(
        told.text(),
        format!("note [text=hi] guild {} roles 1", guild.foreign_guild_id())
    );
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn messages_show_their_text_only_where_the_bot_is_meant() {
    let (guild, seen) = connected(Limits::off()).await;
    let (ana, ward) = (guild.person("Ana"), guild.channel("north"));
    guild.say(ana, ward, "nothing for you").unwrap();
    assert_eq!(
        wait_for(&seen, "message").await,
        "message \"\" mentions 0 dm false"
    );
    guild
        .say(ana, ward, "@Loftwatch 214B three quarters")
        .unwrap();
    let meant = format!(
        "message \"<@{}> 214B three quarters\" mentions 1 dm false",
        guild.bot_id()
    );
    wait_for(&seen, &meant).await;
    guild.say(ana, guild.direct(ana), "psst").unwrap();
    wait_for(&seen, "message \"psst\" mentions 0 dm true").await;
    let refused = guild
        .say(ana, guild.channel("office"), "hello")
        .unwrap_err();
    assert_eq!(refused, "Ana does not read this channel.");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_session_resumes_without_loss_and_an_interaction_can_come_twice() {
    let (guild, seen) = connected(Limits::off()).await;
    let (ana, ward) = (guild.person("Ana"), guild.channel("north"));
    assert_eq!(guild.ask_to_reconnect(), 1);
    // Said while the bot is away or on its way: replayed.
    guild.say(ana, guild.direct(ana), "meanwhile").unwrap();
    wait_for(&seen, "resumed").await;
    wait_for(&seen, "message \"meanwhile\"").await;

    guild.tell_twice(1);
    let _ = guild.command(ana, ward, "mute", &[]).await;
    let runs = seen
        .lock()
        .unwrap()
        .iter()
        .filter(|l| l.starts_with("mute"))
        .count();
    assert_eq!(runs, 2);

    guild
        .faults()
        .next(1, "POST /interactions/*/*/callback", Fault::AnswerLost);
    let told = guild
        .command(ana, ward, "note", &[("text", json!("kept"))])
        .await;
    assert!(told.text().starts_with("note [text=kept]"));
    assert_eq!(guild.faults().left(), 0);

    let gone = guild.clone();
    guild.shutdown();
    tokio::time::timeout(Duration::from_secs(10), gone.bot_gone())
        .await
        .unwrap();
    assert!(reqwest::get(guild.url()).await.is_err());
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn many_people_at_once_each_get_their_own_answer() {
    let (guild, _) = connected(Limits::off()).await;
    let (people, ward) = (["Ana", "Bo", "Cy"], guild.channel("north"));
    let mut tasks = Vec::new();
    for n in 0..60usize {
        let (guild, name) = (guild.clone(), people[n % people.len()]);
        tasks.push(tokio::spawn(async move {
            let text = format!("{name} {n}");
            let told = guild
                .command(guild.person(name), ward, "note", &[("text", json!(text))])
                .await;
            assert!(
                told.text().starts_with(&format!("note [text={text}]")),
                "{told:?}"
            );
            assert_eq!(
                told.message().unwrap().cause.unwrap().person,
                guild.person(name)
            );
        }));
    }
    for task in tasks {
        task.await.unwrap();
    }
    assert_eq!(guild.messages(ward).len(), 60);
}
