//! Reads what is asked about staff: who is let in, who is signed off. People are picked, never typed.

use super::Given;
use crate::refusal::Refusal;
use crate::request::Request;

pub(crate) fn agency(given: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::Agency {
        person: given.must_person("person")?,
        chat_roles: given.chat_roles("person"),
        stand: must_choose!(given, "role", crate::choice::Stand)?,
        until: given.must("until")?,
        unit: given.word("unit")?,
    })
}

pub(crate) fn sign_off(given: &Given<'_>) -> Result<Request, Refusal> {
    // Alone it asks for all there are.
    if given.0.is_empty() {
        return Ok(Request::SignOffs);
    }
    Ok(Request::SignOff {
        person: given.must_person("person")?,
        task: must_choose!(given, "task", crate::choice::Task)?,
        profile: given.must("profile")?,
        renew: given.word("renew")?,
    })
}

pub(crate) fn team(given: &Given<'_>) -> Result<Request, Refusal> {
    Ok(Request::Team {
        person: given.person("person")?,
    })
}
