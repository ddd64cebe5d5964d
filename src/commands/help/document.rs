//! A topic as it is written, in a small part of Markdown, taken apart into blocks.

use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd};

/// A part of a document that begins on a line of its own.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Passage {
    /// What the document is called.
    Title(String),
    /// What a section is called.
    Heading(String),
    /// Sentences.
    Paragraph(Vec<Inline>),
    /// A word that the next definition explains.
    Term(Vec<Inline>),
    /// What the last term means.
    Definition(Vec<Inline>),
    /// Lines that stand as they are.
    Code(String),
}

/// A part of a sentence.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Inline {
    /// Words.
    Text(String),
    /// What is typed or shown literally.
    Code(String),
}

impl Inline {
    /// The same without its markup.
    pub(super) fn plain(&self) -> &str {
        match self {
            Inline::Text(text) | Inline::Code(text) => text,
        }
    }
}

/// Takes a document apart.
pub(super) fn blocks(markdown: &str) -> Vec<Passage> {
    let (mut blocks, mut inlines) = (Vec::new(), Vec::new());
    let mut is_definition = false;
    for event in Parser::new_ext(markdown, Options::ENABLE_DEFINITION_LIST) {
        match event {
            Event::Text(text) => inlines.push(Inline::Text(text.into_string())),
            Event::Code(code) => inlines.push(Inline::Code(code.into_string())),
            Event::SoftBreak => inlines.push(Inline::Text(" ".to_owned())),
            Event::Start(Tag::DefinitionListDefinition) => is_definition = true,
            Event::End(end) => {
                let ended = std::mem::take(&mut inlines);
                match end {
                    TagEnd::Heading(level) if level as usize == 1 => {
                        blocks.push(Passage::Title(plain(&ended)));
                    }
                    TagEnd::Heading(_) => blocks.push(Passage::Heading(plain(&ended))),
                    TagEnd::DefinitionListTitle => blocks.push(Passage::Term(ended)),
                    TagEnd::CodeBlock => blocks.push(Passage::Code(plain(&ended))),
                    TagEnd::Paragraph if !is_definition => blocks.push(Passage::Paragraph(ended)),
                    _ if !ended.is_empty() => blocks.push(Passage::Definition(ended)),
                    _ => {}
                }
                is_definition &= end != TagEnd::DefinitionListDefinition;
            }
            _ => {}
        }
    }
    blocks
}

/// Inline parts without their markup.
pub(super) fn plain(inlines: &[Inline]) -> String {
    inlines.iter().map(Inline::plain).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_of_block_is_told_apart() {
        let text = "# A title\n\nA word and\n`code`.\n\n## More\n\n    as it is\n\n`term`, \
                    `other`\n: Its\nmeaning.\n\nsecond\n: Other.\n\nMore words.\n";
        let text_of = |text: &str| Inline::Text(text.to_owned());
        let code_of = |code: &str| Inline::Code(code.to_owned());
        assert_eq!(
            blocks(text),
            [
                Passage::Title("A title".to_owned()),
                Passage::Paragraph(vec![
                    text_of("A word and"),
                    text_of(" "),
                    code_of("code"),
                    text_of("."),
                ]),
                Passage::Heading("More".to_owned()),
                Passage::Code("as it is\n".to_owned()),
                Passage::Term(vec![code_of("term"), text_of(", "), code_of("other")]),
                Passage::Definition(vec![text_of("Its"), text_of(" "), text_of("meaning.")]),
                Passage::Term(vec![text_of("second")]),
                Passage::Definition(vec![text_of("Other.")]),
                Passage::Paragraph(vec![text_of("More words.")]),
            ]
        );
    }
}
