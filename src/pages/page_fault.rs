//! Why a page can't be written.

use super::press::PressFault;

/// Why a page can't be written.
#[derive(Debug, thiserror::Error)]
pub enum PageFault {
    /// What the template engine says; a page that renders once renders always.
    #[error(transparent)]
    Template(#[from] minijinja::Error),
    /// There is no PDF.
    #[error(transparent)]
    Press(#[from] PressFault),
}
