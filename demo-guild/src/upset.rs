//! What a test does to the bot's connection: faults of requests, closes, silence, repeats.

use std::net::SocketAddr;
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

    /// Drops every gateway connection without saying goodbye, as a network does that fails; how many there were.
    pub fn drop_gateway(&self) -> usize {
        self.hub.sessions.order(&Order::Drop)
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

    /// Lets every new connection to the gateway wait before it says anything, or ends that: what is said meanwhile is surely
    /// said while the bot is away, however quickly it comes back.
    pub fn hold_off(&self, held_off: bool) {
        self.hub.held_off.send_replace(held_off);
    }

    /// Tells clients of a gateway at that address, where there is none, or of the right one again.
    pub fn lead_astray(&self, to: Option<SocketAddr>) {
        self.hub.lead_astray(to);
    }

    /// Lets clients begin only so many new sessions until the day is over.
    pub fn leave_sessions(&self, left: u64) {
        self.hub.sessions_left.store(left, Ordering::Relaxed);
    }

    /// The next `n` interactions are told to the bot twice.
    pub fn tell_twice(&self, n: usize) {
        self.hub.twice.store(n, Ordering::Relaxed);
    }

    /// The next `n` interactions are told as of a kind that there is not, so that no library can read them.
    pub fn tell_unreadable(&self, n: usize) {
        self.hub.unreadable.store(n, Ordering::Relaxed);
    }

    fn order(&self, text: &str) -> usize {
        self.hub
            .sessions
            .order(&Order::Send(text.to_owned().into()))
    }
}
