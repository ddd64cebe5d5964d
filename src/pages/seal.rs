//! A mark at the end of a page by which it is recognised: whether it was made here, and whether somebody
//! edited it since.

use crate::tables::hash_of;

/// What stands before and after the digits on a page.
const ON_PAGE: [&str; 2] = ["<!-- sha256 of all above: ", " -->\n"];
/// The same in a PDF, whose readers pass over what comes after its end.
const IN_PDF: [&str; 2] = ["% sha256 of all above: ", "\n"];

/// A page with its mark.
pub(super) fn sealed(page: &str) -> String {
    let page = format!("{}\n", page.trim_end());
    let [before, after] = ON_PAGE;
    format!("{page}{before}{}{after}", hash_of(&page))
}

/// A PDF with its mark.
pub(super) fn sealed_pdf(mut pdf: Vec<u8>) -> Vec<u8> {
    let [before, after] = IN_PDF;
    pdf.push(b'\n');
    let mark = format!("{before}{}{after}", hash_of(&pdf));
    pdf.extend(mark.as_bytes());
    pdf
}

/// Whether a page is as it was written here.
#[must_use]
pub fn is_untouched(page: &[u8]) -> bool {
    [ON_PAGE, IN_PDF].iter().any(|[before, after]| {
        let page = page.strip_suffix(after.as_bytes());
        page.and_then(|page| {
            memchr::memmem::rfind(page, before.as_bytes()).map(|at| page.split_at(at))
        })
        .is_some_and(|(page, mark)| mark[before.len()..] == *hash_of(page).as_bytes())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_is_known_again_until_it_is_edited() {
        let page = sealed("<p>offer</p>\n\n");
        assert!(is_untouched(page.as_bytes()), "{page}");
        for edited in [
            page.replace("offer", "gift"),
            page.replace("</p>\n", "</p>\n<p>more</p>\n"),
            format!("{page}more"),
            page.trim_end().to_owned(),
            "<p>offer</p>\n".to_owned(),
            String::new(),
        ] {
            assert!(!is_untouched(edited.as_bytes()), "{edited}");
        }
    }

    #[test]
    fn a_pdf_is_known_again_until_it_is_edited() {
        let pdf = sealed_pdf(b"%PDF-1.7\n\xff\x00\n%%EOF".to_vec());
        assert!(is_untouched(&pdf));
        let annotated = [&pdf[..], b"1 0 obj\n%%EOF\n"].concat();
        let other = [b"%PDF-1.6".as_slice(), &pdf[8..]].concat();
        assert!(!is_untouched(&annotated) && !is_untouched(&other));
    }
}
