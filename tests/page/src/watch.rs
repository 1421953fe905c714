//! A proxy that takes note of every request that leaves the browser, and answers none.

use std::io::{BufRead, BufReader};
use std::net::TcpListener;
use std::sync::{Arc, Mutex};
use std::time::Duration;

/// A proxy; the browser is to be started with its [`Watch::switches`].
pub struct Watch {
    port: u16,
    seen: Arc<Mutex<Vec<String>>>,
}

impl Watch {
    /// Starts to listen.
    ///
    /// # Panics
    /// If no port is free.
    #[must_use]
    pub fn new() -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").expect("a port is free");
        let port = listener.local_addr().expect("it has a port").port();
        let seen = Arc::new(Mutex::new(Vec::new()));
        let noted = Arc::clone(&seen);
        std::thread::spawn(move || {
            for stream in listener.incoming().flatten() {
                let _ = stream.set_read_timeout(Some(Duration::from_secs(2)));
                let mut line = String::new();
                let _ = BufReader::new(stream).read_line(&mut line);
                noted.lock().expect("no holder falls").push(line.trim().to_owned());
            }
        });
        Self { port, seen }
    }

    /// Switches of a browser that sends everything here, this machine's own addresses too.
    #[must_use]
    pub fn switches(&self) -> [String; 2] {
        [format!("--proxy-server=http://127.0.0.1:{}", self.port), "--proxy-bypass-list=<-loopback>".to_owned()]
    }

    /// The first line of each request so far.
    ///
    /// # Panics
    /// Never.
    #[must_use]
    pub fn seen(&self) -> Vec<String> {
        self.seen.lock().expect("no holder falls").clone()
    }
}

impl Default for Watch {
    fn default() -> Self {
        Self::new()
    }
}
