//! Exercises as PDF: what the page to print holds, set for a paper.

use minijinja::context;

use super::SheetOfExercises;
use super::html::content;
use crate::pages::PageFault;
use crate::pages::exercise::{in_small, picture};
use crate::pages::press::{Picture, pressed};
use crate::pages::seal::sealed_pdf;
use crate::pages::template::typeset;
use crate::plan::Audience;

pub(super) fn written(sheet: &SheetOfExercises<'_>) -> Result<Vec<u8>, PageFault> {
    let is_small = sheet.audience == Audience::Teacher;
    let diagrams = sheet.exercises.iter().zip(1..).map(|(one, number)| {
        let diagram = picture(one, number, sheet.telling.words);
        if is_small { in_small(diagram) } else { diagram }
    });
    let diagrams: Vec<_> = diagrams.collect();
    let pictures = diagrams.iter().zip(1..).map(|(diagram, number)| Picture {
        name: format!("exercise-{number}.svg"),
        svg: diagram.to_plain_svg(),
    });
    let shows: Vec<String> = diagrams.iter().map(|diagram| diagram.in_words()).collect();
    let text = typeset(
        &[
            ("sheet.typ", include_str!("../templates/sheet.typ")),
            ("answer.typ", include_str!("../templates/answer.typ")),
        ],
        "sheet.typ",
        (sheet.telling.words, sheet.telling.letters),
        context! {
            paper => sheet.layout.paper.name(),
            language => sheet.telling.words.language().code(),
            shows,
            ..content(sheet)
        },
    )?;
    Ok(sealed_pdf(pressed(text, &pictures.collect::<Vec<_>>())?))
}
