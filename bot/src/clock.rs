//! The only file that reads a clock. Decides what time it is: facility time, which a demo or a test
//! may stop, speed up or step, and transport time, which judges ages, waits and rates and never
//! jumps. Leaves what is due at a moment to `commands`.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, OnceLock, PoisonError};
use std::time::Duration;

use chrono::{DateTime, TimeDelta, Utc};
use commands::ids::Guild;

/// How far wall and monotonic time may part within a second before it is called a step.
const STEP_TOLERANCE: Duration = Duration::from_secs(2);
/// How often the wall clock is compared with the monotonic one.
const WATCH_EVERY: Duration = Duration::from_secs(1);
/// How long a stepped clock waits, in real time, for a desk to do what is due.
const DESK_PATIENCE: Duration = Duration::from_secs(8);

/// Called when the clock was stepped or its rate changed.
pub type Wake = Box<dyn Fn() + Send + Sync>;

/// Facility time.
pub trait Clock: Send + Sync {
    /// Facility time now.
    fn now(&self) -> DateTime<Utc>;
    /// How long to wait in real time until facility time `at`; [`Duration::MAX`] while stopped.
    fn real_until(&self, at: DateTime<Utc>) -> Duration;
    /// Calls `wake` whenever a wait computed before may be wrong.
    fn subscribe(&self, wake: Wake);
    /// How far facility time was stepped since the program started, all steps together: below 0 if it was set back. One
    /// that is stepped on purpose, stopping wherever something is due, was not.
    fn stepped(&self) -> TimeDelta {
        TimeDelta::zero()
    }
    /// This desk has done all that was due and looks again at this moment.
    fn armed(&self, desk: Guild, next: Option<DateTime<Utc>>);
    /// This desk has something on its way to the chat, or no more: a clock that is stepped waits for it, so that what
    /// is due arrives at its minute. Said before [`Clock::armed`].
    fn sending(&self, _desk: Guild, _on: bool) {}
}

/// One reading of all three times.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Moment {
    /// Facility time.
    pub facility: DateTime<Utc>,
    /// The computer's time, for ages that outlive the program.
    pub wall: DateTime<Utc>,
    /// Time since the program started; never jumps.
    pub mono: Duration,
    /// How far facility time was stepped since then.
    pub stepped: TimeDelta,
}

/// Reads all three times.
pub fn moment(clock: &dyn Clock) -> Moment {
    Moment {
        facility: clock.now(),
        wall: wall(),
        mono: mono(),
        stepped: clock.stepped(),
    }
}

/// The computer's own idea of the time, in whole milliseconds, which is what the files keep.
#[expect(
    clippy::disallowed_methods,
    reason = "this file is where clocks are read"
)]
pub fn wall() -> DateTime<Utc> {
    whole_ms(std::time::SystemTime::now().into())
}

fn whole_ms(at: DateTime<Utc>) -> DateTime<Utc> {
    DateTime::from_timestamp_millis(at.timestamp_millis()).unwrap_or(at)
}

/// Time since the program first asked; never jumps.
#[expect(
    clippy::disallowed_methods,
    reason = "this file is where clocks are read"
)]
pub fn mono() -> Duration {
    static START: OnceLock<std::time::Instant> = OnceLock::new();
    START.get_or_init(std::time::Instant::now).elapsed()
}

fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Facility time is the computer's time.
pub struct WallClock {
    wakes: Mutex<Vec<Wake>>,
    watch: Mutex<Watch>,
}

/// Steps of the computer's clock.
struct Watch {
    /// How far it was ahead of the steady one when it was last looked at.
    offset: TimeDelta,
    /// All of them together.
    stepped: TimeDelta,
}

impl Watch {
    /// Looks again. Returns the step since the last look, if there was one.
    fn look(&mut self, offset: TimeDelta) -> Option<TimeDelta> {
        let step = offset - self.offset;
        self.offset = offset;
        // Less is how clocks are set right without a step, or the time between two readings.
        let stepped = step.abs().to_std().unwrap_or_default() > STEP_TOLERANCE;
        stepped.then(|| {
            self.stepped += step;
            step
        })
    }
}

impl WallClock {
    /// Starts watching for steps of the computer's clock. The watcher ends with the last handle.
    ///
    /// # Errors
    /// When no thread can be had.
    pub fn start() -> std::io::Result<Arc<Self>> {
        let clock = Arc::new(Self {
            wakes: Mutex::default(),
            watch: Mutex::new(Watch {
                offset: offset(),
                stepped: TimeDelta::zero(),
            }),
        });
        let watched = Arc::downgrade(&clock);
        std::thread::Builder::new()
            .name("clock".into())
            .stack_size(64 << 10)
            .spawn(move || {
                loop {
                    std::thread::sleep(WATCH_EVERY);
                    let Some(clock) = watched.upgrade() else {
                        return;
                    };
                    clock.look();
                }
            })?;
        Ok(clock)
    }

    /// Looks whether the computer's clock was stepped, and wakes everybody if it was.
    fn look(&self) {
        let Some(step) = locked(&self.watch).look(offset()) else {
            return;
        };
        tracing::warn!(
            step_ms = step.num_milliseconds(),
            "the computer's clock was stepped"
        );
        locked(&self.wakes).iter().for_each(|wake| wake());
    }
}

/// How far the wall clock is ahead of the monotonic one.
fn offset() -> TimeDelta {
    TimeDelta::milliseconds(wall().timestamp_millis() - mono().as_millis() as i64)
}

impl Clock for WallClock {
    fn now(&self) -> DateTime<Utc> {
        // No time after a step is told before the step is.
        self.look();
        wall()
    }

    fn stepped(&self) -> TimeDelta {
        locked(&self.watch).stepped
    }

    fn real_until(&self, at: DateTime<Utc>) -> Duration {
        (at - wall()).to_std().unwrap_or_default()
    }

    fn subscribe(&self, wake: Wake) {
        locked(&self.wakes).push(wake);
    }

    fn armed(&self, _desk: Guild, _next: Option<DateTime<Utc>>) {}
}

/// Facility time that is stopped, run at any rate, or stepped.
pub struct SteppedClock {
    inner: Mutex<Stepped>,
    armed: Condvar,
    wakes: Mutex<Vec<Wake>>,
    /// Held through a whole step, so that two of them do not interleave.
    stepping: Mutex<()>,
}

struct Stepped {
    /// Facility time at `since`.
    at: DateTime<Utc>,
    since: Duration,
    /// Facility seconds a real second; 0 while stopped.
    rate: f64,
    desks: BTreeMap<Guild, Option<DateTime<Utc>>>,
    sending: BTreeSet<Guild>,
    /// Since when something is on its way without a break.
    sending_since: Option<Duration>,
    /// Whether it is being stepped.
    stepping: bool,
}

/// So many seconds of facility time pass at the clock's own rate while messages are on their way. After that it runs no faster
/// than the steady one: what is called every few minutes would else be called sooner than a chat takes it, for ever. Short
/// enough that a handover is read before its shift ends.
const AHEAD_OF_CHAT: f64 = 600.0;

impl Stepped {
    fn now(&self) -> DateTime<Utc> {
        let whole = (mono() - self.since).as_secs_f64();
        let slow = self.sending_for().min(whole);
        let passed = (whole - slow) * self.rate + self.passed_sending(slow);
        self.at + TimeDelta::milliseconds((passed * 1_000.0) as i64)
    }

    /// For how many real seconds something has been on its way, of those since the clock was set.
    fn sending_for(&self) -> f64 {
        self.sending_since.map_or(0.0, |from| {
            mono().saturating_sub(from.max(self.since)).as_secs_f64()
        })
    }

    /// The rate while something has been on its way for long.
    fn held_rate(&self) -> f64 {
        self.rate.min(1.0)
    }

    /// How much facility time passes in so many real seconds while something is on its way.
    fn passed_sending(&self, real: f64) -> f64 {
        let free = real * self.rate;
        if free <= AHEAD_OF_CHAT || self.rate <= 1.0 {
            return free;
        }
        AHEAD_OF_CHAT + (real - AHEAD_OF_CHAT / self.rate) * self.held_rate()
    }

    /// How many real seconds it takes for so much facility time to pass, if nothing changes.
    fn real(&self, left: f64) -> f64 {
        if self.sending_since.is_none() || self.rate <= 1.0 {
            return left / self.rate;
        }
        let used = self.sending_for() * self.rate;
        let free = (AHEAD_OF_CHAT - used).clamp(0.0, left);
        free / self.rate + (left - free) / self.held_rate()
    }

    /// Whether less time passes than was asked for, because something is on its way.
    fn held(&self) -> bool {
        let long = self.rate > 1.0 && self.sending_for() * self.rate > AHEAD_OF_CHAT;
        !self.sending.is_empty() && (self.stepping || long)
    }

    fn set(&mut self, at: DateTime<Utc>) {
        self.at = at;
        self.since = mono();
    }

    /// The earliest moment up to `until` at which a desk that is not given up on has something to do.
    fn next(&self, until: DateTime<Utc>, given_up: &[Guild]) -> Option<DateTime<Utc>> {
        let desks = self
            .desks
            .iter()
            .filter(|(desk, _)| !given_up.contains(desk));
        desks
            .filter_map(|(_, next)| *next)
            .filter(|next| *next <= until)
            .min()
    }

    fn late(&self, now: DateTime<Utc>) -> Vec<Guild> {
        let late = self.desks.iter().filter(|(desk, next)| {
            self.sending.contains(desk) || next.is_some_and(|next| next <= now)
        });
        late.map(|(desk, _)| *desk).collect()
    }
}

impl SteppedClock {
    /// A stopped clock that shows `at`.
    pub fn stopped_at(at: DateTime<Utc>) -> Arc<Self> {
        let inner = Stepped {
            at: whole_ms(at),
            since: mono(),
            rate: 0.0,
            desks: BTreeMap::new(),
            sending: BTreeSet::new(),
            sending_since: None,
            stepping: false,
        };
        Arc::new(Self {
            inner: Mutex::new(inner),
            armed: Condvar::new(),
            wakes: Mutex::default(),
            stepping: Mutex::default(),
        })
    }

    /// Lets it run at this many facility seconds a real second; 0 stops it.
    pub fn run(&self, rate: f64) {
        {
            let mut inner = locked(&self.inner);
            let now = inner.now();
            inner.set(now);
            inner.rate = rate.max(0.0);
        }
        self.wake();
    }

    /// Facility seconds a real second; 0 while stopped.
    pub fn rate(&self) -> f64 {
        locked(&self.inner).rate
    }

    /// Whether less time passes than was asked for, because messages are on their way: a clock that is run fast, or stepped,
    /// leaves the chat the time that it takes.
    pub fn held(&self) -> bool {
        locked(&self.inner).held()
    }

    /// Steps forward to `at`, stopping at every moment on the way at which a desk has something to do,
    /// until it has done it or some real seconds have passed: more than the platform makes a full channel wait. Then the clock runs on as before.
    /// A moment in the past is not stepped to.
    pub fn step_to(&self, at: DateTime<Utc>) {
        let at = whole_ms(at);
        let _one_at_a_time = locked(&self.stepping);
        let rate = {
            let mut inner = locked(&self.inner);
            let now = inner.now();
            inner.set(now);
            inner.stepping = true;
            std::mem::take(&mut inner.rate)
        };
        let mut given_up = Vec::new();
        loop {
            let mut inner = locked(&self.inner);
            let now = inner.at;
            let Some(next) = inner.next(at, &given_up) else {
                inner.set(now.max(at));
                break;
            };
            inner.set(now.max(next));
            let shown = inner.at;
            drop(inner);
            self.wake();
            given_up.extend(self.wait_for_desks(shown, &given_up));
        }
        {
            let mut inner = locked(&self.inner);
            let shown = inner.at;
            inner.set(shown);
            inner.stepping = false;
            inner.rate = rate;
        }
        self.wake();
    }

    /// Waits until no desk has anything to do at `now`; returns those that did not get there.
    fn wait_for_desks(&self, now: DateTime<Utc>, given_up: &[Guild]) -> Vec<Guild> {
        let busy = |inner: &mut Stepped| inner.late(now).iter().any(|d| !given_up.contains(d));
        let (inner, _) = self
            .armed
            .wait_timeout_while(locked(&self.inner), DESK_PATIENCE, busy)
            .unwrap_or_else(PoisonError::into_inner);
        inner.late(now)
    }

    fn wake(&self) {
        locked(&self.wakes).iter().for_each(|wake| wake());
    }
}

impl Clock for SteppedClock {
    fn now(&self) -> DateTime<Utc> {
        locked(&self.inner).now()
    }

    fn real_until(&self, at: DateTime<Utc>) -> Duration {
        let inner = locked(&self.inner);
        let left = (at - inner.now()).to_std().unwrap_or_default();
        if left.is_zero() {
            Duration::ZERO
        } else if inner.rate > 0.0 {
            Duration::try_from_secs_f64(inner.real(left.as_secs_f64())).unwrap_or(Duration::MAX)
        } else {
            Duration::MAX
        }
    }

    fn subscribe(&self, wake: Wake) {
        locked(&self.wakes).push(wake);
    }

    fn sending(&self, desk: Guild, on: bool) {
        let mut inner = locked(&self.inner);
        let before = inner.sending.is_empty();
        if on {
            inner.sending.insert(desk);
        } else {
            inner.sending.remove(&desk);
        }
        let after = inner.sending.is_empty();
        if before == after {
            return;
        }
        // What passed so far passed as it was then.
        let now = inner.now();
        let quick = !inner.held();
        inner.set(now);
        inner.sending_since = (!after).then(mono);
        drop(inner);
        // It runs on: whoever waits waits less.
        if after && !quick {
            self.wake();
        }
    }

    fn armed(&self, desk: Guild, next: Option<DateTime<Utc>>) {
        locked(&self.inner).desks.insert(desk, next);
        self.armed.notify_all();
    }
}

/// How old an interaction is on arrival, whatever the computer's clock says: against the smallest
/// difference seen lately between the moment in the platform's own numbers and our steady time.
#[derive(Clone, Debug, Default)]
pub struct Ages {
    before: Option<i64>,
    current: Option<i64>,
    began: Duration,
    last: Duration,
}

impl Ages {
    /// Clocks drift apart by seconds a day, and one that is set right is made to run faster for a while, so that a smallest
    /// difference is not kept for ever: once there are newer ones for this long, they count alone.
    const WINDOW: Duration = Duration::from_secs(600);
    /// While nothing arrives the difference may have grown by one part in so many: a millisecond in ten seconds, 2.9 s in a night of
    /// eight hours. That is twice what the crystals of computers are made to (50 parts in a million; common practice). Less, and
    /// after a quiet weekend the first thing said is taken for old; more, and what a connection that was gone brings late, and is
    /// entered once more meanwhile, is taken for new.
    const DRIFT: i64 = 10_000;
    /// The platform counts milliseconds from the first moment of 2015.
    const EPOCH_MS: i64 = 1_420_070_400_000;

    /// The moment in a platform number, in milliseconds since 1970.
    pub fn made_ms(snowflake: u64) -> i64 {
        (snowflake >> 22) as i64 + Self::EPOCH_MS
    }

    /// The age of what carries this number, arriving at `now`.
    pub fn age(&mut self, snowflake: u64, now: Duration) -> Duration {
        let offset = now.as_millis() as i64 - Self::made_ms(snowflake);
        if now.saturating_sub(self.began) > Self::WINDOW {
            // A smaller difference than before needs no allowance: it is the new smallest.
            let quiet = now.saturating_sub(self.last).as_millis() as i64;
            let least = self.current.take();
            self.before = least.map(|least| least + quiet / Self::DRIFT);
            self.began = now;
        }
        self.last = now;
        self.current = Some(self.current.map_or(offset, |least| least.min(offset)));
        let least = [self.before, self.current]
            .into_iter()
            .flatten()
            .min()
            .unwrap_or(offset);
        Duration::from_millis(offset.saturating_sub(least).max(0) as u64)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicUsize, Ordering};

    fn at(seconds: i64) -> DateTime<Utc> {
        DateTime::from_timestamp(1_800_000_000 + seconds, 0).unwrap()
    }

    #[test]
    fn a_stopped_clock_stands_and_a_running_one_waits_less() {
        let clock = SteppedClock::stopped_at(at(0));
        assert_eq!(clock.now(), at(0));
        assert_eq!(clock.real_until(at(60)), Duration::MAX);
        clock.run(60.0);
        let wait = clock.real_until(at(60));
        assert!(
            wait <= Duration::from_secs(1) && wait > Duration::from_millis(500),
            "{wait:?}"
        );
        assert_eq!(clock.real_until(at(-1)), Duration::ZERO);
    }

    #[test]
    fn a_step_visits_what_is_due_on_the_way() {
        let clock = SteppedClock::stopped_at(at(0));
        let desk = Guild(1);
        let seen = Arc::new(Mutex::new(Vec::new()));
        let (woken, wakes) = std::sync::mpsc::channel();
        clock.subscribe(Box::new(move || woken.send(()).unwrap()));
        clock.armed(desk, Some(at(10)));
        let worker = {
            let (clock, seen) = (clock.clone(), seen.clone());
            std::thread::spawn(move || {
                while seen.lock().unwrap().len() < 3 {
                    wakes.recv().unwrap();
                    let now = clock.now();
                    if now.timestamp() % 10 == 0 && now > at(0) {
                        let mut seen = seen.lock().unwrap();
                        if seen.last() != Some(&now) {
                            seen.push(now);
                        }
                        clock.armed(desk, Some(now + TimeDelta::seconds(10)));
                    }
                }
                clock.armed(desk, None);
                wakes
            })
        };
        clock.step_to(at(35));
        let _wakes = worker.join().unwrap();
        assert_eq!(*seen.lock().unwrap(), [at(10), at(20), at(30)]);
        assert_eq!(clock.now(), at(35));
    }

    /// Run fast, and a message that takes its time: ten minutes pass, and then no more than by the steady clock, until it has
    /// arrived. Nothing goes back.
    #[test]
    fn a_clock_that_is_run_fast_leaves_the_chat_its_time() {
        let clock = SteppedClock::stopped_at(at(0));
        let desk = Guild(1);
        clock.run(6_000.0);
        clock.sending(desk, true);
        std::thread::sleep(Duration::from_millis(300));
        let (shown, held) = (clock.now(), clock.held());
        assert!(held && shown >= at(600), "{shown}");
        // Half an hour would have passed; a slow machine may have been at it longer.
        assert!(shown < at(640), "{shown}");
        let wait = clock.real_until(shown + TimeDelta::seconds(5));
        assert!(wait > Duration::from_secs(3), "{wait:?}");
        clock.sending(desk, false);
        assert!(!clock.held() && clock.now() >= shown);
        let wait = clock.real_until(clock.now() + TimeDelta::seconds(6_000));
        assert!(wait <= Duration::from_secs(1), "{wait:?}");
    }

    #[test]
    fn a_desk_that_does_nothing_does_not_hold_the_clock_for_ever() {
        let clock = SteppedClock::stopped_at(at(0));
        let wakes = Arc::new(AtomicUsize::new(0));
        let counted = wakes.clone();
        clock.subscribe(Box::new(move || {
            counted.fetch_add(1, Ordering::Relaxed);
        }));
        clock.armed(Guild(1), Some(at(5)));
        clock.step_to(at(10));
        assert_eq!(clock.now(), at(10));
        assert!(wakes.load(Ordering::Relaxed) >= 2);
    }

    #[test]
    fn age_is_judged_against_the_quickest_arrival_whatever_the_clock_says() {
        let made = |ms: u64| ms << 22;
        let mut ages = Ages::default();
        // Our clock may be any distance away: only the differences count.
        assert_eq!(
            ages.age(made(1_000), Duration::from_millis(50_000)),
            Duration::ZERO
        );
        assert_eq!(
            ages.age(made(2_000), Duration::from_millis(51_040)),
            Duration::from_millis(40)
        );
        assert_eq!(
            ages.age(made(3_000), Duration::from_millis(54_700)),
            Duration::from_millis(2_700)
        );
        // Ours runs fast by 1 in 500: after two windows the drift is forgotten.
        let (mut now, mut platform) = (54_700.0, 5_700.0);
        for _ in 0..40 {
            now += 60_000.0 * 1.002;
            platform += 60_000.0;
            let age = ages.age(made(platform as u64), Duration::from_millis(now as u64));
            assert!(age < Duration::from_millis(2_500), "{age:?}");
        }
    }

    #[test]
    fn what_comes_late_after_a_quiet_night_is_old_and_what_comes_at_once_is_not() {
        const MOST: Duration = Duration::from_millis(2_500);
        let made = |ms: i64| ((ms + 100_000_000) as u64) << 22;
        let at = |ms: i64| Duration::from_millis(ms as u64);
        for hours in [1, 2, 3, 8, 24] {
            let quiet = hours * 3_600_000;
            // Ours runs fast or slow by as much as crystals do.
            for drift in [quiet / 20_000, 0, -quiet / 20_000] {
                let mut ages = Ages::default();
                ages.age(made(0), at(30));
                // One that comes at once is the first to come, too.
                let mut live = ages.clone();
                let first = live.age(made(quiet), at(quiet + drift + 100));
                assert!(first < MOST, "{hours} h, {drift} ms: {first:?}");
                let mut age = |from: i64, late: i64| {
                    ages.age(made(quiet + from), at(quiet + drift + from + late))
                };
                // The connection brings it once it is there again, and somebody whose app said that it failed enters it anew.
                assert!(age(0, 20_000) > MOST, "{hours} h, {drift} ms");
                assert!(age(21_000, 100) < MOST, "{hours} h, {drift} ms");
            }
        }
    }

    /// However far the clocks have parted while nothing was said, people are heard again soon.
    #[test]
    fn a_difference_that_has_grown_for_good_is_believed_within_a_window() {
        let mut ages = Ages::default();
        let made = |s: u64| (s * 1_000) << 22;
        let mut age = |s: u64, more: u64| ages.age(made(s), Duration::from_secs(s + more));
        assert_eq!(age(0, 0), Duration::ZERO);
        assert!(age(20_000, 60) > Duration::from_secs(50));
        assert!(age(20_500, 60) > Duration::from_secs(50));
        assert_eq!(age(20_601, 60), Duration::ZERO);
    }

    #[test]
    fn only_a_jump_is_a_step() {
        let second = TimeDelta::seconds(1);
        let mut watch = Watch {
            offset: TimeDelta::zero(),
            stepped: TimeDelta::zero(),
        };
        assert_eq!(watch.look(second), None);
        assert_eq!(watch.look(second * -9), Some(second * -10));
        assert_eq!(watch.look(second * -8), None);
        assert_eq!(watch.look(second * 20), Some(second * 28));
        assert_eq!(watch.stepped, second * 18);
    }
}
