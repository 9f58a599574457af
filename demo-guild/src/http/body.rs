//! Reads a request's body: JSON, or a form of `payload_json` and `files[n]`.
//!
//! Decides what is too large; what the JSON says is checked elsewhere.

use axum::body::to_bytes;
use axum::extract::{FromRequest, Multipart, Request};
use axum::http::header::CONTENT_TYPE;
use bytes::Bytes;
use serde_json::Value;

use crate::limits::What;
use crate::problem::{self, Problem};

/// All of one request: what its files may hold together, and some room for the rest.
const MOST_BYTES: usize = What::Upload.most() * 3;

/// One file sent along.
#[derive(Clone, Debug)]
pub struct File {
    /// Its number in `files[n]`, by which the message names it.
    pub place: Option<u64>,
    /// Its name.
    pub name: String,
    /// What it says it holds.
    pub content_type: Option<String>,
    /// Its bytes.
    pub bytes: Bytes,
}

/// A body.
#[derive(Clone, Debug, Default)]
pub struct Body {
    /// The JSON; null where the body is empty.
    pub json: Value,
    /// The files.
    pub files: Vec<File>,
}

/// Reads it.
///
/// # Errors
/// 50109 where it is no JSON, 40005 where a file is too large, 50035 where there are too many.
pub async fn read(request: Request) -> Result<Body, Problem> {
    let kind = request
        .headers()
        .get(CONTENT_TYPE)
        .and_then(|v| v.to_str().ok())
        .unwrap_or("");
    if kind.starts_with("multipart/form-data") {
        return parts(request).await;
    }
    let bytes = to_bytes(request.into_body(), MOST_BYTES)
        .await
        .map_err(|_| problem::TOO_LARGE)?;
    if bytes.is_empty() {
        return Ok(Body::default());
    }
    let json = serde_json::from_slice(&bytes).map_err(|_| problem::INVALID_JSON)?;
    Ok(Body {
        json,
        files: Vec::new(),
    })
}

async fn parts(request: Request) -> Result<Body, Problem> {
    let mut parts = Multipart::from_request(request, &())
        .await
        .map_err(|_| problem::INVALID_JSON)?;
    let mut body = Body::default();
    while let Some(part) = parts.next_field().await.map_err(|_| problem::TOO_LARGE)? {
        let field = part.name().unwrap_or("").to_owned();
        let name = part.file_name().map(str::to_owned);
        let content_type = part.content_type().map(str::to_owned);
        let bytes = part.bytes().await.map_err(|_| problem::TOO_LARGE)?;
        if field == "payload_json" {
            body.json = serde_json::from_slice(&bytes).map_err(|_| problem::INVALID_JSON)?;
        } else if field.starts_with("file") {
            if bytes.len() > What::Upload.most() {
                return Err(problem::TOO_LARGE);
            }
            let name = name.unwrap_or_else(|| field.clone());
            let place = field.strip_prefix("files[");
            let place = place.and_then(|rest| rest.strip_suffix(']')?.parse().ok());
            body.files.push(File {
                place,
                name,
                content_type,
                bytes,
            });
        }
    }
    let mut faulty = problem::Faulty::default();
    faulty.key("files", |f| {
        crate::check::length(f, body.files.len(), What::Files)
    });
    faulty.done()?;
    Ok(body)
}
