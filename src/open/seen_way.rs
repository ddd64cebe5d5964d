//! The ways in which lessons and sheets are seen or saved.

use super::workshop::LessonFormat;
use crate::pages::ExerciseFormat;
use crate::plan::Audience;

/// A way in which something is seen or saved.
#[derive(Clone, Copy, Debug)]
pub(super) struct SeenWay {
    /// Its word in addresses.
    pub(super) word: &'static str,
    /// What it is called where it is seen; empty if it is only saved.
    pub(super) title: &'static str,
    /// What it is called where it is saved.
    pub(super) saved: &'static str,
    /// How the names of its files end.
    ending: &'static str,
    /// What is to be made.
    pub(super) order: SeenOrder,
}

/// What is to be made.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum SeenOrder {
    /// A lesson.
    Lesson(LessonFormat),
    /// A sheet.
    Sheet(Audience, ExerciseFormat),
}

use Audience::{Both, Pupil, Teacher};
use ExerciseFormat::{Csv, Epd, Html, Pdf, Pgn, Projector};

const LESSON: [SeenWay; 2] = [
    of_lesson("lesson", "Lesson", "Lesson as a page (HTML)", ".html", LessonFormat::Html),
    of_lesson("pgn", "", "Games (PGN)", ".pgn", LessonFormat::Pgn),
];
const SHEET: [SeenWay; 10] = [
    of_sheet("pupil", "For pupils", "For pupils (HTML)", "-pupil.html", (Pupil, Html)),
    of_sheet(
        "key",
        "With solutions beside",
        "With solutions beside (HTML)",
        "-teacher.html",
        (Teacher, Html),
    ),
    of_sheet("both", "Solutions at the end", "Solutions at the end (HTML)", ".html", (Both, Html)),
    of_sheet(
        "projector",
        "Projector",
        "For a projector (HTML)",
        "-projector.html",
        (Both, Projector),
    ),
    of_sheet("pupil-pdf", "", "For pupils (PDF)", "-pupil.pdf", (Pupil, Pdf)),
    of_sheet("key-pdf", "", "With solutions beside (PDF)", "-teacher.pdf", (Teacher, Pdf)),
    of_sheet("both-pdf", "", "Solutions at the end (PDF)", ".pdf", (Both, Pdf)),
    of_sheet("pgn", "", "PGN", ".pgn", (Both, Pgn)),
    of_sheet("epd", "", "EPD", ".epd", (Both, Epd)),
    of_sheet("csv", "", "Flash cards (CSV)", ".csv", (Both, Csv)),
];

const fn of_lesson(
    word: &'static str,
    title: &'static str,
    saved: &'static str,
    ending: &'static str,
    format: LessonFormat,
) -> SeenWay {
    SeenWay { word, title, saved, ending, order: SeenOrder::Lesson(format) }
}

const fn of_sheet(
    word: &'static str,
    title: &'static str,
    saved: &'static str,
    ending: &'static str,
    (audience, format): (Audience, ExerciseFormat),
) -> SeenWay {
    SeenWay { word, title, saved, ending, order: SeenOrder::Sheet(audience, format) }
}

impl SeenWay {
    /// The ways of a lesson; the first is the usual one.
    pub(super) fn of_lessons() -> Vec<SeenWay> {
        LESSON.to_vec()
    }

    /// The ways of a sheet that this program can make; the first is the usual one.
    pub(super) fn of_sheets() -> Vec<SeenWay> {
        let is_built = |way: &SeenWay| match way.order {
            SeenOrder::Sheet(_, format) => format.is_built(),
            SeenOrder::Lesson(_) => true,
        };
        SHEET.into_iter().filter(is_built).collect()
    }

    /// Whether it is a page, to be shown.
    pub(super) fn is_page(&self) -> bool {
        !self.title.is_empty()
    }

    /// The name of its file, for something of this name.
    pub(super) fn file(&self, name: &str) -> String {
        format!("{name}{}", self.ending)
    }

    /// The media type of its file.
    pub(super) fn kind(&self) -> &'static str {
        match self.order {
            SeenOrder::Lesson(LessonFormat::Html) | SeenOrder::Sheet(_, Html | Projector) => {
                "text/html; charset=utf-8"
            }
            SeenOrder::Lesson(LessonFormat::Pgn) | SeenOrder::Sheet(_, Pgn) => {
                "application/vnd.chess-pgn"
            }
            SeenOrder::Sheet(_, Pdf) => "application/pdf",
            SeenOrder::Sheet(_, Epd) => "text/plain; charset=utf-8",
            SeenOrder::Sheet(_, Csv) => "text/csv; charset=utf-8",
        }
    }
}
