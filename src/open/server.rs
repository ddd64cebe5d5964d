//! The server: it listens on the loopback address until it is told to end.

use std::io;
use std::net::{Ipv4Addr, TcpListener};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use tokio::runtime::{Builder, Runtime};

use super::opened::Opened;
use super::router::router;

/// How long requests that are being answered may take when the server is told to end.
const TO_FINISH: Duration = Duration::from_secs(1);
/// How often the server looks whether it was interrupted.
const LOOK: Duration = Duration::from_millis(50);

/// Listens on a port of the loopback address, or on one that is free; nobody on another machine reaches it.
///
/// # Errors
///
/// What the system says if it can't be listened on.
pub fn listen(port: Option<u16>) -> io::Result<(TcpListener, u16)> {
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, port.unwrap_or(0)))?;
    let port = listener.local_addr()?.port();
    Ok((listener, port))
}

/// Serves pages until `stop` is set or somebody ends it on a page.
///
/// # Errors
///
/// What the system says if it can't be.
pub fn serve(listener: TcpListener, opened: Arc<Opened>, stop: &AtomicBool) -> io::Result<()> {
    listener.set_nonblocking(true)?;
    let runtime: Runtime = Builder::new_multi_thread().worker_threads(2).enable_all().build()?;
    let served = runtime.block_on(async {
        let listener = tokio::net::TcpListener::from_std(listener)?;
        let ended = opened.clone();
        let server = axum::serve(listener, router(opened.clone()));
        let server = server.with_graceful_shutdown(async move { ended.ended().await });
        tokio::select! {
            served = server.into_future() => served,
            () = finished(&opened) => Ok(()),
            () = interrupted(stop) => Ok(()),
        }
    });
    runtime.shutdown_timeout(TO_FINISH);
    served
}

/// Waits until the server was told to end, and a little longer: a browser may keep its connection open.
async fn finished(opened: &Opened) {
    opened.ended().await;
    tokio::time::sleep(TO_FINISH).await;
}

async fn interrupted(stop: &AtomicBool) {
    while !stop.load(Ordering::Relaxed) {
        tokio::time::sleep(LOOK).await;
    }
}
