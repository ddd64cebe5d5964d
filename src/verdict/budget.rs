//! How much a search may still do, in nodes.

/// The nodes a search may visit. A node is a position that is looked at.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Budget {
    limit: u64,
    used: u64,
}

/// The budget ran out.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Spent;

impl Budget {
    /// A budget of `nodes` nodes.
    #[must_use]
    pub const fn of(nodes: u64) -> Budget {
        Budget { limit: nodes, used: 0 }
    }

    /// The nodes visited so far.
    #[must_use]
    pub const fn used(&self) -> u64 {
        self.used
    }

    /// The nodes that are left.
    #[must_use]
    pub const fn left(&self) -> u64 {
        self.limit - self.used
    }

    /// Pays for one node.
    #[inline]
    pub(super) fn spend(&mut self) -> Result<(), Spent> {
        if self.used >= self.limit {
            return Err(Spent);
        }
        self.used += 1;
        Ok(())
    }

    /// Lets `work` spend at most `nodes` of what is left.
    pub(super) fn lend<T>(&mut self, nodes: u64, work: impl FnOnce(&mut Budget) -> T) -> T {
        let mut loan = Budget::of(nodes.min(self.left()));
        let result = work(&mut loan);
        self.used += loan.used();
        result
    }
}
