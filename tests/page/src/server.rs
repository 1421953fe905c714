//! A server for the served form: files of one folder, until it is stopped.

use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::time::Duration;

/// A server at a free port of this machine.
pub struct Server {
    port: u16,
    stopped: Arc<AtomicBool>,
    answered: Arc<AtomicUsize>,
}

impl Server {
    /// Serves a folder.
    ///
    /// # Panics
    /// If no port is free.
    #[must_use]
    pub fn new(folder: PathBuf) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").expect("a port is free");
        let port = listener.local_addr().expect("it has a port").port();
        let (stopped, answered) = (Arc::new(AtomicBool::new(false)), Arc::new(AtomicUsize::new(0)));
        let (stop, count) = (Arc::clone(&stopped), Arc::clone(&answered));
        std::thread::spawn(move || {
            for stream in listener.incoming().flatten() {
                if stop.load(Ordering::SeqCst) {
                    return;
                }
                if answer(&folder, stream).is_some() {
                    count.fetch_add(1, Ordering::SeqCst);
                }
            }
        });
        Self { port, stopped, answered }
    }

    /// The address of its first page.
    #[must_use]
    pub fn address(&self) -> String {
        format!("http://127.0.0.1:{}/", self.port)
    }

    /// How many requests it has answered.
    #[must_use]
    pub fn answered(&self) -> usize {
        self.answered.load(Ordering::SeqCst)
    }

    /// Stops it: from now on nobody listens at its port.
    pub fn stop(&self) {
        self.stopped.store(true, Ordering::SeqCst);
        // The one that wakes it is not answered, and the listener goes with its thread.
        while TcpStream::connect(("127.0.0.1", self.port)).is_ok() {
            std::thread::sleep(Duration::from_millis(10));
        }
    }
}

/// Answers one request; `None` where there is no such file, or the other side is gone.
fn answer(folder: &Path, mut stream: TcpStream) -> Option<()> {
    stream.set_read_timeout(Some(Duration::from_secs(2))).ok()?;
    let mut lines = BufReader::new(stream.try_clone().ok()?).lines().map_while(Result::ok);
    let first = lines.next()?;
    lines.find(String::is_empty);
    let path = first.split(' ').nth(1)?.split(['?', '#']).next()?.trim_start_matches('/');
    let name = if path.is_empty() { "index.html" } else { path };
    let kind = match Path::new(name).extension()?.to_str()? {
        "html" => "text/html; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "svg" => "image/svg+xml",
        "webmanifest" => "application/manifest+json",
        _ => "application/octet-stream",
    };
    let Some(bytes) = (!name.contains("..")).then(|| fs::read(folder.join(name)).ok()).flatten() else {
        let _ = stream.write_all(b"HTTP/1.1 404 Not Found\r\nContent-Length: 0\r\nConnection: close\r\n\r\n");
        return None;
    };
    let head = format!(
        "HTTP/1.1 200 OK\r\nContent-Type: {kind}\r\nContent-Length: {}\r\nConnection: close\r\n\r\n",
        bytes.len()
    );
    stream.write_all(head.as_bytes()).and_then(|()| stream.write_all(&bytes)).ok()
}
