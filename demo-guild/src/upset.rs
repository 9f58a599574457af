//! What a test does to the bot's connection: faults of requests, closes, silence, repeats.

use std::sync::atomic::Ordering;

use crate::faults::Faults;
use crate::guild::Guild;
use crate::sessions::Order;

impl Guild {
    /// Faults of HTTP requests.
    pub fn faults(&self) -> Faults {
        self.hub.faults.clone()
    }

    /// Closes every gateway connection, with that code or none; how many there were.
    pub fn close_gateway(&self, code: Option<u16>) -> usize {
        self.hub.sessions.order(&Order::Close(code))
    }

    /// Asks every gateway connection to reconnect (op 7).
    pub fn ask_to_reconnect(&self) -> usize {
        self.order(r#"{"op":7,"d":null,"s":null,"t":null}"#)
    }

    /// Calls every session invalid (op 9). Those that cannot be resumed are forgotten.
    pub fn invalidate_sessions(&self, resumable: bool) -> usize {
        let told = self.order(&format!(r#"{{"op":9,"d":{resumable},"s":null,"t":null}}"#));
        if !resumable {
            self.hub.sessions.forget();
            self.hub.bot_changed();
        }
        told
    }

    /// Makes the gateway neither send nor listen while its connections stay open, or ends that.
    /// Events meanwhile wait for a resumption.
    pub fn go_silent(&self, silent: bool) {
        self.hub.silent.store(silent, Ordering::Relaxed);
    }

    /// Tells clients of a gateway where nobody listens, or of the right one again.
    pub fn lead_astray(&self, astray: bool) {
        self.hub.astray.store(astray, Ordering::Relaxed);
    }

    /// Lets clients begin only so many new sessions until the day is over.
    pub fn leave_sessions(&self, left: u64) {
        self.hub.sessions_left.store(left, Ordering::Relaxed);
    }

    /// The next `n` interactions are told to the bot twice.
    pub fn tell_twice(&self, n: usize) {
        self.hub.twice.store(n, Ordering::Relaxed);
    }

    fn order(&self, text: &str) -> usize {
        self.hub
            .sessions
            .order(&Order::Send(text.to_owned().into()))
    }
}
