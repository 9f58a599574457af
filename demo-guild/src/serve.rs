//! The listener: accepts on loopback, without delay, and lets a test drop an answer.

use std::convert::Infallible;
use std::net::{Ipv4Addr, SocketAddr};
use std::sync::Arc;

use axum::Router;
use axum::extract::{Path, State, WebSocketUpgrade};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use hyper_util::rt::TokioIo;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::watch;

use crate::faults::Fault;
use crate::gateway;
use crate::http::{self, Lost};
use crate::hub::Hub;
use crate::ids::Id;
use crate::page;

/// Listens on 127.0.0.1.
///
/// # Errors
/// The port is taken.
pub async fn listen(port: u16) -> std::io::Result<TcpListener> {
    TcpListener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, port))).await
}

/// Accepts until told to stop; then every connection ends.
pub async fn accept(
    listener: TcpListener,
    hub: Arc<Hub>,
    with_page: bool,
    mut stop: watch::Receiver<bool>,
) {
    let routes = routes(hub, with_page, stop.clone());
    loop {
        let accepted = tokio::select! {
            accepted = listener.accept() => accepted,
            _ = stop.changed() => return,
        };
        match accepted {
            Ok((stream, _)) => {
                // With the delay on, an answer waits for the client's acknowledgement: the median
                // was 42 ms.
                if let Err(why) = stream.set_nodelay(true) {
                    tracing::debug!(%why, "a connection went before it was served");
                }
                tokio::spawn(connection(stream, routes.clone(), stop.clone()));
            }
            Err(why) => {
                tracing::warn!(%why, "a connection could not be accepted");
                tokio::time::sleep(std::time::Duration::from_millis(100)).await;
            }
        }
    }
}

async fn connection(stream: TcpStream, routes: Router, mut stop: watch::Receiver<bool>) {
    let service = hyper::service::service_fn(move |request| {
        let routes = routes.clone();
        async move {
            let response: Result<Response, Infallible> =
                tower::ServiceExt::oneshot(routes, request).await;
            let response = match response {
                Ok(response) => response,
                Err(never) => match never {},
            };
            // An error here closes the connection without an answer, which is what is asked for.
            match response.extensions().get::<Lost>() {
                Some(Lost) => Err(std::io::Error::other("an answer is lost on purpose")),
                None => Ok(response),
            }
        }
    });
    let served = hyper::server::conn::http1::Builder::new()
        .serve_connection(TokioIo::new(stream), service)
        .with_upgrades();
    tokio::select! {
        // How a client leaves is its own affair.
        _ = served => {}
        _ = stop.changed() => {}
    }
}

fn routes(hub: Arc<Hub>, with_page: bool, stop: watch::Receiver<bool>) -> Router {
    let api = http::routes(Arc::clone(&hub));
    let socket_hub = Arc::clone(&hub);
    let socket_stop = stop.clone();
    let socket = move |upgrade: WebSocketUpgrade| {
        let (hub, stop) = (Arc::clone(&socket_hub), socket_stop.clone());
        async move { upgrade.on_upgrade(move |socket| gateway::serve(hub, socket, stop)) }
    };
    let mut routes = Router::new()
        .route("/gateway", get(socket.clone()))
        .route("/gateway/", get(socket))
        .route("/attachments/{channel}/{id}/{name}", get(file))
        .with_state(Arc::clone(&hub))
        .nest("/api/v10", api.clone())
        .nest("/api", api);
    if with_page {
        routes = routes.merge(page::routes(hub, stop));
    }
    routes
}

/// A file of a message, or one that a person gave with a command. Of the faults that there are it may be late.
async fn file(
    State(hub): State<Arc<Hub>>,
    Path((channel, id, name)): Path<(u64, u64, String)>,
) -> Response {
    let path = format!("/attachments/{channel}/{id}/{name}");
    if let Some(Fault::Late(by)) = hub.faults.meet("GET", &path) {
        tokio::time::sleep(by).await;
    }
    let found = hub.find_file(Id(channel), Id(id));
    let Some(file) = found else {
        return StatusCode::NOT_FOUND.into_response();
    };
    let kind = file
        .content_type
        .unwrap_or_else(|| "application/octet-stream".to_owned());
    ([(header::CONTENT_TYPE, kind)], file.bytes).into_response()
}
