//! Turns the right half of a man's profile into its whole outline.
//!
//! Invariant: the left half is the exact mirror of the right.

/// The upright middle line of a man, in a box 100 wide.
const AXIS: f32 = 50.0;

/// A point of a profile: its distance from the axis, and its height in the box, counted downwards.
pub(super) type Point = (f32, f32);

/// One part of a profile, going on from where the last one ended.
#[derive(Clone, Copy)]
pub(super) enum Cut {
    /// A straight line to a point.
    To(Point),
    /// A Bézier curve: two guides and its end.
    Bend(Point, Point, Point),
}

impl Cut {
    fn end(self) -> Point {
        match self {
            Self::To(end) | Self::Bend(_, _, end) => end,
        }
    }

    /// The same part walked the other way, to the point where it started.
    fn back_to(self, start: Point) -> Self {
        match self {
            Self::To(_) => Self::To(start),
            Self::Bend(first, second, _) => Self::Bend(second, first, start),
        }
    }

    /// Path data on the right (1) or on the left (-1) of the axis.
    fn on_side(self, side: f32) -> String {
        let at = |(x, y): Point| format!("{} {y}", AXIS + side * x);
        match self {
            Self::To(end) => format!("L{}", at(end)),
            Self::Bend(first, second, end) => {
                format!("C{} {} {}", at(first), at(second), at(end))
            }
        }
    }
}

/// The closed outline, as path data, of a profile that begins on the axis at height `top` and should end
/// on it too.
pub(super) fn turned(top: f32, profile: &[Cut]) -> String {
    let starts: Vec<Point> =
        std::iter::once((0.0, top)).chain(profile.iter().map(|cut| cut.end())).collect();
    let down = profile.iter().map(|cut| cut.on_side(1.0));
    let up = profile.iter().zip(starts).rev().map(|(cut, start)| cut.back_to(start).on_side(-1.0));
    format!("M{AXIS} {top}{}z", down.chain(up).collect::<String>())
}
