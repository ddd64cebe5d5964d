//! Where shares of a collection meet: between two games of a source.

/// A place between two games of a source, or before its first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Edge {
    /// The index of the source.
    pub source: usize,
    /// The byte of the file from which on it must be read.
    pub start: u64,
    /// The number of the byte of text that stands there: in plain text its place in the file, else 0.
    pub base: u64,
    /// The number of the byte of text with which the game after the edge starts, in the same count.
    pub offset: u64,
}

impl Edge {
    /// The edge before a source.
    #[must_use]
    pub fn before(source: usize) -> Edge {
        Edge { source, start: 0, base: 0, offset: 0 }
    }

    /// Whether it parts its source.
    #[must_use]
    pub fn is_inside(&self) -> bool {
        *self != Edge::before(self.source)
    }

    /// Whether a strand of its source that starts at this byte of the file belongs to what comes after it alone.
    pub(super) fn is_reached_by(&self, source: usize, start: u64) -> bool {
        let is_at_start_of_strand = self.base == self.offset;
        (source, start) > (self.source, self.start)
            || (source, start) == (self.source, self.start) && is_at_start_of_strand
    }
}
