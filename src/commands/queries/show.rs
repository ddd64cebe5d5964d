//! How a query is understood: every sentence with its squares for both colours and wings, and a board
//! that marks them.

use std::fmt::Write as _;

use shakmaty::{Bitboard, Color, File, Rank, Square};

use crate::board::{View, Wing};
use crate::query::{Condition, Moment, Query, Squares, Wings};

/// Larger sets of squares are whole files or ranks, which a board can't single out.
const MOST_MARKED: usize = 8;

/// One sentence of a query with the squares it names.
struct Line<'q> {
    heading: &'static str,
    name: &'q str,
    text: &'q str,
    squares: Squares,
}

/// A query in full, in lines of at most `width` columns where possible.
pub(super) fn describe(query: &Query, width: usize) -> String {
    let mut text = format!("{}: {}\n", query.name, query.title);
    let wings = match query.wings {
        Wings::AsWritten => "as written",
        Wings::Both => "both",
    };
    if !query.also_called.is_empty() {
        let _ = writeln!(text, "also called {}", query.also_called.join(", "));
    }
    let _ = writeln!(text, "chapter {}, wings {wings}", query.chapter.word());
    text += &files_in_words(query);
    if let Some(general) = &query.form_of {
        let _ = writeln!(text, "a form of {general}");
    }
    if !query.about.is_empty() {
        let prose = query.about.split_whitespace().collect::<Vec<_>>().join(" ");
        let _ = writeln!(text, "\n{}", textwrap::fill(&prose, width));
    }
    let lines = lines(query);
    let name_width = lines.iter().map(|line| line.name.len()).max().unwrap_or(0);
    let heading_width = lines.iter().map(|line| line.heading.len()).fold(9, usize::max);
    text.push('\n');
    for line in &lines {
        let head = format!("{:<heading_width$}  {:<name_width$}  ", line.heading, line.name);
        let indent = " ".repeat(head.len() + 2);
        let options = textwrap::Options::new(width).subsequent_indent(&indent);
        let _ = writeln!(text, "{}", textwrap::fill(&format!("{head}{}", line.text), options));
        let squares = squares_in_words(query, line.squares);
        if !squares.is_empty() {
            let options =
                textwrap::Options::new(width).initial_indent(&indent).subsequent_indent(&indent);
            let _ = writeln!(text, "{}", textwrap::fill(&squares, options));
        }
    }
    for (required, _) in &query.requires {
        let _ = writeln!(text, "{:<heading_width$}  {required}", "required");
    }
    text + "\n" + &board(&lines)
}

/// The files on which a query is tried that is not tried as written alone.
fn files_in_words(query: &Query) -> String {
    let shift = |by| query.shift(by, Wing::Written);
    let shifts: Vec<String> =
        query.shifts().into_iter().filter_map(shift).map(|shift| shift.to_string()).collect();
    match (shifts.is_empty(), query.wings) {
        (true, _) => String::new(),
        (false, Wings::AsWritten) => format!("files any: as written, {}\n", shifts.join(", ")),
        (false, Wings::Both) => {
            format!("files any: as written, {}, and all these mirrored\n", shifts.join(", "))
        }
    }
}

fn lines<'q>(query: &'q Query) -> Vec<Line<'q>> {
    let offer = Line {
        heading: "offer",
        name: "",
        text: &query.offer_text,
        squares: query.offer.squares(),
    };
    let conditions = |heading, texts: &'q [String], conditions: &'q [Condition]| {
        let line = move |(text, condition): (&'q String, &'q Condition)| Line {
            heading,
            name: "",
            text,
            squares: condition.squares(),
        };
        texts.iter().zip(conditions).map(line)
    };
    let when = conditions("when", &query.when_texts, &query.when);
    let after = conditions("after", &query.after_texts, &query.after);
    let follow_ups = query.follow_ups.iter().map(|follow_up| Line {
        heading: "follow-up",
        name: &follow_up.name,
        text: &follow_up.text,
        squares: follow_up.sentence.squares(),
    });
    let factors = query.factors.iter().map(|factor| Line {
        heading: match factor.moment {
            Moment::Before => "factor",
            Moment::After => "factor after",
        },
        name: &factor.name,
        text: &factor.text,
        squares: factor.condition.squares(),
    });
    std::iter::once(offer).chain(when).chain(after).chain(follow_ups).chain(factors).collect()
}

/// The squares of a sentence for each colour and wing; nothing if it names none, or all.
fn squares_in_words(query: &Query, squares: Squares) -> String {
    if squares.named().is_empty() || squares.named() == Bitboard::FULL {
        return String::new();
    }
    let for_side = |attacker: Color| {
        let seen = |wing| named(View { attacker, wing }.turn_all(squares.named()));
        let side = attacker.fold_wb("White", "Black");
        match query.wings {
            Wings::AsWritten => format!("{side}: {}", seen(Wing::Written)),
            Wings::Both => {
                format!("{side}: {}, mirrored {}", seen(Wing::Written), seen(Wing::Mirrored))
            }
        }
    };
    format!("{}; {}", for_side(Color::White), for_side(Color::Black))
}

/// A set of squares by name: whole files, whole ranks, and then the squares that are left.
fn named(squares: Bitboard) -> String {
    let files = File::ALL.into_iter().filter(|&file| Bitboard::from_file(file).is_subset(squares));
    let ranks = Rank::ALL.into_iter().filter(|&rank| Bitboard::from_rank(rank).is_subset(squares));
    let mut left = squares;
    let mut names: Vec<String> = Vec::new();
    for file in files {
        left &= !Bitboard::from_file(file);
        names.push(format!("{}-file", file.char()));
    }
    for rank in ranks {
        left &= !Bitboard::from_rank(rank);
        names.push(format!("rank {}", rank.char()));
    }
    names.extend(left.into_iter().map(|square| square.to_string()));
    names.join(" ")
}

/// A board of text as White attacks, which marks the squares that the sentences name.
fn board(lines: &[Line<'_>]) -> String {
    let marked = |heading: &str| {
        lines
            .iter()
            .filter(|line| line.heading == heading && line.squares.named().count() <= MOST_MARKED)
            .fold(Bitboard::EMPTY, |all, line| all | line.squares.named())
    };
    let kinds = [
        ('O', "offer", marked("offer")),
        ('w', "when", marked("when")),
        ('a', "after", marked("after")),
        ('f', "follow-up", marked("follow-up")),
        ('x', "factor", marked("factor") | marked("factor after")),
    ];
    let mark = |square| {
        let kind = kinds.iter().find(|(_, _, squares)| squares.contains(square));
        kind.map_or('.', |&(mark, _, _)| mark)
    };
    let row = |rank: Rank| {
        let marks = File::ALL.into_iter().map(|file| mark(Square::from_coords(file, rank)));
        let marks: Vec<String> = marks.map(String::from).collect();
        format!("  {} {}\n", rank.char(), marks.join(" "))
    };
    let rows: String = Rank::ALL.into_iter().rev().map(row).collect();
    let used = kinds.iter().filter(|(_, _, squares)| !squares.is_empty());
    let legend: Vec<String> = used.map(|(mark, word, _)| format!("{mark} {word}")).collect();
    let near_king = if lines.iter().any(|line| line.squares.move_with_king()) {
        "\nSquares told by the defender's king move with it.\n"
    } else {
        ""
    };
    format!(
        "When White attacks ({}; the first that fits is shown):\n\n{rows}    a b c d e f g h\n\
         {near_king}",
        legend.join(", ")
    )
}
