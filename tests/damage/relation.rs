//! Collections of which a byte is damaged, and what must hold of them.

use hecatomb::collection::{Games, RawGame, Scan};

/// The tags that tables name, and what games are selected by.
const TAGS: [&str; 12] = [
    "Event",
    "Site",
    "Date",
    "Round",
    "White",
    "Black",
    "Result",
    "WhiteElo",
    "BlackElo",
    "ECO",
    "TimeControl",
    "FEN",
];

/// How many manners of writing a game there are.
pub(crate) const MANNERS: usize = 8;

/// A game as files have them: plain, wrapped, with clocks, annotated, without Event, with line ends of
/// other systems, with a blank line among the tags, and with none around the moves.
fn game(manner: usize, number: usize) -> String {
    let tags = format!(
        "[Event \"Harbour League {number}\"]\n[Site \"Ombrequay {number}\"]\n[Date \"203{number}.03.04\"]\n\
         [Round \"{number}\"]\n[White \"Alder {number}\"]\n[Black \"Birch {number}\"]\n[Result \"1-0\"]\n\
         [WhiteElo \"180{number}\"]\n[BlackElo \"170{number}\"]\n[ECO \"C1{number}\"]\n"
    );
    match manner {
        0 => tags + "\n1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 1-0\n\n",
        1 => tags + "\n1. d4 d5 2. c4\ne6 3. Nc3\nNf6 1-0\n\n",
        2 => {
            tags + "\n1. e4 { [%clk 0:05:00] } 1... c5 { [%clk 0:05:01] } 2. Nf3 { [%eval 0.3] } d6 1-0\n\n"
        }
        3 => {
            tags + "\n{ Before [the] game }\n1. c4! $1 (1. e4 e5 {or c5} 2. Nf3) e5 ; to the end\n2. Nc3 1-0\n\n"
        }
        4 => tags.split_once('\n').unwrap().1.to_owned() + "\n1. f4 d5 1-0\n\n",
        5 => (tags + "\n1. e4 c6 2. d4 d5 1-0\n\n").replace('\n', "\r\n"),
        6 => tags.replace("[White ", "\n[White ") + "\n1. g3 g6 1-0\n\n",
        _ => tags + "1. b3 b6 1-0\n",
    }
}

/// How a byte is damaged.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Damage {
    Changed(u8),
    Added(u8),
    Lost,
}

impl Damage {
    fn is_one_of(self, bytes: &[u8]) -> bool {
        matches!(self, Damage::Changed(byte) | Damage::Added(byte) if bytes.contains(&byte))
    }
}

/// A collection of which a byte may be damaged.
struct Collection {
    text: Vec<u8>,
    /// The game of each byte.
    games: Vec<usize>,
}

impl Collection {
    /// Games in these manners.
    fn of(manners: &[usize]) -> Collection {
        let (mut text, mut games) = (Vec::new(), Vec::new());
        for (number, &manner) in manners.iter().enumerate() {
            text.extend_from_slice(game(manner, number).as_bytes());
            games.resize(text.len(), number);
        }
        Collection { text, games }
    }

    /// Damages a byte and tells its game.
    fn damage(&mut self, place: usize, damage: Damage) -> usize {
        let place = place % self.text.len();
        let game = self.games[place];
        match damage {
            Damage::Changed(byte) => self.text[place] = byte,
            Damage::Added(byte) => {
                self.text.insert(place, byte);
                self.games.insert(place, game);
            }
            Damage::Lost => {
                self.text.remove(place);
                self.games.remove(place);
            }
        }
        game
    }

    fn place_of(&self, part: &[u8]) -> usize {
        part.as_ptr() as usize - self.text.as_ptr() as usize
    }

    /// What a game is made of: the games that its tags and moves are from.
    fn origins(&self, raw: &RawGame<'_>, scan: &Scan) -> Vec<usize> {
        let values = TAGS.iter().map(|tag| raw.tags.value(tag.as_bytes()));
        let moves = scan.moves.iter().map(|token| token.text(raw.movetext));
        let parts = values.chain(moves).filter(|part| !part.is_empty());
        let mut origins: Vec<usize> = parts
            .flat_map(|part| &self.games[self.place_of(part)..][..part.len()])
            .copied()
            .collect();
        origins.sort_unstable();
        origins.dedup();
        origins
    }
}

/// Whether nothing keeps a game from being mined.
fn is_fit(raw: &RawGame<'_>, scan: &mut Scan) -> bool {
    let has_moves = raw.movetext.iter().any(|byte| !byte.is_ascii_whitespace());
    has_moves && !raw.tags.may_hold_moves() && scan.read(raw.movetext).is_ok()
}

/// The tags and moves of the games of an undamaged collection.
fn whole(text: &[u8]) -> Vec<(Vec<String>, usize)> {
    let mut scan = Scan::new();
    Games::of(text)
        .map(|raw| {
            scan.read(raw.movetext).unwrap();
            (tags_of(&raw), scan.moves.len())
        })
        .collect()
}

fn tags_of(raw: &RawGame<'_>) -> Vec<String> {
    TAGS.iter().map(|tag| raw.tags.text_of(tag.as_bytes())).collect()
}

/// Damages a byte of games in these manners.
///
/// # Errors
///
/// What is wrong: a game is made of parts of two, or another than the damaged one is neither unharmed nor
/// rejected.
pub(crate) fn check(manners: &[usize], place: usize, damage: Damage) -> Result<(), String> {
    let mut collection = Collection::of(manners);
    let sound = whole(&collection.text);
    assert_eq!(sound.len(), manners.len());
    let game = collection.damage(place, damage);
    let mut scan = Scan::new();
    let mut found = vec![false; manners.len()];
    found[game] = true;
    for raw in Games::of(&collection.text) {
        let end = raw.movetext_start + raw.movetext.len();
        if !is_fit(&raw, &mut scan) {
            collection.games[raw.start..end].iter().for_each(|&game| found[game] = true);
            continue;
        }
        let shown = || String::from_utf8_lossy(&collection.text[raw.start..end]);
        let origins = collection.origins(&raw, &scan);
        if origins.len() > 1 {
            return Err(format!("{damage:?} mixes {origins:?}: {}", shown()));
        }
        let Some(&origin) = origins.first().filter(|&&origin| origin != game) else { continue };
        let (tags, moves) = &sound[origin];
        let is_sound = |(tag, sound): (String, &String)| {
            // The rest of its line is a comment then (PGN standard 5 and 6).
            tag == *sound || tag.is_empty() && damage.is_one_of(b";%")
        };
        if scan.moves.len() != *moves || !tags_of(&raw).into_iter().zip(tags).all(is_sound) {
            return Err(format!("{damage:?} harms {origin}: {}", shown()));
        }
        found[origin] = true;
    }
    match found.iter().position(|found| !found) {
        Some(lost) => Err(format!("{damage:?} loses {lost}")),
        None => Ok(()),
    }
}
