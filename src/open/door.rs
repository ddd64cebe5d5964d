//! Who gets in: only the browser of whoever started the program, and only from its own pages.
//!
//! The program listens on the loopback address alone, but other users of the machine and other pages in the same
//! browser reach that, too. So a request must know a secret; must name the very host that was opened, since a foreign
//! name may be made to lead here (DNS rebinding); and must not come from a foreign page (Origin and Sec-Fetch-Site, W3C
//! Fetch Metadata Request Headers).

use axum::http::header::{COOKIE, HOST, ORIGIN};
use axum::http::{HeaderMap, HeaderName, HeaderValue};

use super::secret::Secret;

/// Where the secret is exchanged for a cookie.
pub(super) const ENTRANCE: &str = "/enter";
/// What a cookie is called, before the port: programs on other ports of this machine have theirs.
const COOKIE_NAME: &str = "hecatomb";

/// What a request must know and say to get in.
#[derive(Debug)]
pub struct Door {
    port: u16,
    /// What the first address holds.
    key: Secret,
    /// What the cookie holds.
    pass: Secret,
}

impl Door {
    /// A door with new secrets, where this port of the loopback address is listened on.
    ///
    /// # Errors
    ///
    /// If the system has no randomness to give.
    pub fn new(port: u16) -> Result<Door, getrandom::Error> {
        Ok(Door { port, key: Secret::new()?, pass: Secret::new()? })
    }

    /// The host that requests must name.
    fn host(&self) -> String {
        format!("127.0.0.1:{}", self.port)
    }

    /// The first address to open, which holds a secret.
    #[must_use]
    pub fn address(&self) -> String {
        format!("http://{}{ENTRANCE}?key={}", self.host(), self.key.told())
    }

    fn cookie_name(&self) -> String {
        format!("{COOKIE_NAME}-{}", self.port)
    }

    /// Whether somebody knows the secret of the first address.
    pub(super) fn opens_with(&self, key: &str) -> bool {
        self.key.is(key)
    }

    /// The cookie for those who do.
    pub(super) fn cookie(&self) -> String {
        let (name, pass) = (self.cookie_name(), self.pass.told());
        format!("{name}={pass}; Path=/; HttpOnly; SameSite=Strict")
    }

    /// Why a request is refused, whatever it knows.
    pub(super) fn foreign(&self, headers: &HeaderMap) -> Option<&'static str> {
        let said = |name: HeaderName| headers.get(name).map(HeaderValue::as_bytes);
        let origin = format!("http://{}", self.host());
        let site = HeaderName::from_static("sec-fetch-site");
        if headers.get_all(HOST).iter().count() != 1 || said(HOST) != Some(self.host().as_bytes()) {
            return Some("another host was asked for");
        }
        if said(ORIGIN).is_some_and(|said| said != origin.as_bytes()) {
            return Some("another page asks");
        }
        if said(site).is_some_and(|said| ![&b"same-origin"[..], b"none"].contains(&said)) {
            return Some("another page asks");
        }
        None
    }

    /// Whether a request has the cookie.
    pub(super) fn is_known(&self, headers: &HeaderMap) -> bool {
        let name = self.cookie_name();
        let cookies = headers.get_all(COOKIE).iter().filter_map(|value| value.to_str().ok());
        let mut pairs =
            cookies.flat_map(|all| all.split(';')).filter_map(|one| one.split_once('='));
        pairs.any(|(known, value)| known.trim() == name && self.pass.is(value.trim()))
    }
}
