//! Files that people hang on a command, from a host that means ill: one that never ends, one that hardly begins, one that would
//! be huge once it is unpacked, one that points elsewhere, one that lies about its size. Each ends in a fault that people are told
//! in a sentence, and the host is told nothing that is secret. What stands in a file is read in `commands`.

#![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

use std::io::{Read, Write};
use std::net::{SocketAddr, TcpListener, TcpStream};
use std::path::PathBuf;
use std::sync::mpsc::{Receiver, channel};
use std::thread;
use std::time::Duration;

use bot::Settings;
use bot::http::{FILE_BYTES_MAX, Http};
use commands::said::{FetchFault, FileRef};

const TOKEN: &str = "violet-lantern-token";
/// No host writes for longer, whatever becomes of its reader.
const WRITES_FOR: Duration = Duration::from_secs(30);

/// A host that answers whoever asks with what `answer` writes. Sends on what it was asked.
fn host(answer: impl Fn(&mut TcpStream) + Send + 'static) -> (SocketAddr, Receiver<String>) {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let (asked, heard) = channel();
    let at = listener.local_addr().unwrap();
    thread::spawn(move || {
        for stream in listener.incoming() {
            let mut stream = stream.unwrap();
            stream.set_write_timeout(Some(WRITES_FOR)).unwrap();
            let mut request = Vec::new();
            let mut some = [0; 1_024];
            while !request.windows(4).any(|end| end == b"\r\n\r\n") {
                match stream.read(&mut some) {
                    Ok(read) if read > 0 => request.extend(&some[..read]),
                    _ => break,
                }
            }
            // Whoever asked may be gone: then the test has ended.
            let _ = asked.send(String::from_utf8_lossy(&request).into_owned());
            answer(&mut stream);
        }
    });
    (at, heard)
}

/// What comes of a file that is said to have so many bytes and to be at that address.
async fn fetched(service: SocketAddr, url: String, size: u64) -> Result<Vec<u8>, FetchFault> {
    let base = format!("http://{service}");
    let settings = Settings::new(TOKEN, &base, PathBuf::new(), None).unwrap();
    let http = Http::new(&settings.service, &settings.token).unwrap();
    let name = "stock.csv".to_owned();
    http.fetch(&FileRef { name, url, size }).await
}

async fn served(
    answer: impl Fn(&mut TcpStream) + Send + 'static,
) -> (Result<Vec<u8>, FetchFault>, Receiver<String>) {
    let (at, heard) = host(answer);
    let got = fetched(at, format!("http://{at}/attachments/1/2/stock.csv"), 100).await;
    (got, heard)
}

#[tokio::test]
async fn an_honest_file_comes_whole_and_its_host_is_told_no_secret() {
    let (got, heard) = served(|stream| {
        let _ = stream.write_all(b"HTTP/1.1 200 OK\r\ncontent-length: 9\r\n\r\ntag,state");
    })
    .await;
    assert_eq!(got.as_deref(), Ok(&b"tag,state"[..]));
    let asked = heard.recv().unwrap();
    assert!(
        asked.starts_with("GET /attachments/1/2/stock.csv "),
        "{asked}"
    );
    assert!(!asked.contains(TOKEN), "{asked}");
    assert!(!asked.to_lowercase().contains("authorization"), "{asked}");
}

/// With its size told, and not told in either way that there is.
#[tokio::test(flavor = "multi_thread", worker_threads = 1)]
async fn what_is_larger_than_it_may_be_is_let_go_of_on_the_way() {
    let megabyte = vec![b'x'; 1 << 20];
    for head in [
        "content-length: 1000000000".to_owned(),
        "connection: close".to_owned(),
        "transfer-encoding: chunked".to_owned(),
    ] {
        let (told, wrote) = channel();
        let (some, chunked) = (megabyte.clone(), head.contains("chunked"));
        let (got, _heard) = served(move |stream| {
            let _ = stream.write_all(format!("HTTP/1.1 200 OK\r\n{head}\r\n\r\n").as_bytes());
            let mut megabytes = 0;
            let mut more = || -> std::io::Result<()> {
                if chunked {
                    stream.write_all(format!("{:x}\r\n", some.len()).as_bytes())?;
                }
                stream.write_all(&some)?;
                stream.write_all(if chunked { b"\r\n" } else { b"" })
            };
            while megabytes < 1_000 && more().is_ok() {
                megabytes += 1;
            }
            let _ = told.send(megabytes);
        })
        .await;
        assert_eq!(got, Err(FetchFault::TooLarge));
        // What was read, and what stood between the two.
        let megabytes = wrote.recv().unwrap();
        assert!(megabytes < 50, "{megabytes} of 1,000 megabytes were taken");
    }
}

#[tokio::test]
async fn a_size_that_is_too_large_by_its_own_word_is_not_asked_for() {
    let (at, heard) = host(|_| {});
    let most = FILE_BYTES_MAX as u64;
    let got = fetched(at, format!("http://{at}/attachments/1/2/a.csv"), most + 1).await;
    assert_eq!(got, Err(FetchFault::TooLarge));
    assert!(heard.try_recv().is_err(), "it was asked for");
}

/// It says that it is packed; nothing unpacks it, so it stays as small as it is.
#[tokio::test]
async fn what_would_be_huge_once_unpacked_stays_packed() {
    // The first bytes of a gzip stream; what follows is never looked at.
    let packed = [&[0x1f, 0x8b, 8, 0, 0, 0, 0, 0, 0, 3][..], &[0; 200]].concat();
    let sent = packed.clone();
    let (got, heard) = served(move |stream| {
        let head = "HTTP/1.1 200 OK\r\ncontent-encoding: gzip\r\ncontent-length: 210\r\n\r\n";
        let _ = stream.write_all(head.as_bytes());
        let _ = stream.write_all(&sent);
    })
    .await;
    assert_eq!(got, Ok(packed));
    let asked = heard.recv().unwrap().to_lowercase();
    assert!(!asked.contains("accept-encoding"), "{asked}");
}

/// It has ten seconds for all of it, not for each byte.
#[tokio::test]
async fn a_file_that_hardly_comes_is_given_up() {
    let (got, _heard) = served(|stream| {
        let _ = stream.write_all(b"HTTP/1.1 200 OK\r\ncontent-length: 1000\r\n\r\n");
        while stream.write_all(b"x").is_ok() {
            thread::sleep(Duration::from_millis(200));
        }
    })
    .await;
    assert_eq!(got, Err(FetchFault::Unavailable));
}

#[tokio::test]
async fn nothing_leads_elsewhere() {
    let (elsewhere, heard) = host(|stream| {
        let _ = stream.write_all(b"HTTP/1.1 200 OK\r\ncontent-length: 1\r\n\r\nx");
    });
    let to = format!("http://{elsewhere}/attachments/1/2/a.csv");
    let sent = to.clone();
    let (got, _) = served(move |stream| {
        let head = format!("HTTP/1.1 302 Found\r\nlocation: {sent}\r\ncontent-length: 0\r\n\r\n");
        let _ = stream.write_all(head.as_bytes());
    })
    .await;
    assert_eq!(got, Err(FetchFault::Unavailable));

    let (own, asked) = host(|_| {});
    for url in [
        to,
        format!("https://{own}/a.csv"),
        format!("http://{own}@{elsewhere}/a.csv"),
        format!("//{elsewhere}/a.csv"),
        format!("http://{own}.example/a.csv"),
        "file:///etc/passwd".to_owned(),
        "/attachments/1/2/a.csv".to_owned(),
        String::new(),
    ] {
        let got = fetched(own, url.clone(), 1).await;
        assert_eq!(got, Err(FetchFault::Foreign), "{url}");
    }
    assert!(heard.try_recv().is_err(), "somebody else was asked");
    assert!(asked.try_recv().is_err(), "it was asked for");
}
