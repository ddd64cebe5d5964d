//! A topic as a manual page.

use roff::{Inline as Shown, Roff, bold, roman};

use super::Topic;
use super::document::{Inline, Passage, blocks};

/// The section of the manual for what is neither a command nor a file.
pub(super) const SECTION: &str = "7";

/// A topic as a manual page.
pub(super) fn page(topic: &Topic) -> String {
    let name = topic.page_name();
    let version = concat!(env!("CARGO_PKG_NAME"), " ", env!("CARGO_PKG_VERSION"));
    let mut page = Roff::new();
    page.control("TH", [&name, SECTION, "", version]);
    for block in blocks(topic.source) {
        add(&mut page, &name, &block);
    }
    page.to_roff()
}

fn add(page: &mut Roff, name: &str, block: &Passage) {
    match block {
        Passage::Title(title) => {
            page.control("SH", ["NAME"]);
            page.text([roman(format!("{name} - {title}"))]);
            page.control("SH", ["DESCRIPTION"]);
        }
        Passage::Heading(words) => {
            page.control("SH", [&**words]);
        }
        Passage::Paragraph(inlines) => {
            page.control("PP", []);
            page.text(shown(inlines));
        }
        Passage::Term(inlines) => {
            page.control("TP", []);
            page.text(shown(inlines));
        }
        Passage::Definition(inlines) => {
            page.text(shown(inlines));
        }
        Passage::Code(code) => {
            page.control("PP", []).control("RS", ["4"]).control("nf", []);
            for line in code.lines() {
                page.text([roman(line)]);
            }
            page.control("fi", []).control("RE", []);
        }
    }
}

fn shown(inlines: &[Inline]) -> Vec<Shown> {
    let shown = |inline: &Inline| match inline {
        Inline::Text(text) => roman(text),
        Inline::Code(code) => bold(code),
    };
    inlines.iter().map(shown).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn page_has_a_name_sections_and_what_is_literal_in_bold() {
        let source = "# How it is\n\n.starts with `a-b`.\n\n## More\n\n    'y'\n\n`x`\n: Is.\n";
        let page = page(&Topic { name: "this", source });
        let (head, body) = page.split_once(".SH NAME\n").unwrap_or_default();
        assert!(head.contains(".TH hecatomb-this 7 "), "{head}");
        assert_eq!(
            body,
            "hecatomb\\-this \\- How it is\n.SH DESCRIPTION\n.PP\n\\&.starts with \\fBa\\-b\\fR.\n\
             .SH More\n.PP\n.RS 4\n.nf\n\\&'y'\n.fi\n.RE\n.TP\n\\fBx\\fR\nIs.\n"
        );
    }
}
