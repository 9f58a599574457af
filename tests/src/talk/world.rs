//! The world of one conversation: the desk over its file, the chat, the clock that is moved by hand, and
//! what goes wrong. Decides when things happen; everything on one thread.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use bot::clock::Moment;
use bot::desk::{Desk, Input, Output};
use bot::event::{Heard, Way};
use bot::register::Catalogue;
use chrono::{DateTime, TimeDelta, Utc};
use commands::ids::{ChatRole, Guild, Person};
use commands::rules::zone::Zone;
use commands::said::FetchFault;
use commands::words::{self, Lang};
use commands::{Ask, Source};
use store::Store;
use tempfile::TempDir;

use super::cast::Cast;
use super::chat::{Chat, US};
use super::disk::{self, Commits, Disk, Mark};
use super::script::Step;
use super::stage::{Kept, Scene, Stage, Thing};

pub(crate) const GUILD: Guild = Guild(77);
const APP: u64 = US;
/// An interaction older than this on arrival is not acted on.
pub(crate) const ACT_WITHIN: Duration = Duration::from_millis(2_500);
/// What the desk wants to do by steady time is waited for this long before the next thing happens.
const PATIENCE: Duration = Duration::from_secs(90);
/// More turns than this between two things that happen mean that it never comes to rest.
const TURNS_MAX: usize = 2_000;
/// The computer's own clock when every conversation begins; it goes its own way.
const WALL_SECONDS: i64 = 1_767_225_600;

/// What goes wrong.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Trouble {
    /// Nothing.
    #[default]
    None,
    /// The program is stopped and started after every step.
    StopEveryStep,
    /// The power fails each time that the chat took something, before the program knows.
    CutEverySend,
    /// The power fails right after the commit of this number, from 1.
    CutCommit(usize),
    /// The power fails after the chat took the request of this number, from 1, before the program knows.
    CutRequest(usize),
}

/// The world.
pub struct World {
    /// Who and what there is.
    pub cast: Cast,
    /// The chat.
    pub chat: Chat,
    /// Cards kept under a name.
    pub kept: BTreeMap<String, Kept>,
    /// What goes wrong.
    pub trouble: Trouble,
    /// How long the program is down after a power cut.
    pub down: Duration,
    /// Commits so far.
    pub commits: usize,
    /// Interactions that nobody answered.
    pub unanswered: Vec<Person>,
    desk: Option<Desk>,
    root: TempDir,
    folder: PathBuf,
    folders: usize,
    catalogue: Arc<Catalogue>,
    facility: DateTime<Utc>,
    mono: Duration,
    mark: Mark,
    cut: bool,
}

impl World {
    /// An empty chat at this moment; the program runs and is set up for nothing.
    ///
    /// # Errors
    /// When there is no room for a file.
    pub fn new(facility: DateTime<Utc>) -> anyhow::Result<Self> {
        let root = scratch()?;
        let folder = root.path().join("0");
        private(&folder)?;
        let mut world = Self {
            cast: Cast::default(),
            chat: Chat::default(),
            kept: BTreeMap::new(),
            trouble: Trouble::None,
            down: Duration::from_millis(200),
            commits: 0,
            unanswered: Vec::new(),
            desk: None,
            root,
            folder,
            folders: 1,
            catalogue: Catalogue::of_table(),
            facility,
            mono: Duration::from_secs(100),
            mark: Mark::default(),
            cut: false,
        };
        world.start()?;
        Ok(world)
    }

    /// The same world once more, its program stopped and started, with `trouble` from here on.
    ///
    /// # Errors
    /// When its file cannot be copied.
    pub fn again(&mut self, trouble: Trouble) -> anyhow::Result<Self> {
        self.stop();
        let root = scratch()?;
        let folder = root.path().join("0");
        private(&folder)?;
        disk::survives(&self.database(), &folder, None)?;
        let mut world = Self {
            cast: self.cast.clone(),
            chat: self.chat.clone(),
            kept: self.kept.clone(),
            trouble: Trouble::None,
            down: self.down,
            commits: 0,
            unanswered: Vec::new(),
            desk: None,
            root,
            folder,
            folders: 1,
            catalogue: self.catalogue.clone(),
            facility: self.facility,
            mono: self.mono,
            mark: Mark::default(),
            cut: false,
        };
        world.start()?;
        world.chat.accepted = 0;
        world.commits = 0;
        world.trouble = trouble;
        Ok(world)
    }

    /// Ends it: its file goes to `folder`, who and what there is goes on.
    ///
    /// # Errors
    /// When the file cannot be copied.
    pub fn leave(mut self, folder: &Path) -> anyhow::Result<(Cast, Chat)> {
        self.stop();
        disk::survives(&self.database(), folder, None)?;
        Ok((self.cast, self.chat))
    }

    /// Facility time.
    pub fn now(&self) -> DateTime<Utc> {
        self.facility
    }

    /// The home's zone; that of all our homes before it is set up.
    pub fn zone(&self) -> Zone {
        let state = self.desk.as_ref().and_then(Desk::state);
        let known = state
            .and_then(|state| state.facility.as_ref())
            .map(|facility| facility.zone.clone());
        known.unwrap_or_else(home_zone)
    }

    /// The present moment by all clocks.
    pub fn moment(&self) -> Moment {
        let wall = DateTime::from_timestamp(WALL_SECONDS, 0).unwrap_or_default()
            + TimeDelta::milliseconds(self.mono.as_millis() as i64);
        Moment {
            facility: self.facility,
            wall,
            mono: self.mono,
            stepped: TimeDelta::zero(),
        }
    }

    /// Whether the program runs.
    pub fn runs(&self) -> bool {
        self.desk.is_some()
    }

    /// The program stops in good order.
    pub fn stop(&mut self) {
        let now = self.moment();
        if let Some(mut desk) = self.desk.take() {
            desk.stop(now);
        }
    }

    /// The power fails: nothing is finished, nothing is said.
    ///
    /// # Errors
    /// When what survives cannot be copied.
    pub fn cut_power(&mut self) -> anyhow::Result<()> {
        self.survive(None)
    }

    /// The program starts.
    ///
    /// # Errors
    /// When its file cannot be used.
    pub fn start(&mut self) -> anyhow::Result<()> {
        let desk = Desk::open(&self.folder, GUILD, self.catalogue.clone(), self.moment())?;
        self.desk = Some(desk);
        self.mark = Commits::of(&self.database()).mark();
        self.turn(vec![joined(&self.cast)])
    }

    /// Time passes up to `until`, and all happens on the way that is due.
    ///
    /// # Errors
    /// When a desk that was cut off cannot be opened again.
    pub fn pass_to(&mut self, until: DateTime<Utc>) -> anyhow::Result<()> {
        anyhow::ensure!(until >= self.facility, "time does not pass backwards");
        let mut turns = 0;
        loop {
            let now = self.moment();
            let next = self.desk.as_ref().and_then(|desk| {
                let all = [desk.next_due(now), desk.next_alive()];
                all.into_iter().flatten().min()
            });
            let Some(next) = next.filter(|next| *next <= until) else {
                break;
            };
            if next <= self.facility {
                turns += 1;
                anyhow::ensure!(turns < 10, "something stays due at {}", self.facility);
            } else {
                turns = 0;
            }
            self.set_clock(next.max(self.facility));
            self.turn(Vec::new())?;
        }
        self.set_clock(until);
        self.turn(Vec::new())
    }

    /// People do things at the same moment. Whoever got no answer because of a power cut tries again.
    ///
    /// # Errors
    /// When a desk that was cut off cannot be opened again.
    pub fn hear(&mut self, things: &[Thing]) -> anyhow::Result<()> {
        self.cut = false;
        let mut left: Vec<&Thing> = things.iter().collect();
        for _try in 0..2 {
            let before = self.chat.messages.len();
            let heard: Vec<(u64, Heard)> = left.iter().map(|thing| self.heard(thing)).collect();
            let ids: Vec<u64> = heard.iter().map(|(id, _)| *id).collect();
            self.turn(
                heard
                    .into_iter()
                    .map(|(_, heard)| Input::Heard(heard))
                    .collect(),
            )?;
            let late = Lang::ALL.map(|lang| words::say(lang, "bot-answer-late", &[]));
            let mut ids = ids.into_iter();
            left.retain(|thing| {
                let id = ids.next().unwrap_or_default();
                let new = &self.chat.messages[before..];
                let to = format!("<@{}>", thing.who);
                let told = new.iter().any(|one| {
                    one.look.text.starts_with(&to)
                        && late.iter().any(|late| one.look.text.contains(late))
                });
                !told && !self.chat.answered(id) && !thing.is_message()
            });
            if !self.cut || left.is_empty() {
                break;
            }
        }
        self.unanswered.extend(left.iter().map(|thing| thing.who));
        Ok(())
    }

    /// The same event comes twice at once, once more later, and once more after a restart.
    ///
    /// # Errors
    /// When the desk cannot be opened again.
    pub fn hear_again_and_again(&mut self, thing: &Thing) -> anyhow::Result<()> {
        let (_, heard) = self.heard(thing);
        self.turn(vec![
            Input::Heard(heard.clone()),
            Input::Heard(heard.clone()),
        ])?;
        let late = |heard: &Heard, mono| {
            Input::Heard(Heard {
                act_by: mono + ACT_WITHIN,
                ..heard.clone()
            })
        };
        self.turn(vec![late(&heard, self.mono)])?;
        self.stop();
        self.start()?;
        self.turn(vec![late(&heard, self.mono)])
    }

    /// An event comes when it is too late to be answered.
    ///
    /// # Errors
    /// When the desk does not come to rest.
    pub fn hear_late(&mut self, thing: &Thing) -> anyhow::Result<()> {
        let (_, heard) = self.heard(thing);
        self.mono += ACT_WITHIN * 2;
        self.turn(vec![Input::Heard(heard)])
    }

    /// The disk takes nothing any more, or takes again.
    ///
    /// # Errors
    /// When the file cannot be reached.
    pub fn disk_becomes(&mut self, disk: Disk) -> anyhow::Result<()> {
        disk::becomes(&self.database(), disk)
    }

    /// The newest record's number.
    pub fn head(&self) -> u64 {
        let state = self.desk.as_ref().and_then(Desk::state);
        state.map_or(0, |state| state.next_no().0 - 1)
    }

    /// Stops the program and checks its whole file.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn verify(&mut self) -> anyhow::Result<()> {
        self.stop();
        let store = Store::open(&self.folder, GUILD)?;
        store
            .verify()
            .map_err(|trouble| anyhow::anyhow!("the file does not hold together: {trouble:?}"))?;
        Ok(())
    }

    fn heard(&mut self, thing: &Thing) -> (u64, Heard) {
        let now = self.moment();
        heard(&self.cast, &mut self.chat, thing, now, now)
    }

    /// Steps the desk until it rests.
    fn turn(&mut self, mut inputs: Vec<Input>) -> anyhow::Result<()> {
        for _turn in 0..TURNS_MAX {
            let now = self.moment();
            let Some(desk) = &mut self.desk else {
                return Ok(());
            };
            let out = desk.step(std::mem::take(&mut inputs), now);
            if let Some(end) = self.cut_at_commit() {
                self.survive(Some(end))?;
                inputs = self.restart()?;
                continue;
            }
            let (outcomes, cut) = self.carry(out);
            if cut {
                self.survive(None)?;
                inputs = self.restart()?;
                continue;
            }
            inputs = outcomes;
            if !inputs.is_empty() {
                continue;
            }
            let next = self.desk.as_ref().and_then(Desk::next_try);
            match next.filter(|at| *at <= self.mono + PATIENCE) {
                Some(at) => self.mono = self.mono.max(at),
                None => return Ok(()),
            }
        }
        anyhow::bail!("the desk does not come to rest")
    }

    /// Carries what the desk asks for. Returns what became of it, and whether the power failed.
    fn carry(&mut self, out: Vec<Output>) -> (Vec<Input>, bool) {
        let mut inputs = Vec::new();
        let mut changed = false;
        let mut fetches = false;
        for output in out {
            match output {
                Output::Send { tag, request } => {
                    let (outcome, change) = self.chat.carry(&request, self.moment());
                    changed |= change;
                    inputs.push(Input::Came { tag, outcome });
                    if self.trouble == Trouble::CutRequest(self.chat.accepted) {
                        self.trouble = Trouble::None;
                        return (Vec::new(), true);
                    }
                }
                Output::Fetch { heard, file, first } => {
                    self.chat.carry(&first, self.moment());
                    if self.trouble == Trouble::CutRequest(self.chat.accepted) {
                        self.trouble = Trouble::None;
                        return (Vec::new(), true);
                    }
                    let bytes = self
                        .cast
                        .files
                        .get(&file.name)
                        .cloned()
                        .ok_or(FetchFault::Unavailable);
                    inputs.push(Input::Fetched { heard, file: bytes });
                    fetches = true;
                }
                Output::Registered => {}
            }
        }
        let cut = self.trouble == Trouble::CutEverySend && changed && !fetches;
        (inputs, cut)
    }

    /// Whether the power fails at a commit of this step; where the log then ends.
    fn cut_at_commit(&mut self) -> Option<usize> {
        let commits = Commits::of(&self.database());
        let new = commits.since(self.mark).to_vec();
        let before = self.commits;
        self.commits += new.len();
        self.mark = commits.mark();
        let Trouble::CutCommit(wanted) = self.trouble else {
            return None;
        };
        let end = *new.get(wanted.checked_sub(before + 1)?)?;
        self.trouble = Trouble::None;
        Some(end)
    }

    fn survive(&mut self, end: Option<usize>) -> anyhow::Result<()> {
        let folder = self.root.path().join(self.folders.to_string());
        self.folders += 1;
        private(&folder)?;
        disk::survives(&self.database(), &folder, end)?;
        self.desk = None;
        std::fs::remove_dir_all(&self.folder)?;
        self.folder = folder;
        self.cut = true;
        Ok(())
    }

    fn restart(&mut self) -> anyhow::Result<Vec<Input>> {
        self.mono += self.down;
        self.desk = Some(Desk::open(
            &self.folder,
            GUILD,
            self.catalogue.clone(),
            self.moment(),
        )?);
        self.mark = Commits::of(&self.database()).mark();
        Ok(vec![joined(&self.cast)])
    }

    fn set_clock(&mut self, at: DateTime<Utc>) {
        self.mono += (at - self.facility).to_std().unwrap_or_default();
        self.facility = at;
    }

    fn database(&self) -> PathBuf {
        self.folder.join(format!("{GUILD}.loft"))
    }
}

impl Stage for World {
    fn scene(&mut self) -> Scene<'_> {
        Scene {
            cast: &mut self.cast,
            chat: &mut self.chat,
            kept: &mut self.kept,
        }
    }

    fn now(&self) -> DateTime<Utc> {
        World::now(self)
    }

    fn zone(&self) -> Zone {
        World::zone(self)
    }

    fn pass_to(&mut self, until: DateTime<Utc>) -> anyhow::Result<()> {
        World::pass_to(self, until)
    }

    fn hear(&mut self, things: &[Thing]) -> anyhow::Result<()> {
        World::hear(self, things)
    }

    fn cast_changed(&mut self) -> anyhow::Result<()> {
        Ok(())
    }

    fn role_deleted(&mut self, role: ChatRole) -> anyhow::Result<()> {
        self.chat.role_gone(role.0);
        self.turn(vec![Input::RoleGone(role)])
    }

    fn stop(&mut self) -> anyhow::Result<()> {
        World::stop(self);
        Ok(())
    }

    fn start(&mut self) -> anyhow::Result<()> {
        World::start(self)
    }

    fn cut_power(&mut self) -> anyhow::Result<()> {
        World::cut_power(self)
    }

    fn disk_becomes(&mut self, disk: Disk) -> anyhow::Result<()> {
        World::disk_becomes(self, disk)
    }

    fn settle(&mut self, _step: &Step, _timed: bool) -> anyhow::Result<()> {
        if self.trouble == Trouble::StopEveryStep && self.runs() {
            World::stop(self);
            World::start(self)?;
        }
        Ok(())
    }

    fn unanswered(&mut self) -> Vec<Person> {
        std::mem::take(&mut self.unanswered)
    }
}

/// What the chat makes of something that a person does: `there` is the moment by its clocks, `now` by ours.
pub(crate) fn heard(
    cast: &Cast,
    chat: &mut Chat,
    thing: &Thing,
    there: Moment,
    now: Moment,
) -> (u64, Heard) {
    let (id, source, way) = if thing.is_message() {
        let id = chat.says(thing.who.0, there);
        (id, Source::message(id), Way::Message { id })
    } else {
        let (id, token) = chat.interaction(thing.who.0, thing.channel.0, thing.on, there);
        let way = Way::Interaction {
            id,
            token,
            on_message: thing.on,
            public: thing.on.is_some_and(|on| chat.is_public(on)),
            deferred: false,
        };
        (id, Source::interaction(id), way)
    };
    let member = cast.person_of(thing.who);
    let ask = Ask {
        source,
        who: thing.who,
        chat_roles: member
            .map(|member| member.roles.clone())
            .unwrap_or_default(),
        // A message does not say so.
        manages: !thing.is_message() && member.is_some_and(|member| member.manages),
        deleted: Vec::new(),
        channel: thing.channel,
        lang: member.map(|member| member.lang).unwrap_or_default(),
        at: now.facility,
    };
    let heard = Heard {
        ask,
        said: thing.said.clone(),
        way,
        act_by: now.mono + ACT_WITHIN,
    };
    (id, heard)
}

/// Where all our homes are.
pub fn home_zone() -> Zone {
    Zone::parse("America/Chicago").unwrap_or_else(|_| Zone::utc())
}

pub(crate) fn joined(cast: &Cast) -> Input {
    let roles = Cast::roles().map(|(_, role)| role);
    Input::Joined {
        app: APP,
        us: US,
        roles: roles.filter(|role| !cast.deleted.contains(role)).collect(),
    }
}

/// Memory serves as disk where there is some: a crash is made by hand here, and syncing costs nothing.
pub(crate) fn scratch() -> std::io::Result<TempDir> {
    let memory = Path::new("/dev/shm");
    if memory.is_dir() {
        TempDir::new_in(memory).or_else(|_| TempDir::new())
    } else {
        TempDir::new()
    }
}

/// Makes a folder that only its owner may look into.
pub(crate) fn private(folder: &Path) -> std::io::Result<()> {
    use std::os::unix::fs::DirBuilderExt;
    std::fs::DirBuilder::new().mode(0o700).create(folder)
}
