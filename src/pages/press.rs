//! A text with its pictures set as PDF.
//!
//! Invariant: whatever a value holds, it is text and no markup; nothing is read from elsewhere; and the same text gives
//! the same bytes.

use minijinja::value::ValueKind;
use minijinja::{Error, Output, State, Value};

/// What markup a template is in, by the ending of its name.
pub(super) const TYPESET: &str = "typst";

/// What is said where PDF is asked for and this program can't make it.
pub const NO_PDF: &str = "this program was built without PDF";

/// Why there is no PDF.
#[derive(Debug, thiserror::Error)]
pub enum PressFault {
    /// This program was built without it.
    #[error("{NO_PDF}")]
    NotBuilt,
    /// The typesetting library says so.
    #[error("could not typeset the sheet: {0}")]
    Typesetting(String),
}

/// A picture that the text names.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub(super) struct Picture {
    /// Its name in the text.
    pub(super) name: String,
    /// SVG, with all that it needs.
    pub(super) svg: String,
}

/// Writes a value into markup: as a text that means nothing but itself.
pub(super) fn set(out: &mut Output<'_>, _: &mut State<'_, '_>, value: &Value) -> Result<(), Error> {
    if value.is_safe() || value.kind() == ValueKind::Number {
        out.write_str(&value.to_string())?;
    } else if !value.is_undefined() && !value.is_none() {
        // The semicolon ends the expression, whatever comes after it.
        out.write_str(&format!("#{};", literal(&value.to_string())))?;
    }
    Ok(())
}

/// A value as it stands in code: a number, or a text between quotation marks.
pub(super) fn in_code(value: &Value) -> Value {
    Value::from_safe_string(match value.kind() {
        ValueKind::Number | ValueKind::Bool => value.to_string(),
        _ => literal(&value.to_string()),
    })
}

/// A text between quotation marks.
fn literal(text: &str) -> String {
    let inside: String = text
        .chars()
        .flat_map(|letter| match letter {
            '\\' | '"' => vec!['\\', letter],
            letter if letter.is_control() => vec![' '],
            letter => vec![letter],
        })
        .collect();
    format!("\"{inside}\"")
}

/// Whether this program can make a PDF.
pub(super) const IS_BUILT: bool = cfg!(feature = "pdf");

#[cfg(not(feature = "pdf"))]
pub(super) fn pressed(_: String, _: &[Picture]) -> Result<Vec<u8>, PressFault> {
    Err(PressFault::NotBuilt)
}

#[cfg(feature = "pdf")]
pub(super) use typesetting::pressed;

#[cfg(feature = "pdf")]
mod typesetting {
    use std::sync::LazyLock;

    use typst::diag::{FileError, FileResult, SourceDiagnostic};
    use typst::foundations::{Bytes, Datetime, Duration, Smart};
    use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
    use typst::text::{Font, FontBook};
    use typst::utils::LazyHash;
    use typst::{Library, LibraryExt, World};
    use typst_layout::PagedDocument;
    use typst_pdf::PdfOptions;

    use super::{Picture, PressFault};

    /// The fonts, which the library brings with it.
    static FONTS: LazyLock<Vec<Font>> = LazyLock::new(|| {
        let files = typst_assets::fonts().map(Bytes::new);
        let fonts = files.flat_map(Font::iter);
        fonts.filter(|font| font.info().family == "Libertinus Serif").collect()
    });
    static BOOK: LazyLock<LazyHash<FontBook>> =
        LazyLock::new(|| LazyHash::new(FontBook::from_fonts(&*FONTS)));
    static LIBRARY: LazyLock<LazyHash<Library>> =
        LazyLock::new(|| LazyHash::new(Library::default()));

    /// All that a text can see: itself and its pictures.
    struct TextWithPictures<'d> {
        text: Source,
        pictures: &'d [Picture],
    }

    impl World for TextWithPictures<'_> {
        fn library(&self) -> &LazyHash<Library> {
            &LIBRARY
        }

        fn book(&self) -> &LazyHash<FontBook> {
            &BOOK
        }

        fn main(&self) -> FileId {
            self.text.id()
        }

        fn source(&self, id: FileId) -> FileResult<Source> {
            if id == self.text.id() { Ok(self.text.clone()) } else { Err(FileError::AccessDenied) }
        }

        fn file(&self, id: FileId) -> FileResult<Bytes> {
            let name = id.vpath().get_without_slash();
            let picture = self.pictures.iter().find(|picture| picture.name == name);
            let picture = picture.ok_or(FileError::AccessDenied)?;
            Ok(Bytes::from_string(picture.svg.clone()))
        }

        fn font(&self, index: usize) -> Option<Font> {
            FONTS.get(index).cloned()
        }

        // A date would make other bytes of the same sheet.
        fn today(&self, _: Option<Duration>) -> Option<Datetime> {
            None
        }
    }

    /// A text with its pictures as PDF.
    pub(in super::super) fn pressed(
        text: String,
        pictures: &[Picture],
    ) -> Result<Vec<u8>, PressFault> {
        let path = VirtualPath::new("sheet.typ")
            .map_err(|error| PressFault::Typesetting(error.to_string()))?;
        let id = FileId::new(RootedPath::new(VirtualRoot::Project, path));
        let whole = TextWithPictures { text: Source::new(id, text), pictures };
        let document: PagedDocument = typst::compile(&whole).output.map_err(|all| fault(&all))?;
        let options = PdfOptions {
            creator: Smart::Custom(Some(format!("hecatomb {}", env!("CARGO_PKG_VERSION")))),
            ..PdfOptions::default()
        };
        typst_pdf::pdf(&document, &options).map_err(|all| fault(&all))
    }

    fn fault(all: &[SourceDiagnostic]) -> PressFault {
        let said = all.iter().map(|one| one.message.to_string());
        PressFault::Typesetting(said.collect::<Vec<_>>().join("; "))
    }
}
