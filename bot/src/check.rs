//! `loftwatch check` and `loftwatch verify`: says in sentences for whoever runs the computer whether
//! settings, chat service, files and zone rules are in order. Decides nothing and changes nothing.

use std::path::Path;
use std::time::Duration;

use commands::ids::RecordNo;
use store::{Store, StoreError};

use crate::config::{Exit, Settings};
use crate::http::{Fault, Http};
use crate::run::files;

/// Looks at everything; every finding is a sentence.
pub fn check(settings: &Settings) -> (Vec<String>, Exit) {
    let mut said = vec![format!(
        "Settings: the chat service is at {}.",
        settings.service.host()
    )];
    said.push(match &settings.guilds {
        Some(guilds) => format!("Settings: {} guild(s) are served.", guilds.len()),
        None => "Settings: every guild of this chat service is served.".to_owned(),
    });
    let chat = chat(settings, &mut said);
    let files = verify(&settings.data, None, &mut said);
    said.push(format!(
        "Zone rules: version {}.",
        commands::rules::zone::database_version()
    ));
    (said, if chat == Exit::Stopped { files } else { chat })
}

/// Reads every facility's file from end to end, and says the hash of its newest record and of the one that is asked for.
pub fn verify(folder: &Path, record: Option<RecordNo>, said: &mut Vec<String>) -> Exit {
    let guilds = files(folder);
    if guilds.is_empty() {
        said.push(format!("Files: none in {} yet.", folder.display()));
    }
    let mut exit = Exit::Stopped;
    for guild in guilds {
        let sentence = match Store::open(folder, guild) {
            Err(fault @ StoreError::Locked { .. }) => {
                exit = Exit::Busy;
                format!("{guild}.loft: {fault}.")
            }
            Err(fault) => {
                exit = Exit::Files;
                format!("{guild}.loft cannot be opened: {fault}.")
            }
            Ok(store) => match store.verify() {
                Ok(whole) => {
                    let mut sentence = format!(
                        "{guild}.loft is whole: {} records. The newest has the hash {}.",
                        whole.records, whole.tip
                    );
                    if let Some(no) = record {
                        let found = match store.hash_of(no) {
                            Ok(Some(hash)) => format!(" Record {no} has the hash {hash}."),
                            Ok(None) => format!(" There is no record {no} in it."),
                            Err(fault) => format!(" Record {no} cannot be read: {fault}."),
                        };
                        sentence.push_str(&found);
                    }
                    sentence
                }
                Err(trouble) => {
                    exit = Exit::Files;
                    format!("{guild}.loft is not whole: {trouble}.")
                }
            },
        };
        said.push(sentence);
    }
    exit
}

fn chat(settings: &Settings, said: &mut Vec<String>) -> Exit {
    let Ok(runtime) = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
    else {
        said.push("Chat: no runtime could be started.".to_owned());
        return Exit::Trouble;
    };
    let asked = runtime.block_on(async {
        let http = Http::new(&settings.service, &settings.token).ok()?;
        let asked = async {
            http.gateway().await?;
            http.me().await
        };
        tokio::time::timeout(Duration::from_secs(15), asked)
            .await
            .ok()
    });
    let (sentence, exit) = match asked {
        Some(Ok(_)) => (
            "Chat: reached, and the token is right.".to_owned(),
            Exit::Stopped,
        ),
        Some(Err(Fault::Status { status: 401, .. })) => (
            "Chat: reached, but the token was refused.".to_owned(),
            Exit::Refused,
        ),
        Some(Err(fault)) => (format!("Chat: {fault}."), Exit::Unreachable),
        None => (
            "Chat: no answer in 15 seconds.".to_owned(),
            Exit::Unreachable,
        ),
    };
    said.push(sentence);
    exit
}
