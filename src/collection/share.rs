//! The share of a collection that one of several machines mines.
//!
//! Invariant: the shares of a collection joined are the collection, whoever cuts them.

use std::fmt;
use std::str::FromStr;

use super::edge::Edge;
use super::edges::edges_near;
use super::source::Source;

/// One of several parts of equal size, counted from 1.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct PartOf {
    /// Which part.
    pub number: u32,
    /// How many there are.
    pub of: u32,
}

/// A text that names no part.
#[derive(thiserror::Error, Clone, PartialEq, Eq, Debug)]
#[error(
    "a part is written like 2/7, the second of seven; there are at most {} parts",
    PartOf::MOST
)]
pub struct NotAPart;

impl PartOf {
    /// How many parts there can be.
    const MOST: u32 = 10_000;
}

impl FromStr for PartOf {
    type Err = NotAPart;

    fn from_str(text: &str) -> Result<PartOf, NotAPart> {
        let (number, of) = text.split_once('/').ok_or(NotAPart)?;
        let part = PartOf {
            number: number.parse().map_err(|_| NotAPart)?,
            of: of.parse().map_err(|_| NotAPart)?,
        };
        let is_one = (1..=part.of).contains(&part.number) && part.of <= PartOf::MOST;
        if is_one { Ok(part) } else { Err(NotAPart) }
    }
}

impl fmt::Display for PartOf {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.number, self.of)
    }
}

/// The share of a collection between two edges.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Share {
    /// Where it begins.
    pub from: Edge,
    /// Where it ends.
    pub to: Edge,
}

impl Share {
    /// The share of a part of sources that are all files, by their sizes on disk.
    #[must_use]
    pub fn of(part: PartOf, sources: &[Source]) -> Share {
        let edge = |number| edge_after(number, part.of, sources);
        Share { from: edge(part.number - 1), to: edge(part.number) }
    }

    /// The bytes of files before it, and its own.
    #[must_use]
    pub fn bytes(&self, sources: &[Source]) -> (u64, u64) {
        let before = |edge: &Edge| {
            let sources = sources.iter().take(edge.source);
            sources.filter_map(|source| source.size).sum::<u64>() + edge.start
        };
        let [from, to] = [&self.from, &self.to].map(before);
        (from, to - from)
    }
}

/// The edge between the first `number` of so many parts and the others.
fn edge_after(number: u32, of: u32, sources: &[Source]) -> Edge {
    if number == 0 || number == of {
        return Edge::before(if number == 0 { 0 } else { sources.len() });
    }
    let near = |number: u32| place_near(u128::from(number), u128::from(of), sources);
    let (source, _) = near(number);
    if source == sources.len() {
        return Edge::before(source);
    }
    // Where games that start for certain are rare, an edge depends on those before it.
    let places = (1..=number).map(near).filter(|place| place.0 == source);
    let bytes: Vec<u64> = places.map(|(_, byte)| byte).collect();
    edges_near(sources, source, &bytes).last().copied().unwrap_or(Edge::before(source))
}

/// The source, and the byte of it, before which so many parts of so many lie.
fn place_near(number: u128, of: u128, sources: &[Source]) -> (usize, u64) {
    let sizes = sources.iter().map(|source| source.size.unwrap_or(0));
    let total: u128 = sizes.clone().map(u128::from).sum();
    let mut left = u64::try_from(total * number / of).unwrap_or(u64::MAX);
    for (source, size) in sizes.enumerate() {
        if left < size {
            return (source, left);
        }
        left -= size;
    }
    (sources.len(), 0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_are_read_as_they_are_written() {
        for text in ["1/1", "2/7", "7/7", "10000/10000"] {
            assert_eq!(text.parse::<PartOf>().map(|part| part.to_string()), Ok(text.to_owned()));
        }
        for text in ["", "2", "0/7", "8/7", "1/0", "-1/2", "1/2/3", "1/10001", "a/b"] {
            assert_eq!(text.parse::<PartOf>(), Err(NotAPart), "{text}");
        }
    }
}
