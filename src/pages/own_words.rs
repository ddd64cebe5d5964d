//! A teacher's words in Markdown as HTML.
//!
//! Invariant: what would be HTML in them is shown as it is written, a picture is its words, a link goes to another page
//! or nowhere: so nothing is fetched or run.

use minijinja::Value;
use pulldown_cmark::html::push_html;
use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd};

/// What a link may begin with.
const SCHEMES: [&str; 4] = ["https://", "http://", "mailto:", "#"];

/// Words as HTML.
pub(super) fn marked_up(words: &str) -> Value {
    let events = Parser::new_ext(words, Options::ENABLE_TABLES | Options::ENABLE_STRIKETHROUGH);
    let mut links = Vec::new();
    let kept = events.flat_map(|event| kept(event, &mut links));
    let mut html = String::new();
    push_html(&mut html, kept);
    Value::from_safe_string(html)
}

/// What is left of an event. Headings would stand among those of the page; they are bold instead.
fn kept<'w>(event: Event<'w>, links: &mut Vec<bool>) -> Vec<Event<'w>> {
    match event {
        Event::Html(text) | Event::InlineHtml(text) => vec![Event::Text(text)],
        Event::Start(Tag::Image { .. } | Tag::HtmlBlock)
        | Event::End(TagEnd::Image | TagEnd::HtmlBlock) => vec![],
        Event::Start(Tag::Heading { .. }) => {
            vec![Event::Start(Tag::Paragraph), Event::Start(Tag::Strong)]
        }
        Event::End(TagEnd::Heading(_)) => {
            vec![Event::End(TagEnd::Strong), Event::End(TagEnd::Paragraph)]
        }
        Event::Start(Tag::Link { ref dest_url, .. }) => {
            let is_kept = SCHEMES.iter().any(|scheme| dest_url.starts_with(scheme));
            links.push(is_kept);
            if is_kept { vec![event] } else { vec![] }
        }
        Event::End(TagEnd::Link) if links.pop() == Some(false) => vec![],
        other => vec![other],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn html(words: &str) -> String {
        marked_up(words).to_string()
    }

    #[test]
    fn words_are_marked_up() {
        assert_eq!(
            html("The *king* is **alone**."),
            "<p>The <em>king</em> is <strong>alone</strong>.</p>\n"
        );
        assert_eq!(html("# Look"), "<p><strong>Look</strong></p>\n");
    }

    #[test]
    fn nothing_in_them_is_fetched_or_run() {
        for (words, expected) in [
            ("<script>alert(1)</script>", "&lt;script&gt;alert(1)&lt;/script&gt;"),
            ("a <b onclick=x>b</b>", "<p>a &lt;b onclick=x&gt;b&lt;/b&gt;</p>\n"),
            ("![a board](https://example.org/x.png)", "<p>a board</p>\n"),
            ("[here](javascript:alert(1))", "<p>here</p>\n"),
            ("[here](https://example.org/)", "<p><a href=\"https://example.org/\">here</a></p>\n"),
        ] {
            assert_eq!(html(words), expected, "{words}");
        }
    }
}
