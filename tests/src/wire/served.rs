//! A demo guild with the whole bot connected to it in this process, on the real clock. Decides how both are started; what is said
//! to them is the tests'.

use std::time::Duration;

use anyhow::{Result, bail};
use bot::{Running, Settings, Stop, WallClock};
use commands::ids::Guild as Facility;
use demo_guild::{Guild, Layout, Options};
use tempfile::TempDir;

/// How long the bot may take until it is ready.
const PATIENCE: Duration = Duration::from_secs(30);

/// The guild, the bot once it is ready, and the folder with its file.
///
/// # Errors
/// One of them did not start.
pub async fn served(layout: Layout) -> Result<(Guild, Running, TempDir)> {
    let guild = Guild::serve(layout, Options::headless()).await?;
    let folder = tempfile::tempdir()?;
    let served = Some([Facility(guild.guild_id().0)].into());
    let data = folder.path().to_owned();
    let settings = Settings::new(&guild.token(), &guild.url(), data, served)?;
    let running = bot::run(settings, WallClock::start()?, Stop::default())?;
    let ready = move || match running.ready(PATIENCE) {
        Ok(()) => Ok(running),
        Err(exit) => bail!("the bot is not ready: {exit:?}"),
    };
    let running = tokio::task::spawn_blocking(ready).await??;
    Ok((guild, running, folder))
}
