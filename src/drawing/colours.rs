//! The colours of a diagram, which a page may set.
//!
//! Each colour is a custom property, with black or white to fall back on: `--ink` for all lines,
//! `--paper` for the ground, `--hatch` for the dark squares, `--white-man` and `--black-man` for the
//! bodies of the men. The last three follow ink and paper if nothing is said. A page that makes ink the
//! lighter of the two must set them, or White's men will look like Black's: see [`DARK`].

/// Declarations for a dark page, under which White stays the lighter side and hatched squares the darker.
pub const DARK: &str = "--paper:#615d55;--ink:#f1ede3;--hatch:#1b1a18;--white-man:#f1ede3;\
                        --black-man:#1b1a18";

/// A colour twice over: for readers that know no custom properties, and for those that do.
#[derive(Clone, Copy)]
pub(super) struct Paint {
    plain: &'static str,
    property: &'static str,
}

pub(super) const INK: Paint = Paint { plain: "currentColor", property: "var(--ink,currentColor)" };
pub(super) const PAPER: Paint = Paint { plain: "#fff", property: "var(--paper,#fff)" };
pub(super) const HATCH: Paint =
    Paint { plain: "currentColor", property: "var(--hatch,var(--ink,currentColor))" };
pub(super) const WHITE_MAN: Paint =
    Paint { plain: "#fff", property: "var(--white-man,var(--paper,#fff))" };
pub(super) const BLACK_MAN: Paint =
    Paint { plain: "currentColor", property: "var(--black-man,var(--ink,currentColor))" };

/// The attributes of a stroke without filling; `width` in units of the drawing.
pub(super) fn stroke(paint: Paint, width: f64) -> String {
    let Paint { plain, property } = paint;
    format!(r#"fill="none" stroke="{plain}" stroke-width="{width}" style="stroke:{property}""#)
}

/// The attributes of a filling without stroke.
pub(super) fn fill(paint: Paint) -> String {
    let Paint { plain, property } = paint;
    format!(r#"fill="{plain}" style="fill:{property}""#)
}

/// The attributes of a filling with a stroke of ink.
pub(super) fn fill_in_ink(paint: Paint, width: f64) -> String {
    let Paint { plain, property } = paint;
    let (ink, ink_property) = (INK.plain, INK.property);
    format!(
        r#"fill="{plain}" stroke="{ink}" stroke-width="{width}" style="fill:{property};stroke:{ink_property}""#
    )
}

/// A drawing without the custom properties, in the colours that stand beside them.
pub(super) fn plain(svg: &str) -> String {
    let mut plain = svg.to_owned();
    for paint in [INK, PAPER, HATCH, WHITE_MAN, BLACK_MAN] {
        for attribute in ["fill", "stroke"] {
            plain = plain.replace(&format!("{attribute}:{}", paint.property), "");
        }
    }
    plain.replace(" style=\";\"", "").replace(" style=\"\"", "")
}
