//! Small plots in the manner of the diagrams: black on white, no more ink than the numbers need, and all
//! of it in words for people who can't see it.
//!
//! Values are in per cent. Nothing is drawn but what was measured, and an interval is drawn with
//! every score.

use std::fmt::Write;

use super::colours::{INK, PAPER, fill, stroke};
use super::xml::escaped;
use crate::statistics::{Difference, Interval, Outcomes};
use crate::words::Words;

/// A value with its interval, in per cent.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Measured {
    /// The value.
    pub value: f64,
    /// The lower end of its interval.
    pub lower: f64,
    /// The upper end of its interval.
    pub upper: f64,
}

impl Measured {
    /// The score of games with these outcomes; nothing if they are too few.
    #[must_use]
    pub fn score(outcomes: &Outcomes) -> Option<Measured> {
        let enough = outcomes.enough()?;
        Some(Measured::new(enough.score()?, enough.interval()?))
    }

    /// A difference of scores.
    #[must_use]
    pub fn gain(difference: Difference) -> Measured {
        Measured::new(difference.value, difference.interval)
    }

    fn new(value: f64, ends: Interval) -> Measured {
        let [value, lower, upper] = [value, ends.lower, ends.upper].map(|share| 100.0 * share);
        Measured { value, lower, upper }
    }
}

/// A finished plot.
#[derive(Clone, PartialEq, Debug)]
pub struct Plot {
    title: String,
    words: String,
    language: &'static str,
    width: f64,
    height: f64,
    body: String,
}

/// The width of a plot, in pixels.
const WIDTH: f64 = 340.0;
/// The height of an upright plot.
const HEIGHT: f64 = 210.0;
/// The room for figures on the left of an upright plot, for the names below, and around.
const LEFT: f64 = 34.0;
const BELOW: f64 = 40.0;
const TOP: f64 = 12.0;
const RIGHT: f64 = 8.0;
/// The size of type.
const TYPE: f64 = 12.5;
/// The height of a row of a plot that lies on its side.
const ROW: f64 = 24.0;
/// The room for names in such a plot.
const NAMES: f64 = 130.0;

const HAIR: f64 = 0.6;
const LINE: f64 = 1.4;

impl Plot {
    /// Scores by groups: a dot for the value, a line for its interval, and the line of equal chances.
    pub fn of_scores(title: &str, below: &str, groups: &[(String, Measured)], said: Words) -> Plot {
        let y = |value: f64| TOP + (HEIGHT - TOP - BELOW) * (1.0 - value / 100.0);
        let mut body = String::new();
        for value in [0.0, 50.0, 100.0] {
            body += &tick_on_the_left(y(value), &format!("{value:.0}"));
        }
        body += &dashed(LEFT, y(50.0), WIDTH - RIGHT, y(50.0));
        for (x, (name, score)) in places(groups.len()).zip(groups) {
            body += &line(x, y(score.lower), x, y(score.upper), LINE);
            body += &dot(x, y(score.value));
            body += &text(x, HEIGHT - BELOW + 18.0, "middle", name);
        }
        body += &text(f64::midpoint(LEFT, WIDTH - RIGHT), HEIGHT - 4.0, "middle", below);
        let words = told(groups.iter().map(|(name, score)| {
            let Measured { value, lower, upper } = score;
            let [value, lower, upper] =
                [value, lower, upper].map(|number| format!("{number:.0}").into());
            let name = ("name", name.as_str().into());
            said.tell(
                "plot-value-from-to",
                [name, ("value", value), ("lower", lower), ("upper", upper)],
            )
        }));
        let language = said.language().code();
        Plot { title: title.to_owned(), words, language, width: WIDTH, height: HEIGHT, body }
    }

    /// Frequencies by groups, as bars.
    pub fn of_frequencies(title: &str, below: &str, groups: &[(String, f64)], said: Words) -> Plot {
        let most = groups.iter().map(|(_, frequency)| *frequency).fold(1.0, f64::max);
        let y = |value: f64| TOP + (HEIGHT - TOP - BELOW) * (1.0 - value / most);
        let mut body =
            tick_on_the_left(y(0.0), "0") + &tick_on_the_left(y(most), &short(most, said));
        let half = (0.36 * (WIDTH - LEFT - RIGHT) / groups.len().max(1) as f64).min(9.0);
        let step = groups.len().div_ceil(7).max(1);
        for (index, (x, (name, frequency))) in places(groups.len()).zip(groups).enumerate() {
            body += &bar(x - half, y(*frequency), 2.0 * half, y(0.0) - y(*frequency));
            if index % step == 0 {
                body += &text(x, HEIGHT - BELOW + 18.0, "middle", name);
            }
        }
        body += &line(LEFT, y(0.0), WIDTH - RIGHT, y(0.0), HAIR);
        body += &text(f64::midpoint(LEFT, WIDTH - RIGHT), HEIGHT - 4.0, "middle", below);
        let words = told(groups.iter().map(|(name, value)| {
            let value = short(*value, said).into();
            said.tell("plot-value", [("name", name.as_str().into()), ("value", value)])
        }));
        let language = said.language().code();
        Plot { title: title.to_owned(), words, language, width: WIDTH, height: HEIGHT, body }
    }

    /// Gains and losses with their names, one below the other, on both sides of the line of no
    /// difference.
    pub fn of_gains(title: &str, gains: &[(String, Measured)]) -> Plot {
        let width = WIDTH + NAMES;
        let widest = widest(gains.iter().map(|(_, gain)| gain));
        let across = Across { left: NAMES, right: width - RIGHT, widest };
        let foot = TOP + ROW * gains.len() as f64;
        let mut body = line(across.x(0.0), TOP, across.x(0.0), foot, HAIR);
        for ((name, gain), row) in gains.iter().zip(0..) {
            let y = TOP + ROW * (f64::from(row) + 0.5);
            body += &text(NAMES - 8.0, y + 4.0, "end", name);
            body += &across.whisker(gain, y);
        }
        for value in [-widest, 0.0, widest] {
            body += &text(across.x(value), foot + 18.0, anchor(value), &signed(value));
        }
        let words = told(gains.iter().map(|(name, gain)| {
            let ends = [gain.lower, gain.upper].map(signed).join(" to ");
            format!("{name}: {} ({ends})", signed(gain.value))
        }));
        let (title, language) = (title.to_owned(), Words::ENGLISH.language().code());
        Plot { title, words, language, width, height: foot + 24.0, body }
    }

    /// One gain for a row of a table, without figures; `widest` is the same for all rows.
    pub fn of_one_gain(title: &str, gain: &Measured, widest: f64, said: Words) -> Plot {
        let (width, height) = (130.0, 18.0);
        let across = Across { left: 3.0, right: width - 3.0, widest };
        let zero = line(across.x(0.0), 0.0, across.x(0.0), height, HAIR);
        let body = zero + &across.whisker(gain, height / 2.0);
        let [value, lower, upper] =
            [gain.value, gain.lower, gain.upper].map(|number| signed(number).into());
        let words =
            said.tell("plot-gain-from-to", [("value", value), ("lower", lower), ("upper", upper)]);
        Plot {
            title: title.to_owned(),
            words,
            language: said.language().code(),
            width,
            height,
            body,
        }
    }

    /// What stands in place of a plot of which too little is known.
    #[must_use]
    pub fn of_nothing(title: &str) -> Plot {
        let words = "Too few games to say anything.".to_owned();
        let body = text(LEFT, 2.0 * TYPE, "start", &words);
        let (title, language) = (title.to_owned(), Words::ENGLISH.language().code());
        Plot { title, words, language, width: WIDTH, height: 3.0 * TYPE, body }
    }

    /// A drawing; `id` must differ from those of all other drawings of its page.
    pub fn to_svg(&self, id: &str) -> String {
        let (id, Plot { title, words, language, width, height, body }) = (escaped(id), self);
        let (title, words) = (escaped(title), escaped(words));
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" \
             width=\"{width}\" height=\"{height}\" role=\"img\" lang=\"{language}\" font-size=\"{TYPE}\" \
             aria-labelledby=\"{id}-title\" aria-describedby=\"{id}-words\">\n\
             <title id=\"{id}-title\">{title}</title>\n<desc id=\"{id}-words\">{words}</desc>\n\
             {body}</svg>\n"
        )
    }
}

/// Plots with their titles, one below the other, as a file of its own on white.
#[must_use]
pub fn in_one_picture(title: &str, plots: &[Plot]) -> String {
    const HEADING: f64 = 30.0;
    const MARGIN: f64 = 20.0;
    const TITLE: f64 = 18.0;
    let width = plots.iter().map(|plot| plot.width).fold(0.0, f64::max) + 2.0 * MARGIN;
    let mut body = format!(
        "<text x=\"{MARGIN}\" y=\"{}\" font-size=\"{TITLE}\" {}>{}</text>\n",
        MARGIN + TITLE,
        fill(INK),
        escaped(title)
    );
    let mut y = MARGIN + TITLE + MARGIN;
    for (plot, number) in plots.iter().zip(1..) {
        body += &text(MARGIN, y + TYPE, "start", &plot.title);
        let at = format!("<svg x=\"{MARGIN}\" y=\"{}\" ", y + HEADING);
        body += &plot.to_svg(&format!("plot-{number}")).replacen("<svg ", &at, 1);
        y += HEADING + plot.height + MARGIN;
    }
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {y}\" width=\"{width}\" \
         height=\"{y}\" font-family=\"Georgia,'Times New Roman',Times,serif\" font-size=\"{TYPE}\">\n\
         <title>{}</title>\n<rect width=\"{width}\" height=\"{y}\" {}/>\n{body}</svg>\n",
        escaped(title),
        fill(PAPER)
    )
}

/// The greatest value that plots of these gains must have room for; at least 5 hundredths.
pub(crate) fn widest<'m>(gains: impl IntoIterator<Item = &'m Measured>) -> f64 {
    let ends = gains.into_iter().flat_map(|gain| [gain.lower.abs(), gain.upper.abs()]);
    (ends.fold(5.0, f64::max) / 5.0).ceil() * 5.0
}

/// An axis from side to side with nothing in its middle.
struct Across {
    left: f64,
    right: f64,
    widest: f64,
}

impl Across {
    fn x(&self, value: f64) -> f64 {
        let half = (self.right - self.left) / 2.0;
        self.left + half + half * value / self.widest
    }

    fn whisker(&self, gain: &Measured, y: f64) -> String {
        line(self.x(gain.lower), y, self.x(gain.upper), y, LINE) + &dot(self.x(gain.value), y)
    }
}

/// The middles of `count` groups from left to right.
fn places(count: usize) -> impl Iterator<Item = f64> {
    let step = (WIDTH - LEFT - RIGHT) / count.max(1) as f64;
    (0..count).map(move |index| LEFT + step * (index as f64 + 0.5))
}

fn told(parts: impl Iterator<Item = String>) -> String {
    parts.collect::<Vec<_>>().join("; ") + "."
}

fn tick_on_the_left(y: f64, name: &str) -> String {
    line(LEFT - 5.0, y, LEFT, y, HAIR) + &text(LEFT - 9.0, y + 4.0, "end", name)
}

fn line(x: f64, y: f64, to_x: f64, to_y: f64, width: f64) -> String {
    format!("<path d=\"M{x:.1} {y:.1}L{to_x:.1} {to_y:.1}\" {}/>\n", stroke(INK, width))
}

fn dashed(x: f64, y: f64, to_x: f64, to_y: f64) -> String {
    line(x, y, to_x, to_y, HAIR).replace("<path ", "<path stroke-dasharray=\"1 3\" ")
}

fn dot(x: f64, y: f64) -> String {
    format!("<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"4\" {}/>\n", fill(INK))
}

fn bar(x: f64, y: f64, width: f64, height: f64) -> String {
    let ink = fill(INK);
    format!("<rect x=\"{x:.1}\" y=\"{y:.1}\" width=\"{width:.1}\" height=\"{height:.1}\" {ink}/>\n")
}

fn text(x: f64, y: f64, anchor: &str, words: &str) -> String {
    let (words, ink) = (escaped(words), fill(INK));
    let mut svg = String::new();
    let _ =
        writeln!(svg, r#"<text x="{x:.1}" y="{y:.1}" text-anchor="{anchor}" {ink}>{words}</text>"#);
    svg
}

/// Where the text at a value of an axis is held, so that it stays within.
fn anchor(value: f64) -> &'static str {
    match value.total_cmp(&0.0) {
        std::cmp::Ordering::Less => "start",
        std::cmp::Ordering::Equal => "middle",
        std::cmp::Ordering::Greater => "end",
    }
}

/// With its sign, a true minus: `+5`, `−12`, `0`.
fn signed(value: f64) -> String {
    match value.round() {
        0.0 => "0".to_owned(),
        rounded if rounded < 0.0 => format!("\u{2212}{:.0}", -rounded),
        rounded => format!("+{rounded:.0}"),
    }
}

/// With one decimal if it is small.
fn short(value: f64, said: Words) -> String {
    if value < 10.0 { said.tenths(value) } else { format!("{value:.0}") }
}
