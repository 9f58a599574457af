//! The real program as a process of its own, on the real clock, while alarms climb the ladder: killed again and again
//! ([`kills`]), before gateways that misbehave ([`gateways`]), and watched over ([`watched`]). One binary, so that both wait at the same time.

#![allow(clippy::unwrap_used, reason = "helpers of tests are tests")]

// The benchmark's, which use more of them.
#[allow(dead_code)]
#[path = "../../src/bench/child.rs"]
mod child;
#[allow(dead_code)]
#[path = "../../src/bench/home.rs"]
mod home;

mod canaries;
mod climbing;
mod gateways;
mod kills;
mod watched;
