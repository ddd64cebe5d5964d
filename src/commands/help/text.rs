//! A topic as text for a terminal.

use textwrap::{Options, WordSplitter};

use super::document::{Inline, Passage, plain};

/// A document as lines of at most `width` columns.
pub(super) fn text(document: &[Passage], width: usize) -> String {
    let mut text = String::new();
    for block in document {
        // A term and what it means belong together.
        if !text.is_empty() && !matches!(block, Passage::Definition(_)) {
            text.push('\n');
        }
        match block {
            Passage::Title(words) | Passage::Heading(words) => add(&mut text, words, width, 0, 0),
            Passage::Paragraph(inlines) => add(&mut text, &quoted(inlines), width, 2, 2),
            Passage::Term(inlines) => add(&mut text, &plain(inlines), width, 2, 4),
            Passage::Definition(inlines) => add(&mut text, &quoted(inlines), width, 6, 6),
            Passage::Code(code) => code.lines().for_each(|line| add(&mut text, line, width, 4, 8)),
        }
    }
    text
}

/// Adds some words in lines of at most `width` columns, the first and the others indented.
fn add(text: &mut String, words: &str, width: usize, first: usize, others: usize) {
    let (first, others) = (" ".repeat(first), " ".repeat(others));
    let options = Options::new(width)
        .word_splitter(WordSplitter::NoHyphenation)
        .initial_indent(&first)
        .subsequent_indent(&others);
    text.push_str(&textwrap::fill(words, options));
    text.push('\n');
}

/// Words, with backticks around what is literal.
fn quoted(inlines: &[Inline]) -> String {
    let quoted = |inline: &Inline| match inline {
        Inline::Text(text) => text.clone(),
        Inline::Code(code) => format!("`{code}`"),
    };
    inlines.iter().map(quoted).collect()
}

#[cfg(test)]
mod tests {
    use super::super::TOPICS;
    use super::super::document::blocks;
    use super::*;

    /// The words of a text, without the marks of Markdown, and without its blanks.
    fn words(text: &str) -> String {
        text.chars().filter(|c| !"#`:".contains(*c) && !c.is_whitespace()).collect()
    }

    #[test]
    fn every_topic_is_shown_whole_and_fits_the_terminal() {
        for topic in TOPICS {
            for width in [40, 80, 120] {
                let text = text(&blocks(topic.source), width);
                let name = topic.name;
                for line in text.lines() {
                    assert!(line.chars().count() <= width, "{name} at {width}: {line}");
                }
                assert_eq!(words(&text), words(topic.source), "{name} at {width}");
            }
        }
    }

    #[test]
    fn blocks_are_indented_and_terms_stand_above_their_meaning() {
        let document =
            blocks("# Title\n\nSome `code`.\n\n    x = 1\n\n`a`, `b`\n: Their meaning.\n");
        assert_eq!(
            text(&document, 40),
            "Title\n\n  Some `code`.\n\n    x = 1\n\n  a, b\n      Their meaning.\n"
        );
    }
}
