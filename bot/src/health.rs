//! Whether all is well, and the counters, for a watcher on the same computer: `GET /health` and `GET /counters` over plain HTTP at an
//! address of this computer alone. Decides what counts as well: the gateway has let us in and spoke lately, the bot is in each guild that
//! is named, every home has a desk, its file takes what is written and its calls reach somebody. It runs where the requests run, so that a program whose requests stand still does not answer.

use std::convert::Infallible;
use std::net::SocketAddr;
use std::sync::Arc;
use std::time::Duration;

use bytes::Bytes;
use http_body_util::Full;
use hyper::body::Incoming;
use hyper::header::{CONTENT_TYPE, HeaderValue};
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper::{Method, Request, Response, StatusCode};
use hyper_util::rt::{TokioIo, TokioTimer};
use tokio::net::TcpListener;
use tokio::sync::Semaphore;

use crate::counters::Counters;
use crate::gateway::Pulse;
use crate::status::Status;

/// Watchers at once.
const AT_ONCE: usize = 8;
/// How long one may take to say what it wants.
const PATIENCE: Duration = Duration::from_secs(5);
/// The media type of the OpenMetrics text format (OpenMetrics 1.0, "Content type").
const OPEN_METRICS: &str = "application/openmetrics-text; version=1.0.0; charset=utf-8";
const TEXT: &str = "text/plain; charset=utf-8";

/// What is looked at.
pub(crate) struct Health {
    pub(crate) counters: Arc<Counters>,
    pub(crate) pulse: Arc<Pulse>,
    pub(crate) status: Arc<Status>,
}

impl Health {
    /// Answers whoever asks at this address, for as long as the program runs.
    pub(crate) async fn serve(self: Arc<Self>, at: SocketAddr) {
        let listener = match TcpListener::bind(at).await {
            Ok(listener) => listener,
            Err(fault) => {
                tracing::error!(%fault, %at, "nobody can be told about health here");
                return;
            }
        };
        let places = Arc::new(Semaphore::new(AT_ONCE));
        loop {
            let Ok(place) = places.clone().acquire_owned().await else {
                return;
            };
            let Ok((socket, _)) = listener.accept().await else {
                // Out of files: a moment later some are free.
                tokio::time::sleep(Duration::from_millis(200)).await;
                continue;
            };
            let health = self.clone();
            tokio::spawn(async move {
                let answer = service_fn(move |asked| {
                    let answer = health.answer(&asked);
                    async move { Ok::<_, Infallible>(answer) }
                });
                let served = http1::Builder::new()
                    .timer(TokioTimer::new())
                    .header_read_timeout(PATIENCE)
                    .keep_alive(false)
                    .serve_connection(TokioIo::new(socket), answer);
                // Whoever goes away in the middle wants no answer.
                let _ = tokio::time::timeout(PATIENCE * 2, served).await;
                drop(place);
            });
        }
    }

    fn answer(&self, asked: &Request<Incoming>) -> Response<Full<Bytes>> {
        let (status, kind, text) = match (asked.method(), asked.uri().path()) {
            (&Method::GET, "/health") => {
                let wrong = self.wrong();
                if wrong.is_empty() {
                    (StatusCode::OK, TEXT, "well\n".to_owned())
                } else {
                    let text = wrong.iter().map(|line| format!("{line}\n")).collect();
                    (StatusCode::SERVICE_UNAVAILABLE, TEXT, text)
                }
            }
            (&Method::GET, "/counters") => (StatusCode::OK, OPEN_METRICS, self.counters.text()),
            _ => {
                let text = "ask for GET /health or GET /counters\n".to_owned();
                (StatusCode::NOT_FOUND, TEXT, text)
            }
        };
        let mut response = Response::new(Full::new(Bytes::from(text)));
        *response.status_mut() = status;
        let kind = HeaderValue::from_static(kind);
        response.headers_mut().insert(CONTENT_TYPE, kind);
        response
    }

    /// What is not well, a line each.
    fn wrong(&self) -> Vec<String> {
        let gateway = self.pulse.wrong().map(str::to_owned);
        gateway.into_iter().chain(self.status.wrong()).collect()
    }
}
