//! Reads a sentence at its place in a file and puts what is wrong with it into words.

use chumsky::error::{RichPattern, RichReason};

use super::condition::Condition;
use super::grammar::{self, Trouble};
use super::hints::instead_of;
use super::sentence::MoveSentence;
use super::words::{self, Word};
use crate::advice::nearest;
use crate::toml_files::{Problem, Text};
use crate::visible::{code_of, is_hidden};

/// Reads a move sentence.
pub(super) fn move_sentence(text: &Text) -> Result<MoveSentence, Vec<Problem>> {
    read(text, grammar::read_move)
}

/// Reads a condition.
pub(super) fn condition(text: &Text) -> Result<Condition, Vec<Problem>> {
    read(text, grammar::read_condition)
}

fn read<T>(
    text: &Text,
    grammar: impl for<'a> Fn(&'a [Word<'a>], usize) -> Result<T, Vec<Trouble<'a>>>,
) -> Result<T, Vec<Problem>> {
    if let Some(problem) = unseen(text) {
        return Err(vec![problem]);
    }
    let words = words::split(&text.value);
    grammar(&words, text.value.len())
        .map_err(|troubles| troubles.iter().map(|trouble| in_words(text, trouble)).collect())
}

/// The first character that can't be seen, or is a blank that looks like another.
fn unseen(text: &Text) -> Option<Problem> {
    let is_unseen = |c: &char| is_hidden(*c) && !c.is_ascii_whitespace();
    let (at, c) = text.value.char_indices().find(|(_, c)| is_unseen(c))?;
    let message = format!("the character `{}` can't be seen here", code_of(c));
    let problem = Problem::new(text.place(at..at + c.len_utf8()), message);
    Some(problem.with_hint("delete it, or put an ordinary blank in its place"))
}

/// Turns what the parser says into a problem of the file.
fn in_words(text: &Text, trouble: &Trouble<'_>) -> Problem {
    let span = trouble.span();
    let place = text.place(span.start..span.end);
    if let RichReason::Custom(message) = trouble.reason() {
        return Problem::new(place, message.clone());
    }
    let found = Some(&text.value[span.start..span.end]).filter(|word| !word.is_empty());
    let message = match found {
        Some(word) => format!("`{word}` is not understood here"),
        None => "the sentence is not complete".to_owned(),
    };
    let expected: Vec<&RichPattern<'_, &str>> = trouble.expected().collect();
    let words = expected.iter().filter_map(|pattern| match pattern {
        RichPattern::Token(word) => Some(**word),
        _ => None,
    });
    let problem = Problem { expected: list_expected(&expected), ..Problem::new(place, message) };
    let before = text.value[..span.start].split_ascii_whitespace().next_back();
    match found.and_then(|found| instead_of(found, before)) {
        Some(hint) => problem.with_hint(hint),
        None => problem.with_nearest(found.and_then(|found| nearest(found, words))),
    }
}

/// The expected words and things, each once, sorted, as prose.
fn list_expected(expected: &[&RichPattern<'_, &str>]) -> Option<String> {
    let mut items: Vec<String> = expected
        .iter()
        .filter_map(|pattern| match pattern {
            RichPattern::Token(word) => Some(format!("`{}`", **word)),
            RichPattern::Label(label) => Some(label.to_string()),
            RichPattern::EndOfInput => Some("the end of the sentence".to_owned()),
            _ => None,
        })
        .collect();
    items.sort();
    items.dedup();
    let last = items.pop()?;
    Some(if items.is_empty() { last } else { format!("{} or {last}", items.join(", ")) })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(value: &str) -> Text {
        Text { value: value.to_owned(), span: 10..10 + value.len(), is_verbatim: true }
    }

    #[test]
    fn wrong_word_is_named_with_its_place_and_the_nearest_word() {
        let problems = move_sentence(&text("bishop takez pawn on h7")).expect_err("a wrong word");
        assert_eq!(problems.len(), 1);
        assert_eq!(problems[0].span, 17..22);
        assert_eq!(problems[0].hint.as_deref(), Some("did you mean `takes`?"));
    }

    #[test]
    fn character_that_cant_be_seen_is_named_at_its_place() {
        for (sentence, code, span) in [
            ("bishop\u{200b} takes pawn on h7", "U+200B", 16..19),
            ("bishop takes\u{a0}pawn on h7", "U+00A0", 22..24),
            ("\u{feff}bishop takes pawn on h7", "U+FEFF", 10..13),
        ] {
            let problems = move_sentence(&text(sentence)).expect_err("it can't be seen");
            assert_eq!(problems.len(), 1);
            assert!(problems[0].message.contains(code), "{}", problems[0].message);
            assert_eq!(problems[0].span, span);
        }
        assert!(move_sentence(&text("bishop\ttakes\n pawn on h7")).is_ok());
    }

    #[test]
    fn clause_said_twice_is_a_problem() {
        let problems = move_sentence(&text("bishop to h7 with check without check"));
        assert!(problems.is_err_and(|all| all[0].message.contains("already")));
    }

    #[test]
    fn unfinished_sentence_says_what_may_follow() {
        let problems = condition(&text("no defender knight reaches")).expect_err("no square");
        assert!(problems[0].expected.as_deref().is_some_and(|all| all.contains("a square")));
    }
}
