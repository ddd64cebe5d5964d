//! Plans made up for tests, written in every way that TOML allows, with comments everywhere.

use std::fmt::Write as _;

/// A source of choices: some bytes, and zeros after them.
pub(super) struct Choices<'b> {
    bytes: std::slice::Iter<'b, u8>,
}

impl<'b> Choices<'b> {
    pub(super) fn of(bytes: &'b [u8]) -> Choices<'b> {
        Choices { bytes: bytes.iter() }
    }

    /// A number below a bound.
    pub(super) fn below(&mut self, bound: usize) -> usize {
        usize::from(self.bytes.next().copied().unwrap_or(0)) % bound.max(1)
    }

    pub(super) fn toss(&mut self) -> bool {
        self.below(2) == 1
    }
}

/// A plan's text in the making. Each comment is `#N OWNER.`; the owner is `free`, or the entry it goes with.
struct Writing<'c, 'b> {
    text: String,
    comments: usize,
    choices: &'c mut Choices<'b>,
}

impl Writing<'_, '_> {
    fn comment(&mut self, owner: &str) -> String {
        self.comments += 1;
        format!("#{} {owner}.", self.comments)
    }

    /// A comment in a paragraph of its own.
    fn paragraph(&mut self, owner: &str) {
        if self.choices.below(4) == 1 {
            let comment = self.comment(owner);
            let _ = write!(self.text, "\n{comment}\n");
        }
    }

    /// A header, perhaps with comments above, beside and below it.
    fn header(&mut self, header: &str, owner: &str) {
        // What stands between the tables of a lesson goes with the lesson, and so with a game.
        let around = match header {
            "[lesson.game.at]" => owner.to_owned(),
            _ if header.contains('.') => owner.splitn(3, '-').take(2).collect::<Vec<_>>().join("-"),
            _ => "free".to_owned(),
        };
        self.paragraph(&around);
        if !self.text.is_empty() {
            self.text.push('\n');
        }
        if self.choices.toss() {
            let comment = self.comment(owner);
            let _ = writeln!(self.text, "{comment}");
        }
        let _ = write!(self.text, "{header}");
        self.beside(owner);
        if self.choices.toss() {
            let comment = self.comment(owner);
            let _ = writeln!(self.text, "{comment}");
        }
    }

    /// Ends a line, perhaps with a comment.
    fn beside(&mut self, owner: &str) {
        if self.choices.below(3) == 1 {
            let comment = self.comment(owner);
            let _ = write!(self.text, " {comment}");
        }
        self.text.push('\n');
    }

    fn value(&mut self, key: &str, value: &str, owner: &str) {
        let _ = write!(self.text, "{key} = {value}");
        self.beside(owner);
    }

    /// A text, written in one of many ways.
    fn words(&mut self, words: &str) -> String {
        match self.choices.below(4) {
            0 => format!("'{words}'"),
            1 => format!("\"\"\"\n{words}\n# not a comment\n\"\"\""),
            2 => format!("'''{words}'''"),
            _ => format!("\"{words}\\u00e9\""),
        }
    }

    /// A comment directly below the last value.
    fn below(&mut self, owner: &str) {
        if self.choices.below(4) == 1 {
            let comment = self.comment(owner);
            let _ = writeln!(self.text, "{comment}");
        }
    }

    fn lesson(&mut self, index: usize) {
        let owner = format!("lesson-{index}");
        self.header("[[lesson]]", &owner);
        self.value("motif", &format!("\"motif-{index}\""), &owner);
        if self.choices.toss() {
            let words = self.words("A heading");
            self.value("heading", &words, &owner);
        }
        let (games, exercises) = (self.choices.below(4), self.choices.below(4));
        if games == 0 && self.choices.toss() {
            self.value("without", "[\"games\"] ", &owner);
        }
        let words_below = match self.choices.below(4) {
            0 => {
                self.value("words.start", "\"Hello\"", &owner);
                self.value("words.end", "\"Bye\"", &owner);
                false
            }
            1 => {
                self.value("words", "{ start = \"Hello\", end = 'Bye' }", &owner);
                false
            }
            2 => true,
            _ => false,
        };
        let in_one_line = self.choices.below(6) == 1;
        if in_one_line && games > 0 {
            let ids: Vec<String> =
                (0..games).map(|game| format!("{{ id = \"game-{index}-{game}\" }}")).collect();
            self.value("game", &format!("[ {} ]", ids.join(", ")), &owner);
        }
        self.below(&owner);
        if words_below {
            self.header("[lesson.words]", &owner);
            self.value("start", "\"Hello\"", &owner);
            self.below(&owner);
        }
        for game in (0..games).filter(|_| !in_one_line) {
            self.game(index, game);
        }
        for exercise in 0..exercises {
            let owner = format!("lesson-{index}-exercise-{exercise}");
            self.header("[[lesson.exercise]]", &owner);
            self.value("kind", "\"find\"", &owner);
            match self.choices.below(3) {
                0 => self.value("count", &format!("{}", exercise + 1), &owner),
                _ => self.value("id", &format!("\"exercise-{index}-{exercise}\""), &owner),
            }
            self.below(&owner);
        }
    }

    fn game(&mut self, lesson: usize, game: usize) {
        let owner = format!("lesson-{lesson}-game-{game}");
        self.header("[[lesson.game]]", &owner);
        self.value("id", &format!("\"game-{lesson}-{game}\""), &owner);
        if self.choices.toss() {
            let words = self.words("Look");
            self.value("before", &words, &owner);
        }
        let at = self.choices.below(5);
        match at {
            0 => self.value("at.\"1.e4\"", "\"The pawn\"", &owner),
            1 => self.value("at", "{ \"1.e4\" = \"The pawn\" }", &owner),
            _ => {}
        }
        self.below(&owner);
        if at == 2 {
            self.header("[lesson.game.at]", &owner);
            self.value("\"1. e4\"", "\"The pawn\"", &owner);
            self.value("'2...Nc6'", "\"The knight\"", &owner);
            self.below(&owner);
        }
    }

    fn sheet(&mut self, index: usize) {
        let owner = format!("sheet-{index}");
        self.header("[[sheet]]", &owner);
        self.value("name", &format!("\"sheet-{index}\""), &owner);
        let exercises = self.choices.below(3);
        if exercises == 0 {
            self.value("of", "[ \"find:6\",  'judge:2' ]", &owner);
            self.value("level", "\"1-3\"", &owner);
        }
        self.below(&owner);
        for exercise in 0..exercises {
            let owner = format!("sheet-{index}-exercise-{exercise}");
            self.header("[[sheet.exercise]]", &owner);
            self.value("kind", "\"judge\"", &owner);
            self.value("id", &format!("\"on-sheet-{index}-{exercise}\""), &owner);
        }
    }
}

/// A plan's text.
pub(super) fn plan(choices: &mut Choices<'_>) -> String {
    let mut writing = Writing { text: String::new(), comments: 0, choices };
    if writing.choices.toss() {
        let comment = writing.comment("free");
        let _ = writeln!(writing.text, "{comment}");
    }
    for key in ["title", "audience", "words"] {
        if writing.choices.toss() {
            let words = writing.words("Some words");
            writing.value(key, &words, "free");
        }
    }
    let sheets_first = writing.choices.below(5) == 1;
    let (lessons, sheets) = (writing.choices.below(4), writing.choices.below(3));
    if sheets_first {
        (0..sheets).for_each(|sheet| writing.sheet(sheet));
    }
    (0..lessons).for_each(|lesson| writing.lesson(lesson));
    if !sheets_first {
        (0..sheets).for_each(|sheet| writing.sheet(sheet));
    }
    writing.paragraph("free");
    if writing.choices.toss() {
        writing.header("[[given]]", "free");
        writing.value("class", "\"Tuesday\"", "free");
    }
    writing.paragraph("free");
    let mut text = writing.text;
    if choices.below(4) == 1 {
        text = text.trim_end_matches('\n').to_owned();
    }
    if choices.below(4) == 1 {
        text = text.replace('\n', "\r\n");
    }
    text
}

/// The comments of a text, by number and owner.
pub(super) fn comments(text: &str) -> Vec<(usize, String)> {
    let of_line = |line: &str| {
        let comment = &line[line.rfind('#')? + 1..];
        let (number, owner) = comment.split_once(' ')?;
        Some((number.parse().ok()?, owner.trim_end().strip_suffix('.')?.to_owned()))
    };
    let mut found: Vec<(usize, String)> = text.lines().filter_map(of_line).collect();
    found.sort();
    found
}
