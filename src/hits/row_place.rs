//! Where a row of a run stands, to be read again without what comes before it.

/// Where a hit of a query stands.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct HitPlace {
    /// Its row in the table of hits.
    pub(super) hit: RowPlace,
    /// Where its row in the table of verdicts begins, in bytes, if there is one.
    pub(super) verdict: Option<u64>,
}

impl HitPlace {
    /// Whether it is in the run in which another one is.
    #[must_use]
    pub fn is_in_run_of(self, other: HitPlace) -> bool {
        self.hit.run() == other.hit.run()
    }
}

/// Where a row stands: the index of the run, and the byte of the file at which it begins.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct RowPlace(u64);

/// The bits of the byte; no file system holds larger files than that.
const BYTE_BITS: u32 = 48;

impl RowPlace {
    /// A place; nothing if there are too many runs or bytes.
    pub(super) fn new(run: usize, byte: u64) -> Option<RowPlace> {
        let run = u16::try_from(run).ok()?;
        (byte < 1 << BYTE_BITS).then_some(RowPlace(u64::from(run) << BYTE_BITS | byte))
    }

    pub(super) fn run(self) -> usize {
        (self.0 >> BYTE_BITS) as usize
    }

    pub(super) fn byte(self) -> u64 {
        self.0 & ((1 << BYTE_BITS) - 1)
    }
}
