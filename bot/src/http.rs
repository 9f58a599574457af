//! Our own pooled connections to the chat service. Decides timeouts, what may be fetched from where,
//! and what an answer means; leaves the order of requests to [`crate::courier`]. No error here carries
//! an address, a body or a secret.

use std::collections::BTreeMap;
use std::fmt;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Duration;

use bytes::Bytes;
use chrono::{DateTime, TimeDelta};
use commands::ids::{Channel, Guild};
use commands::said::{FetchFault, FileRef};
use http_body_util::{BodyExt, Full, Limited};
use hyper::header::{AUTHORIZATION, CONTENT_TYPE, HeaderValue, USER_AGENT};
use hyper::{HeaderMap, Method, StatusCode, Uri};
use hyper_rustls::{HttpsConnector, HttpsConnectorBuilder};
use hyper_util::client::legacy::Client;
use hyper_util::client::legacy::connect::HttpConnector;
use hyper_util::rt::{TokioExecutor, TokioTimer};

use crate::clock;
use crate::config::{Secret, Service};
use crate::limiter;
use crate::pace::Left;
use crate::request::{Body, Outcome, Past, Request, Route};
use crate::wire::may::{Channels, Somebody, Whole};

/// An interaction is answered within three seconds or not at all.
const CALLBACK_TIMEOUT: Duration = Duration::from_millis(2_500);
/// For everything else.
const TIMEOUT: Duration = Duration::from_secs(10);
const CONNECT_TIMEOUT: Duration = Duration::from_secs(5);
/// Kept-alive connections end after this long unused.
const IDLE: Duration = Duration::from_secs(55);
/// The most that is read of an answer.
const ANSWER_BYTES_MAX: usize = 4 << 20;
/// The largest file that is fetched.
pub const FILE_BYTES_MAX: usize = 2 << 20;
const AGENT: &str = concat!("loftwatch (", env!("CARGO_PKG_VERSION"), ")");

/// The platform's own hosts for attached files.
const FILE_HOSTS: [&str; 2] = ["cdn.discordapp.com", "media.discordapp.net"];

/// Connections to the chat service.
pub struct Http {
    client: Client<HttpsConnector<HttpConnector>, Full<Bytes>>,
    service: Service,
    bot: HeaderValue,
    agent: HeaderValue,
    json: HeaderValue,
    /// The application's number, 0 until it is known.
    app: AtomicU64,
}

impl fmt::Debug for Http {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Http")
    }
}

/// An answer as it came: what it means, and what its headers say about limits.
pub struct Answered {
    /// What became of the request.
    pub outcome: Outcome,
    /// The rate headers.
    pub said: limiter::Said,
    /// HTTP status, 0 where none came.
    pub status: u16,
}

/// Why the service could not be asked a plain question.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Fault {
    /// It cannot be reached.
    #[error("{route}: the chat service cannot be reached")]
    Unreachable {
        /// Which question.
        route: &'static str,
    },
    /// It refused.
    #[error("{route}: the chat service answered {status}")]
    Status {
        /// Which question.
        route: &'static str,
        /// HTTP status.
        status: u16,
    },
    /// It answered with something else.
    #[error("{route}: the chat service's answer makes no sense")]
    Senseless {
        /// Which question.
        route: &'static str,
    },
}

impl Fault {
    /// Whether the next try may well be answered.
    pub fn may_pass(&self) -> bool {
        match self {
            Fault::Unreachable { .. } => true,
            Fault::Status { status, .. } => *status == 429 || *status >= 500,
            Fault::Senseless { .. } => false,
        }
    }
}

/// What the service says of itself and of us.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Around {
    /// How far this computer's clock is ahead of the clock there, to the second.
    pub ahead: Option<TimeDelta>,
    /// How many new connections it lets us begin before its day is over.
    pub sessions: Option<u64>,
    /// The guilds that we are in, with the platform's bits of what our roles there may do; or why that was not told.
    pub guilds: Result<BTreeMap<Guild, u64>, Fault>,
    /// Of those that were asked about, the channels, with the bits of what we may do in each; or why that was not told.
    pub channels: BTreeMap<Guild, Result<BTreeMap<Channel, u64>, Fault>>,
}

/// Where the gateway is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Gateway {
    /// Its address.
    pub address: String,
    /// What it lets us begin, where it says so.
    pub left: Option<Left>,
}

impl Http {
    /// Prepares connections; none is made yet.
    ///
    /// # Errors
    /// When the token holds characters that no header may.
    pub fn new(
        service: &Service,
        token: &Secret,
    ) -> Result<Self, hyper::header::InvalidHeaderValue> {
        let mut tcp = HttpConnector::new();
        tcp.enforce_http(false);
        tcp.set_nodelay(true);
        tcp.set_connect_timeout(Some(CONNECT_TIMEOUT));
        tcp.set_keepalive(Some(Duration::from_secs(30)));
        let tls = HttpsConnectorBuilder::new()
            .with_webpki_roots()
            .https_or_http()
            .enable_http1();
        let client = Client::builder(TokioExecutor::new())
            .pool_timer(TokioTimer::new())
            .pool_idle_timeout(IDLE)
            .build(tls.wrap_connector(tcp));
        let mut bot = HeaderValue::from_str(&format!("Bot {}", token.expose()))?;
        bot.set_sensitive(true);
        Ok(Self {
            client,
            service: service.clone(),
            bot,
            agent: HeaderValue::from_static(AGENT),
            json: HeaderValue::from_static("application/json"),
            app: AtomicU64::new(0),
        })
    }

    /// The application's number, once the gateway has said it.
    pub fn set_app(&self, app: u64) {
        self.app.store(app, Ordering::Relaxed);
    }

    /// Sends one request and says what became of it. Never fails.
    pub async fn send(&self, request: &Request) -> Answered {
        let route = &request.route;
        let app = self.app.load(Ordering::Relaxed);
        let nothing = |outcome| Answered {
            outcome,
            said: limiter::Said::default(),
            status: 0,
        };
        if app == 0 && route.needs_app() {
            return nothing(Outcome::NotMade);
        }
        let limit = match route {
            Route::Callback { .. } => CALLBACK_TIMEOUT,
            Route::Original { .. }
            | Route::Post { .. }
            | Route::Edit { .. }
            | Route::History { .. }
            | Route::Commands { .. }
            | Route::SetCommands { .. }
            | Route::Leave { .. }
            | Route::Gateway
            | Route::Me => TIMEOUT,
        };
        let Some(built) = self.build(route.method(), &route.path(app), &request.body) else {
            return nothing(Outcome::Refused { status: 0, code: 0 });
        };
        match tokio::time::timeout(limit, self.exchange(built)).await {
            Err(_elapsed) => nothing(Outcome::Unsure),
            Ok(Err(sent)) => nothing(if sent {
                Outcome::Unsure
            } else {
                Outcome::NotMade
            }),
            Ok(Ok((status, headers, bytes))) => {
                let said = rates(&headers);
                Answered {
                    outcome: meaning(route, status, &said, &bytes),
                    said,
                    status: status.as_u16(),
                }
            }
        }
    }

    /// Asks where the gateway is, and what it lets us begin.
    ///
    /// # Errors
    /// [`Fault`]
    pub async fn gateway(&self) -> Result<Gateway, Fault> {
        #[derive(serde::Deserialize)]
        struct Told {
            url: String,
            session_start_limit: Option<Limit>,
        }
        #[derive(serde::Deserialize)]
        struct Limit {
            total: u64,
            remaining: u64,
            reset_after: u64,
        }
        let told: Told = self.question(&Route::Gateway).await?;
        let left = told.session_start_limit.map(|limit| Left {
            total: limit.total,
            remaining: limit.remaining,
            reset_after: Duration::from_millis(limit.reset_after),
        });
        Ok(Gateway {
            address: told.url,
            left,
        })
    }

    /// Asks what whoever runs the computer wants to know before the bot runs, and about the channels of the guilds that are
    /// `wanted`; for whatever is not told, why.
    ///
    /// # Errors
    /// [`Fault`], when it is not even told who we are.
    pub async fn look_around(&self, wanted: impl Fn(Guild) -> bool) -> Result<Around, Fault> {
        #[derive(serde::Deserialize)]
        struct In {
            id: String,
            #[serde(default)]
            permissions: String,
        }
        let gateway = self.gateway().await?;
        let me = self.build(Method::GET, &Route::Me.path(0), &Body::Empty);
        let (me, headers): (Id, _) = self.told(Route::Me.name(), me).await?;
        let date = headers.get(hyper::header::DATE);
        let date = date.and_then(|date| DateTime::parse_from_rfc2822(date.to_str().ok()?).ok());
        // Before anything else is asked, which takes its time.
        let ahead = date.map(|theirs| clock::wall() - theirs.to_utc());
        let guilds = self.build(Method::GET, "/api/v10/users/@me/guilds", &Body::Empty);
        let guilds = self.told::<Vec<In>>("guilds", guilds).await;
        let guild = |one: In| Some((Guild(one.id.parse().ok()?), one.permissions.parse().ok()?));
        let guilds: Result<BTreeMap<Guild, u64>, Fault> =
            guilds.map(|(told, _)| told.into_iter().filter_map(guild).collect());
        let mut channels = BTreeMap::new();
        for guild in guilds.iter().flat_map(BTreeMap::keys) {
            if wanted(*guild) {
                channels.insert(*guild, self.may(*guild, &me.id).await);
            }
        }
        Ok(Around {
            ahead,
            sessions: gateway.left.map(|left| left.remaining),
            guilds,
            channels,
        })
    }

    /// What we may do in each channel of a guild.
    async fn may(&self, guild: Guild, me: &str) -> Result<BTreeMap<Channel, u64>, Fault> {
        let about = |what: &str| {
            let path = format!("/api/v10/guilds/{guild}{what}");
            self.build(Method::GET, &path, &Body::Empty)
        };
        let whole: Whole = self.told("guild", about("")).await?.0;
        let me: Somebody = self
            .told("member", about(&format!("/members/{me}")))
            .await?
            .0;
        let channels: Channels = self.told("channels", about("/channels")).await?.0;
        Ok(channels.may(&whole, &me))
    }

    /// Fetches a file that hangs on an interaction.
    ///
    /// # Errors
    /// [`FetchFault`] when it is not the platform's own, too large, or does not come in ten seconds.
    pub async fn fetch(&self, file: &FileRef) -> Result<Vec<u8>, FetchFault> {
        if file.size > FILE_BYTES_MAX as u64 {
            return Err(FetchFault::TooLarge);
        }
        let uri = self
            .service
            .own_file(&file.url, &FILE_HOSTS)
            .ok_or(FetchFault::Foreign)?;
        let request = hyper::Request::get(uri)
            .header(USER_AGENT, &self.agent)
            .body(Full::default());
        let request = request.map_err(|_| FetchFault::Foreign)?;
        let work = async {
            let answer = self
                .client
                .request(request)
                .await
                .map_err(|_| FetchFault::Unavailable)?;
            if answer.status() != StatusCode::OK {
                return Err(FetchFault::Unavailable);
            }
            let body = Limited::new(answer.into_body(), FILE_BYTES_MAX)
                .collect()
                .await;
            body.map(|body| body.to_bytes().to_vec()).map_err(|fault| {
                if fault.is::<http_body_util::LengthLimitError>() {
                    FetchFault::TooLarge
                } else {
                    FetchFault::Unavailable
                }
            })
        };
        tokio::time::timeout(TIMEOUT, work)
            .await
            .unwrap_or(Err(FetchFault::Unavailable))
    }

    async fn question<T: serde::de::DeserializeOwned>(&self, route: &Route) -> Result<T, Fault> {
        let built = self.build(route.method(), &route.path(0), &Body::Empty);
        self.told(route.name(), built).await.map(|(told, _)| told)
    }

    async fn told<T: serde::de::DeserializeOwned>(
        &self,
        name: &'static str,
        built: Option<hyper::Request<Full<Bytes>>>,
    ) -> Result<(T, HeaderMap), Fault> {
        let built = built.ok_or(Fault::Senseless { route: name })?;
        let (status, headers, bytes) = tokio::time::timeout(TIMEOUT, self.exchange(built))
            .await
            .map_err(|_| Fault::Unreachable { route: name })?
            .map_err(|_| Fault::Unreachable { route: name })?;
        if !status.is_success() {
            return Err(Fault::Status {
                route: name,
                status: status.as_u16(),
            });
        }
        let told = serde_json::from_slice(&bytes).map_err(|_| Fault::Senseless { route: name })?;
        Ok((told, headers))
    }

    fn build(
        &self,
        method: Method,
        path: &str,
        body: &Body,
    ) -> Option<hyper::Request<Full<Bytes>>> {
        let uri: Uri = format!("{}{path}", self.service.base()).try_into().ok()?;
        let builder = hyper::Request::builder()
            .method(method)
            .uri(uri)
            .header(AUTHORIZATION, &self.bot)
            .header(USER_AGENT, &self.agent);
        match body {
            Body::Empty => builder.body(Full::default()),
            Body::Json(bytes) => builder
                .header(CONTENT_TYPE, &self.json)
                .body(Full::new(bytes.clone())),
            Body::Multipart { boundary, bytes } => builder
                .header(
                    CONTENT_TYPE,
                    format!("multipart/form-data; boundary={boundary}"),
                )
                .body(Full::new(bytes.clone())),
        }
        .ok()
    }

    /// The exchange itself. The error says whether anything may have left.
    async fn exchange(
        &self,
        request: hyper::Request<Full<Bytes>>,
    ) -> Result<(StatusCode, HeaderMap, Bytes), bool> {
        let answer = self
            .client
            .request(request)
            .await
            .map_err(|fault| !fault.is_connect())?;
        let (head, body) = answer.into_parts();
        if head.status == StatusCode::NO_CONTENT {
            return Ok((head.status, head.headers, Bytes::new()));
        }
        // The status has come: what the body lacks is only the number of what was made.
        let bytes = Limited::new(body, ANSWER_BYTES_MAX).collect().await;
        let bytes = bytes.map(|body| body.to_bytes()).unwrap_or_default();
        Ok((head.status, head.headers, bytes))
    }
}

#[derive(serde::Deserialize)]
struct Id {
    id: String,
}

/// What an answer means for what was asked.
fn meaning(route: &Route, status: StatusCode, said: &limiter::Said, bytes: &[u8]) -> Outcome {
    if status.is_success() {
        return match route {
            Route::History { .. } => past(bytes).map_or(Outcome::Unsure, Outcome::Listed),
            Route::Commands { .. } | Route::SetCommands { .. } => {
                names(bytes).map_or(Outcome::Unsure, Outcome::Named)
            }
            Route::Callback { .. }
            | Route::Original { .. }
            | Route::Post { .. }
            | Route::Edit { .. }
            | Route::Leave { .. }
            | Route::Gateway
            | Route::Me => {
                let id = serde_json::from_slice::<Id>(bytes).ok();
                Outcome::Made(id.and_then(|id| id.id.parse().ok()))
            }
        };
    }
    if status == StatusCode::TOO_MANY_REQUESTS {
        return Outcome::Limited(said.wait());
    }
    if status.is_client_error() {
        #[derive(serde::Deserialize)]
        struct Code {
            code: u32,
        }
        // What is not the platform's own answer is that of something on the way to it, and may be over soon.
        return serde_json::from_slice::<Code>(bytes).map_or(Outcome::Unsure, |said| {
            Outcome::Refused {
                status: status.as_u16(),
                code: said.code,
            }
        });
    }
    Outcome::Unsure
}

fn past(bytes: &[u8]) -> Option<Vec<Past>> {
    #[derive(serde::Deserialize)]
    struct One {
        id: String,
        author: Id,
        #[serde(default)]
        content: String,
        #[serde(default)]
        nonce: Option<serde_json::Value>,
    }
    let all: Vec<One> = serde_json::from_slice(bytes).ok()?;
    let past = all.into_iter().filter_map(|one| {
        Some(Past {
            id: one.id.parse().ok()?,
            author: one.author.id.parse().ok()?,
            text: one.content,
            nonce: one
                .nonce
                .and_then(|nonce| nonce.as_str().map(str::to_owned)),
        })
    });
    Some(past.collect())
}

fn names(bytes: &[u8]) -> Option<Vec<String>> {
    #[derive(serde::Deserialize)]
    struct Name {
        name: String,
    }
    let all: Vec<Name> = serde_json::from_slice(bytes).ok()?;
    Some(all.into_iter().map(|one| one.name).collect())
}

fn rates(headers: &HeaderMap) -> limiter::Said {
    let number = |name: &str| headers.get(name)?.to_str().ok()?.trim().parse::<f64>().ok();
    let is = |name: &str, word: &str| {
        headers
            .get(name)
            .is_some_and(|value| value.as_bytes().eq_ignore_ascii_case(word.as_bytes()))
    };
    limiter::Said {
        remaining: number("x-ratelimit-remaining").map(|left| left.max(0.0) as u64),
        reset_after_s: number("x-ratelimit-reset-after"),
        retry_after_s: number("retry-after"),
        global: is("x-ratelimit-global", "true") || is("x-ratelimit-scope", "global"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn judged(route: &Route, status: u16, body: &str) -> Outcome {
        let status = StatusCode::from_u16(status).unwrap();
        meaning(route, status, &limiter::Said::default(), body.as_bytes())
    }

    /// The headers as the platform's page on rate limits shows them, and some that make no sense.
    #[test]
    fn limits_are_read_from_their_headers() {
        let said = |all: &[(&'static str, &'static str)]| {
            let named = |(name, value): &(&'static str, &'static str)| {
                let name = hyper::header::HeaderName::from_static(name);
                (name, hyper::header::HeaderValue::from_static(value))
            };
            rates(&all.iter().map(named).collect())
        };
        let told = said(&[
            ("x-ratelimit-limit", "5"),
            ("x-ratelimit-remaining", "0"),
            ("x-ratelimit-reset", "1470173023"),
            ("x-ratelimit-reset-after", "1.25"),
            ("x-ratelimit-bucket", "abcd1234"),
        ]);
        let wanted = limiter::Said {
            remaining: Some(0),
            reset_after_s: Some(1.25),
            ..limiter::Said::default()
        };
        assert_eq!(told, wanted);
        let refused = said(&[("retry-after", "65"), ("x-ratelimit-global", "true")]);
        assert!(refused.retry_after_s == Some(65.0) && refused.global);
        assert!(said(&[("x-ratelimit-scope", "global")]).global);
        assert!(!said(&[("x-ratelimit-scope", "user")]).global);
        let senseless = [("x-ratelimit-remaining", "many"), ("retry-after", "")];
        assert_eq!(said(&senseless), limiter::Said::default());
        assert_eq!(said(&[("x-ratelimit-remaining", "-1")]).remaining, Some(0));
    }

    #[test]
    fn a_send_that_cannot_be_read_is_still_sent() {
        let post = Route::Post { channel: 1 };
        assert_eq!(
            judged(&post, 200, r#"{"id":"7","new_thing":{}}"#),
            Outcome::Made(Some(7))
        );
        assert_eq!(judged(&post, 200, "<html>"), Outcome::Made(None));
    }

    #[test]
    fn refusals_carry_the_platforms_code_and_faults_are_unsure() {
        let post = Route::Post { channel: 1 };
        let refused = judged(&post, 400, r#"{"code":40060,"message":"x"}"#);
        assert_eq!(
            refused,
            Outcome::Refused {
                status: 400,
                code: 40060
            }
        );
        assert_eq!(
            judged(&post, 401, r#"{"message":"401: Unauthorized","code":0}"#),
            Outcome::Refused {
                status: 401,
                code: 0
            }
        );
        // A firewall's page, and not the platform's word.
        for page in ["", "<html>Forbidden</html>", r#"{"error":"blocked"}"#] {
            assert_eq!(judged(&post, 403, page), Outcome::Unsure);
        }
        assert_eq!(judged(&post, 503, ""), Outcome::Unsure);
        assert_eq!(
            judged(&post, 429, ""),
            Outcome::Limited(Duration::from_secs(5))
        );
    }

    /// Too long ones, one that would overflow any clock, and ones that are no wait.
    #[test]
    fn a_senseless_wait_is_not_taken_from_a_header() {
        for seconds in [
            86_400.0 * 365.0,
            18_446_744_073_709_549_568.0,
            f64::INFINITY,
            f64::NAN,
            -1.0,
        ] {
            let said = limiter::Said {
                retry_after_s: Some(seconds),
                ..limiter::Said::default()
            };
            let outcome = meaning(
                &Route::Post { channel: 1 },
                StatusCode::TOO_MANY_REQUESTS,
                &said,
                b"",
            );
            let Outcome::Limited(wait) = outcome else {
                panic!("{outcome:?}")
            };
            let sensible = Duration::from_secs(1)..=Duration::from_secs(3_600);
            assert!(sensible.contains(&wait), "{seconds}: {wait:?}");
        }
    }

    #[test]
    fn history_is_read_leniently() {
        let body = r#"[{"id":"3","author":{"id":"9"},"content":"x","nonce":"n","components":[{"components":[{"custom_id":"a"}]}]},
            {"id":"2","author":{"id":"8"}}]"#;
        let Outcome::Listed(past) = judged(
            &Route::History {
                channel: 1,
                before: None,
            },
            200,
            body,
        ) else {
            panic!("not a list")
        };
        assert_eq!((past[0].id, past[0].nonce.as_deref()), (3, Some("n")));
        assert_eq!(past[1].text, "");
    }
}
