//! A mark at the end of a page by which it is recognised: whether it was made here, and whether somebody
//! edited it since.

use crate::tables::hash_of;

/// What stands before the digits.
const BEFORE: &str = "<!-- sha256 of all above: ";
/// What stands after them.
const AFTER: &str = " -->\n";

/// A page with its mark.
pub(super) fn sealed(page: &str) -> String {
    let page = format!("{}\n", page.trim_end());
    format!("{page}{BEFORE}{}{AFTER}", hash_of(&page))
}

/// Whether a page is as it was written here.
#[must_use]
pub fn is_untouched(page: &str) -> bool {
    let mark = page.strip_suffix(AFTER).and_then(|page| page.rsplit_once(BEFORE));
    mark.is_some_and(|(page, found)| found == hash_of(page))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_is_known_again_until_it_is_edited() {
        let page = sealed("<p>offer</p>\n\n");
        assert!(is_untouched(&page), "{page}");
        for edited in [
            page.replace("offer", "gift"),
            page.replace("</p>\n", "</p>\n<p>more</p>\n"),
            format!("{page}more"),
            page.trim_end().to_owned(),
            "<p>offer</p>\n".to_owned(),
            String::new(),
        ] {
            assert!(!is_untouched(&edited), "{edited}");
        }
    }
}
