//! Plots.

use super::Runs;

/// An SVG with the plots of a query.
pub(super) fn picture(_query: &str, _runs: &Runs) -> anyhow::Result<String> {
    anyhow::bail!("not yet")
}
