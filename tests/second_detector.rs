//! A second way of finding the hits of the built-in queries, to check the program against.
//!
//! Nothing here is shared with the program: the rules of chess come from `cozy-chess`, and every
//! sentence of the four query files is written out by hand as plain code. `pgn-reader` only cuts the
//! text into tags and moves; a move is resolved by trying every legal one. A token that it does not
//! take for a move never arrives here, so feed this collections that are known to be clean.
//!
//! The board is first turned into the attacker's view (see [`Turn`]), so that the code below can name
//! squares as the queries do: "h7" is the pawn to be taken, whoever attacks and on whichever wing.

use std::io::Cursor;
use std::ops::ControlFlow;

use cozy_chess::{Board, Color, File, Move, Piece, Rank, Square};
use pgn_reader::{RawTag, Reader, SanPlus, Visitor};

/// The four queries that [`detect`] knows, by the stems of their files, in alphabetical order.
pub(crate) const QUERIES: [&str; 4] =
    [DOUBLE_BISHOP, KNIGHT_FOLLOW_UP, QUEEN_LIFT, BISHOP_TAKES_H7];

const DOUBLE_BISHOP: &str = "double-bishop";
const KNIGHT_FOLLOW_UP: &str = "knight-follow-up";
const QUEEN_LIFT: &str = "queen-lift";
const BISHOP_TAKES_H7: &str = "bishop-takes-h7";

/// One hit: an offer that one query finds in one game.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Found {
    /// Which query finds it.
    pub query: &'static str,
    /// Ordinal of the game in the collection, from 1.
    pub game: u64,
    /// Ordinal of the half-move that makes the offer, from 1.
    pub ply: usize,
    /// The attacker: `white` or `black`.
    pub side: &'static str,
    /// `as written` or `mirrored`.
    pub wing: &'static str,
    /// What the offer gives up on its square, in pawns.
    pub cost: i32,
    /// The next move in SAN, if the game goes on.
    pub reply: Option<String>,
    /// Whether the next move takes what is offered, if the game goes on.
    pub accepted: Option<bool>,
    /// If a king captured it: where the next move of that king goes, in the attacker's view.
    pub king_goes: Option<String>,
    /// Every follow-up of the query with the ply at which it is first seen.
    pub follow_ups: Vec<(&'static str, Option<usize>)>,
    /// Every factor of the query.
    pub factors: Vec<(&'static str, bool)>,
}

/// Finds the hits of all four queries, in order of game, ply and query.
///
/// # Panics
///
/// If a game cannot be replayed to its end; the message tells its number.
pub(crate) fn detect(pgn: &[u8]) -> Vec<Found> {
    let mut found = Vec::new();
    let mut game = 0;
    let mut reader = Reader::new(Cursor::new(pgn));
    while let Some(text) =
        reader.read_game(&mut Cutter).unwrap_or_else(|error| panic!("after game {game}: {error}"))
    {
        game += 1;
        let moves = replay(&text).unwrap_or_else(|fault| panic!("game {game}: {fault}"));
        for index in 0..moves.len() {
            found.extend(hits_at(game, &moves, index));
        }
    }
    found
}

// ---------------------------------------------------------------------------------------------
// From text to moves

/// The text of a game: where it starts, and its moves as they are written.
#[derive(Default)]
struct GameText {
    fen: Option<String>,
    sans: Vec<String>,
}

/// Collects [`GameText`]s; side lines are left out.
struct Cutter;

impl Visitor for Cutter {
    type Tags = GameText;
    type Movetext = GameText;
    type Output = GameText;

    fn begin_tags(&mut self) -> ControlFlow<GameText, GameText> {
        ControlFlow::Continue(GameText::default())
    }

    fn tag(
        &mut self,
        text: &mut GameText,
        name: &[u8],
        value: RawTag<'_>,
    ) -> ControlFlow<GameText> {
        if name == b"FEN" {
            text.fen = Some(String::from_utf8_lossy(&value.decode()).into_owned());
        }
        ControlFlow::Continue(())
    }

    fn begin_movetext(&mut self, text: GameText) -> ControlFlow<GameText, GameText> {
        ControlFlow::Continue(text)
    }

    fn san(&mut self, text: &mut GameText, san: SanPlus) -> ControlFlow<GameText> {
        text.sans.push(san.to_string());
        ControlFlow::Continue(())
    }

    fn end_game(&mut self, text: GameText) -> GameText {
        text
    }
}

/// A move of the main line and the position before it.
struct Played {
    before: Board,
    mv: Move,
}

impl Played {
    fn after(&self) -> Board {
        after(&self.before, self.mv)
    }

    fn man(&self) -> Piece {
        man_on(&self.before, self.mv.from)
    }

    /// Where the man goes. (The library writes castling as the king taking its own rook.)
    fn target(&self) -> Square {
        match castling_file(&self.before, self.mv) {
            Some(file) => Square::new(file, self.mv.from.rank()),
            None => self.mv.to,
        }
    }
}

fn replay(text: &GameText) -> Result<Vec<Played>, String> {
    let mut board = match &text.fen {
        Some(fen) => Board::from_fen(fen, false).map_err(|error| format!("{fen}: {error}"))?,
        None => Board::default(),
    };
    let mut moves = Vec::with_capacity(text.sans.len());
    for (index, san) in text.sans.iter().enumerate() {
        let fitting: Vec<Move> =
            legal_moves(&board).into_iter().filter(|&mv| san_means(&board, mv, san)).collect();
        let [mv] = fitting[..] else {
            let count = fitting.len();
            return Err(format!("ply {}: {count} legal moves fit {san}", index + 1));
        };
        let next = after(&board, mv);
        moves.push(Played { before: board, mv });
        board = next;
    }
    Ok(moves)
}

/// Whether `san` can stand for the legal move `mv`.
fn san_means(board: &Board, mv: Move, san: &str) -> bool {
    let san = san.trim_end_matches(['+', '#', '!', '?']);
    if let Some(file) = castling_file(board, mv) {
        return san == if file == File::G { "O-O" } else { "O-O-O" };
    }
    let (san, promotion) = match san.split_once('=') {
        Some((san, letter)) => (san, Some(letter)),
        None => (san, None),
    };
    let (man, rest) = match san.strip_prefix(['K', 'Q', 'R', 'B', 'N']) {
        Some(rest) => (&san[..1], rest),
        None => ("", san),
    };
    let rest = rest.replace('x', "");
    let from = mv.from.to_string();
    man == letter(man_on(board, mv.from))
        && promotion == mv.promotion.map(letter)
        && rest
            .strip_suffix(&mv.to.to_string())
            .is_some_and(|hint| hint.chars().all(|sign| from.contains(sign)))
}

/// Writes a legal move in SAN (PGN standard, section 8.2.3).
fn write_san(board: &Board, mv: Move) -> String {
    let next = after(board, mv);
    let suffix = match (next.checkers().is_empty(), legal_moves(&next).is_empty()) {
        (true, _) => "",
        (false, false) => "+",
        (false, true) => "#",
    };
    if let Some(file) = castling_file(board, mv) {
        let castling = if file == File::G { "O-O" } else { "O-O-O" };
        return format!("{castling}{suffix}");
    }
    let man = man_on(board, mv.from);
    let takes = if captured(board, mv).is_some() { "x" } else { "" };
    let hint = match man {
        Piece::Pawn if !takes.is_empty() => mv.from.file().to_string(),
        Piece::Pawn => String::new(),
        _ => origin_hint(board, mv),
    };
    let promotion = mv.promotion.map_or(String::new(), |piece| format!("={}", letter(piece)));
    format!("{}{hint}{takes}{}{promotion}{suffix}", letter(man), mv.to)
}

/// As much of the origin square as it takes to tell `mv` from its like: file, else rank, else both.
fn origin_hint(board: &Board, mv: Move) -> String {
    let others: Vec<Square> = legal_moves(board)
        .into_iter()
        .filter(|other| other.to == mv.to && other.from != mv.from)
        .map(|other| other.from)
        .filter(|&from| board.piece_on(from) == board.piece_on(mv.from))
        .collect();
    let same_file = others.iter().any(|from| from.file() == mv.from.file());
    let same_rank = others.iter().any(|from| from.rank() == mv.from.rank());
    match (others.is_empty(), same_file, same_rank) {
        (true, _, _) => String::new(),
        (false, false, _) => mv.from.file().to_string(),
        (false, true, false) => mv.from.rank().to_string(),
        (false, true, true) => mv.from.to_string(),
    }
}

fn letter(piece: Piece) -> &'static str {
    match piece {
        Piece::Pawn => "",
        Piece::Knight => "N",
        Piece::Bishop => "B",
        Piece::Rook => "R",
        Piece::Queen => "Q",
        Piece::King => "K",
    }
}

// ---------------------------------------------------------------------------------------------
// Moves and exchanges

fn legal_moves(board: &Board) -> Vec<Move> {
    let mut moves = Vec::new();
    board.generate_moves(|some| {
        moves.extend(some);
        false
    });
    moves
}

fn after(board: &Board, mv: Move) -> Board {
    let mut next = board.clone();
    next.play(mv);
    next
}

fn man_on(board: &Board, square: Square) -> Piece {
    board.piece_on(square).unwrap_or_else(|| panic!("no man on {square} in {board}"))
}

/// The file that the king comes to, if the move castles.
fn castling_file(board: &Board, mv: Move) -> Option<File> {
    let castles = board.color_on(mv.to) == Some(board.side_to_move());
    castles.then_some(if mv.to.file() > mv.from.file() { File::G } else { File::C })
}

/// The man that a legal move captures.
fn captured(board: &Board, mv: Move) -> Option<Piece> {
    let en_passant = man_on(board, mv.from) == Piece::Pawn
        && mv.from.file() != mv.to.file()
        && board.piece_on(mv.to).is_none();
    match castling_file(board, mv) {
        Some(_) => None,
        None if en_passant => Some(Piece::Pawn),
        None => board.piece_on(mv.to),
    }
}

/// Worth of a man in pawns: the values that the tables of the program promise.
fn worth(piece: Piece) -> i32 {
    match piece {
        Piece::Pawn => 1,
        Piece::Knight | Piece::Bishop => 3,
        Piece::Rook => 5,
        Piece::Queen => 9,
        Piece::King => 0,
    }
}

/// What a move takes, a promotion's gain included.
fn taking(board: &Board, mv: Move) -> i32 {
    let taken = captured(board, mv).map_or(0, worth);
    taken + mv.promotion.map_or(0, |piece| worth(piece) - worth(Piece::Pawn))
}

/// The most that the side to move wins by legal captures on `square`. Both sides may stop.
fn best_exchange(board: &Board, square: Square) -> i32 {
    legal_moves(board)
        .into_iter()
        .filter(|&mv| mv.to == square && captured(board, mv).is_some())
        .map(|mv| exchange(board, mv))
        .max()
        .map_or(0, |best| best.max(0))
}

/// What the side that plays `mv` wins or loses on the square it goes to.
fn exchange(board: &Board, mv: Move) -> i32 {
    taking(board, mv) - best_exchange(&after(board, mv), mv.to)
}

// ---------------------------------------------------------------------------------------------
// The attacker's view

/// How the board is turned for the attacker.
#[derive(Clone, Copy)]
struct Turn {
    attacker: Color,
    mirrored: bool,
}

impl Turn {
    /// Translates a square of the board into one of the view; and back, for it undoes itself.
    fn view(self, square: Square) -> Square {
        let square = match self.attacker {
            Color::White => square,
            Color::Black => square.flip_rank(),
        };
        if self.mirrored { square.flip_file() } else { square }
    }

    fn camp(self, color: Color) -> Camp {
        if color == self.attacker { Camp::Attacker } else { Camp::Defender }
    }

    fn wing(self) -> &'static str {
        if self.mirrored { "mirrored" } else { "as written" }
    }

    fn side(self) -> &'static str {
        match self.attacker {
            Color::White => "white",
            Color::Black => "black",
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Camp {
    Attacker,
    Defender,
}

use Camp::{Attacker, Defender};

/// A move of the game as the attacker sees it.
struct Step {
    ply: usize,
    camp: Camp,
    man: Piece,
    to: Square,
    takes: Option<Piece>,
    check: bool,
    mate: bool,
}

impl Step {
    fn new(played: &Played, index: usize, turn: Turn) -> Self {
        let next = played.after();
        let check = !next.checkers().is_empty();
        Self {
            ply: index + 1,
            camp: turn.camp(played.before.side_to_move()),
            man: played.man(),
            to: turn.view(played.target()),
            takes: captured(&played.before, played.mv),
            check,
            mate: check && legal_moves(&next).is_empty(),
        }
    }

    fn quiet(&self) -> bool {
        self.takes.is_none()
    }

    fn lands_on(&self, squares: &[Square]) -> bool {
        squares.contains(&self.to)
    }
}

// ---------------------------------------------------------------------------------------------
// Hits

/// The hits of all queries that the move at `index` makes.
fn hits_at(game: u64, moves: &[Played], index: usize) -> Vec<Found> {
    let Some(turn) = offer_turn(&moves[index], index) else {
        return Vec::new();
    };
    let later: Vec<Step> =
        (index + 1..moves.len()).map(|at| Step::new(&moves[at], at, turn)).collect();
    QUERIES
        .into_iter()
        .map(|query| Found {
            query,
            game,
            ply: index + 1,
            side: turn.side(),
            wing: turn.wing(),
            cost: cost(&moves[index]),
            reply: moves.get(index + 1).map(|reply| write_san(&reply.before, reply.mv)),
            accepted: accepted(moves, index),
            king_goes: king_goes(moves, index, turn),
            follow_ups: follow_ups(query, &later),
            factors: factors(query, &Scene::new(&moves[index].before, turn)),
        })
        .filter(|hit| requirements(hit.query).iter().all(|name| seen(hit, name)))
        .collect()
}

/// `offer = "bishop takes pawn on h7 with check"`, `wings = "both"`: how the board has to be turned
/// for the move to be that offer, if it is one at all.
fn offer_turn(played: &Played, index: usize) -> Option<Turn> {
    let attacker = played.before.side_to_move();
    [false, true].into_iter().map(|mirrored| Turn { attacker, mirrored }).find(|&turn| {
        played.man() == Piece::Bishop
            && turn.view(played.mv.to) == Square::H7
            && played.before.piece_on(played.mv.to) == Some(Piece::Pawn)
            && Step::new(played, index, turn).check
    })
}

/// What the offer gives up on its square; 0 if nothing.
fn cost(offer: &Played) -> i32 {
    (-exchange(&offer.before, offer.mv)).max(0)
}

/// Whether the reply takes the man that moved, or another that its move exposed: one that can now be won
/// and could not before, worth two pawns or more and no less than what the offer costs on its square.
fn accepted(moves: &[Played], index: usize) -> Option<bool> {
    let reply = moves.get(index + 1)?;
    let square = reply.mv.to;
    Some(square == moves[index].mv.to || exposes(&moves[index], reply, square))
}

fn exposes(offer: &Played, reply: &Played, square: Square) -> bool {
    let loss = best_exchange(&reply.before, square);
    // It can't be told of an attacker in check whether the other side could have taken first.
    let was_safe =
        || offer.before.null_move().is_none_or(|waiting| best_exchange(&waiting, square) == 0);
    captured(&reply.before, reply.mv).is_some() && loss >= cost(offer).max(2) && was_safe()
}

fn king_goes(moves: &[Played], index: usize, turn: Turn) -> Option<String> {
    let king_took = accepted(moves, index)? && moves[index + 1].man() == Piece::King;
    let next = moves.get(index + 3).filter(|next| king_took && next.man() == Piece::King)?;
    Some(turn.view(next.target()).to_string())
}

fn requirements(query: &str) -> &'static [&'static str] {
    match query {
        DOUBLE_BISHOP => &["second-bishop"],
        KNIGHT_FOLLOW_UP => &["knight-jump"],
        QUEEN_LIFT => &["queen-edge"],
        _ => &[],
    }
}

fn seen(hit: &Found, follow_up: &str) -> bool {
    hit.follow_ups.iter().any(|&(name, ply)| name == follow_up && ply.is_some())
}

// ---------------------------------------------------------------------------------------------
// Follow-ups

const ANY_TIME: usize = usize::MAX;

/// The ply of the first of `camp`'s next `within` moves that fits.
fn first(later: &[Step], camp: Camp, within: usize, fits: impl Fn(&Step) -> bool) -> Option<usize> {
    later
        .iter()
        .filter(|step| step.camp == camp)
        .take(within)
        .find(|step| fits(step))
        .map(|step| step.ply)
}

fn follow_ups(query: &str, later: &[Step]) -> Vec<(&'static str, Option<usize>)> {
    match query {
        DOUBLE_BISHOP => double_bishop_follow_ups(later),
        KNIGHT_FOLLOW_UP => knight_follow_up_follow_ups(later),
        QUEEN_LIFT => queen_lift_follow_ups(later),
        BISHOP_TAKES_H7 => bishop_takes_h7_follow_ups(later),
        other => panic!("no query {other}"),
    }
}

fn double_bishop_follow_ups(later: &[Step]) -> Vec<(&'static str, Option<usize>)> {
    vec![
        ("second-bishop", second_bishop(later)),
        (
            "second-taken",
            first(later, Defender, 4, |step| {
                step.man == Piece::King
                    && step.takes == Some(Piece::Bishop)
                    && step.to == Square::G7
            }),
        ),
        (
            "queen-check",
            first(later, Attacker, 6, |step| {
                step.man == Piece::Queen
                    && step.lands_on(&[Square::G4, Square::G5, Square::G3])
                    && step.check
            }),
        ),
        ("rook-lift", rook_lift(later, 7)),
        ("mate", mate(later)),
    ]
}

fn knight_follow_up_follow_ups(later: &[Step]) -> Vec<(&'static str, Option<usize>)> {
    vec![
        (
            "knight-jump",
            first(later, Attacker, 3, |step| {
                step.man == Piece::Knight && step.quiet() && step.to.file() == File::G
            }),
        ),
        ("queen-edge", queen_to_edge(later)),
        (
            "queen-g-file",
            first(later, Attacker, 5, |step| step.man == Piece::Queen && step.to.file() == File::G),
        ),
        (
            "h-pawn",
            first(later, Attacker, 5, |step| {
                step.man == Piece::Pawn && step.quiet() && step.lands_on(&[Square::H4, Square::H5])
            }),
        ),
        ("mate", mate(later)),
    ]
}

fn queen_lift_follow_ups(later: &[Step]) -> Vec<(&'static str, Option<usize>)> {
    vec![
        (
            "queen-edge",
            first(later, Attacker, 5, |step| {
                step.man == Piece::Queen && step.quiet() && step.to.file() == File::H
            }),
        ),
        (
            "queen-check",
            first(later, Attacker, 5, |step| {
                step.man == Piece::Queen && step.to.file() == File::H && step.check
            }),
        ),
        ("knight-check", knight_check(later)),
        ("rook-lift", rook_lift(later, 6)),
        (
            "king-flees",
            first(later, Defender, 6, |step| {
                step.man == Piece::King && step.lands_on(&[Square::F8, Square::E8, Square::E7])
            }),
        ),
        ("mate", mate(later)),
    ]
}

fn bishop_takes_h7_follow_ups(later: &[Step]) -> Vec<(&'static str, Option<usize>)> {
    vec![
        ("knight-check", knight_check(later)),
        ("queen-edge", queen_to_edge(later)),
        ("second-bishop", second_bishop(later)),
        ("rook-lift", rook_lift(later, 6)),
        ("mate", mate(later)),
    ]
}

/// "bishop takes pawn on g7 within 4 moves"
fn second_bishop(later: &[Step]) -> Option<usize> {
    first(later, Attacker, 4, |step| {
        step.man == Piece::Bishop && step.takes == Some(Piece::Pawn) && step.to == Square::G7
    })
}

/// "knight to g5 with check within 3 moves"
fn knight_check(later: &[Step]) -> Option<usize> {
    first(later, Attacker, 3, |step| {
        step.man == Piece::Knight && step.to == Square::G5 && step.check
    })
}

/// "queen to h-file within 5 moves"
fn queen_to_edge(later: &[Step]) -> Option<usize> {
    first(later, Attacker, 5, |step| step.man == Piece::Queen && step.to.file() == File::H)
}

/// "rook moves to 3rd rank within so many moves"
fn rook_lift(later: &[Step], within: usize) -> Option<usize> {
    first(later, Attacker, within, |step| {
        step.man == Piece::Rook && step.quiet() && step.to.rank() == Rank::Third
    })
}

/// "any man with mate"
fn mate(later: &[Step]) -> Option<usize> {
    first(later, Attacker, ANY_TIME, |step| step.mate)
}

// ---------------------------------------------------------------------------------------------
// Factors

/// The position just before the offer in the attacker's view: who stands where.
struct Scene {
    men: [[Option<(Camp, Piece)>; 8]; 8],
}

/// A step of one square: files to the right, ranks up.
type Way = (i8, i8);

const STRAIGHT: [Way; 4] = [(1, 0), (-1, 0), (0, 1), (0, -1)];
const SLANTING: [Way; 4] = [(1, 1), (1, -1), (-1, 1), (-1, -1)];
const ALL_WAYS: [Way; 8] = [(1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (1, -1), (-1, 1), (-1, -1)];
const JUMPS: [Way; 8] = [(1, 2), (2, 1), (2, -1), (1, -2), (-1, -2), (-2, -1), (-2, 1), (-1, 2)];

impl Scene {
    fn new(board: &Board, turn: Turn) -> Self {
        let mut scene = Self { men: [[None; 8]; 8] };
        for square in board.occupied() {
            let seen = turn.view(square);
            let camp = board.color_on(square).map(|color| turn.camp(color));
            scene.men[seen.file() as usize][seen.rank() as usize] =
                camp.zip(board.piece_on(square));
        }
        scene
    }

    fn at(&self, square: Square) -> Option<(Camp, Piece)> {
        self.men[square.file() as usize][square.rank() as usize]
    }

    /// Whether such a man stands on one of the squares.
    fn on(&self, camp: Camp, piece: Piece, squares: &[Square]) -> bool {
        squares.iter().any(|&square| self.at(square) == Some((camp, piece)))
    }

    /// Whether the man on `from` attacks `target`: pins aside, and whatever stands there.
    fn attacks(&self, from: Square, target: Square) -> bool {
        match self.at(from) {
            None => false,
            Some((Attacker, Piece::Pawn)) => touches(from, target, &[(1, 1), (-1, 1)]),
            Some((Defender, Piece::Pawn)) => touches(from, target, &[(1, -1), (-1, -1)]),
            Some((_, Piece::Knight)) => touches(from, target, &JUMPS),
            Some((_, Piece::King)) => touches(from, target, &ALL_WAYS),
            Some((_, Piece::Bishop)) => self.sees(from, target, &SLANTING),
            Some((_, Piece::Rook)) => self.sees(from, target, &STRAIGHT),
            Some((_, Piece::Queen)) => self.sees(from, target, &ALL_WAYS),
        }
    }

    /// Whether a line runs from `from` to `target` with nothing between.
    fn sees(&self, from: Square, target: Square, ways: &[Way]) -> bool {
        ways.iter().any(|&(files, ranks)| {
            let mut here = from.try_offset(files, ranks);
            while let Some(square) = here {
                if square == target {
                    return true;
                }
                if self.at(square).is_some() {
                    return false;
                }
                here = square.try_offset(files, ranks);
            }
            false
        })
    }

    /// How many men of these kinds attack the square.
    fn guards(&self, camp: Camp, kinds: &[Piece], target: Square) -> usize {
        Square::ALL
            .into_iter()
            .filter(|&from| {
                self.at(from).is_some_and(|(whose, piece)| whose == camp && kinds.contains(&piece))
                    && self.attacks(from, target)
            })
            .count()
    }

    /// How many men attack the square, also from behind own men that move along the same line.
    fn bears(&self, camp: Camp, target: Square) -> usize {
        let along = |(files, ranks): Way| {
            let mover = if files == 0 || ranks == 0 { Piece::Rook } else { Piece::Bishop };
            let mut count = 0;
            let mut here = target.try_offset(files, ranks);
            while let Some(square) = here {
                match self.at(square) {
                    None => {}
                    Some((whose, piece))
                        if whose == camp && (piece == mover || piece == Piece::Queen) =>
                    {
                        count += 1;
                    }
                    Some(_) => break,
                }
                here = square.try_offset(files, ranks);
            }
            count
        };
        let steppers = self.guards(camp, &[Piece::Pawn, Piece::Knight, Piece::King], target);
        steppers + ALL_WAYS.into_iter().map(along).sum::<usize>()
    }

    /// Whether a piece (no pawn) of this kind can go to one of the squares, checks and pins aside.
    fn reaches(&self, camp: Camp, piece: Piece, targets: &[Square]) -> bool {
        targets.iter().any(|&target| {
            let own = self.at(target).is_some_and(|(whose, _)| whose == camp);
            !own && self.guards(camp, &[piece], target) > 0
        })
    }
}

fn touches(from: Square, target: Square, ways: &[Way]) -> bool {
    ways.iter().any(|&(files, ranks)| from.try_offset(files, ranks) == Some(target))
}

fn factors(query: &str, scene: &Scene) -> Vec<(&'static str, bool)> {
    match query {
        DOUBLE_BISHOP => double_bishop_factors(scene),
        KNIGHT_FOLLOW_UP => knight_follow_up_factors(scene),
        QUEEN_LIFT => queen_lift_factors(scene),
        BISHOP_TAKES_H7 => bishop_takes_h7_factors(scene),
        other => panic!("no query {other}"),
    }
}

fn double_bishop_factors(scene: &Scene) -> Vec<(&'static str, bool)> {
    let afar = [Square::B2, Square::C3, Square::D4, Square::E5, Square::A1, Square::F6];
    let lifts = [Square::F3, Square::G3, Square::H3, Square::D3, Square::E3];
    let minors = [Piece::Knight, Piece::Bishop];
    let at_home = [Square::G7, Square::H5]
        .into_iter()
        .any(|square| scene.guards(Defender, &minors, square) > 0);
    vec![
        ("second-aims-at-g7", scene.on(Attacker, Piece::Bishop, &afar)),
        ("queen-to-h5", queen_to_h5(scene)),
        ("no-minor-at-home", !at_home),
        ("rook-ready", scene.reaches(Attacker, Piece::Rook, &lifts)),
        ("rook-on-f8", rook_on_f8(scene)),
    ]
}

fn knight_follow_up_factors(scene: &Scene) -> Vec<(&'static str, bool)> {
    vec![
        ("no-knight-to-f6", no_knight_to_f6(scene)),
        ("diagonal-shut", diagonal_shut(scene)),
        ("pawn-on-e5", pawn_on_e5(scene)),
        ("knight-to-g5", knight_to_g5(scene)),
        ("g5-held", g5_held(scene)),
        ("pawn-on-h4", scene.on(Attacker, Piece::Pawn, &[Square::H4])),
        ("bishop-sees-g5", scene.guards(Attacker, &[Piece::Bishop], Square::G5) > 0),
        ("rook-on-f8", rook_on_f8(scene)),
    ]
}

fn queen_lift_factors(scene: &Scene) -> Vec<(&'static str, bool)> {
    let third_rank: Vec<Square> =
        File::ALL.into_iter().map(|file| Square::new(file, Rank::Third)).collect();
    vec![
        ("queen-to-h5", queen_to_h5(scene)),
        ("queen-on-d1", scene.on(Attacker, Piece::Queen, &[Square::D1])),
        ("no-knight-to-f6", no_knight_to_f6(scene)),
        ("diagonal-shut", diagonal_shut(scene)),
        ("rook-on-f8", rook_on_f8(scene)),
        ("rook-ready", scene.reaches(Attacker, Piece::Rook, &third_rank)),
    ]
}

fn bishop_takes_h7_factors(scene: &Scene) -> Vec<(&'static str, bool)> {
    vec![
        ("no-knight-to-f6", no_knight_to_f6(scene)),
        ("diagonal-shut", diagonal_shut(scene)),
        ("pawn-on-e5", pawn_on_e5(scene)),
        ("knight-to-g5", knight_to_g5(scene)),
        ("queen-to-h5", queen_to_h5(scene)),
        ("g5-held", g5_held(scene)),
        ("rook-on-f8", rook_on_f8(scene)),
    ]
}

/// "attacker queen reaches h5"
fn queen_to_h5(scene: &Scene) -> bool {
    scene.reaches(Attacker, Piece::Queen, &[Square::H5])
}

/// "attacker knight reaches g5"
fn knight_to_g5(scene: &Scene) -> bool {
    scene.reaches(Attacker, Piece::Knight, &[Square::G5])
}

/// "attacker pawn on e5"
fn pawn_on_e5(scene: &Scene) -> bool {
    scene.on(Attacker, Piece::Pawn, &[Square::E5])
}

/// "defender rook on f8"
fn rook_on_f8(scene: &Scene) -> bool {
    scene.on(Defender, Piece::Rook, &[Square::F8])
}

/// "no defender knight reaches f6 and no defender knight on f6"
fn no_knight_to_f6(scene: &Scene) -> bool {
    !scene.reaches(Defender, Piece::Knight, &[Square::F6])
        && !scene.on(Defender, Piece::Knight, &[Square::F6])
}

/// "no defender queen or bishop guards h7"
fn diagonal_shut(scene: &Scene) -> bool {
    scene.guards(Defender, &[Piece::Queen, Piece::Bishop], Square::H7) == 0
}

/// "more attacker men bear on g5 than defender men"
fn g5_held(scene: &Scene) -> bool {
    scene.bears(Attacker, Square::G5) > scene.bears(Defender, Square::G5)
}

// ---------------------------------------------------------------------------------------------
// Checks of the helpers above

/// The legal move of `fen` that `san` stands for.
#[cfg(test)]
fn position(fen: &str, san: &str) -> Played {
    let text = GameText { fen: Some(fen.to_owned()), sans: vec![san.to_owned()] };
    replay(&text).unwrap_or_else(|fault| panic!("{fen}: {fault}")).remove(0)
}

/// The positions and their values are those that the program itself is held to.
#[test]
fn exchanges_are_counted_over_legal_captures() {
    for (fen, san, value) in crate::exchange::EXCHANGES {
        let offer = position(fen, san);
        assert_eq!(exchange(&offer.before, offer.mv), value, "{san} in {fen}");
        assert_eq!(cost(&offer), (-value).max(0), "{san} in {fen}");
    }
}

/// The rules are those of the PGN standard, sections 8.2.3.1 to 8.2.3.5; the positions are made up.
#[test]
fn moves_are_read_and_written_in_san() {
    let cases = [
        ("4k3/8/8/8/8/8/8/R3K2R w KQ - 0 1", "O-O"),
        ("4k3/8/8/8/8/8/8/R3K2R w KQ - 0 1", "O-O-O"),
        ("5k2/8/8/8/8/8/8/4K2R w K - 0 1", "O-O+"),
        // Two knights: the file tells them apart, or the rank, or there is only one that may move.
        ("4k3/8/8/8/8/5N2/8/1N2K3 w - - 0 1", "Nbd2"),
        ("4k3/8/8/1N6/8/8/8/1N2K3 w - - 0 1", "N1a3"),
        ("4k3/8/8/8/1b6/2N5/8/4K1N1 w - - 0 1", "Ne2"),
        // Three queens: it takes the whole square.
        ("8/8/8/8/4Q2Q/8/k7/2K4Q w - - 0 1", "Qh4e1"),
        ("3r4/2P5/8/8/8/8/8/k2K4 w - - 0 1", "cxd8=N"),
        ("4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1", "exd6"),
        ("6k1/5ppp/8/8/8/8/8/R3K3 w - - 0 1", "Ra8#"),
    ];
    for (fen, san) in cases {
        let played = position(fen, san);
        assert_eq!(write_san(&played.before, played.mv), san, "{fen}");
    }
}

/// An illegal and an ambiguous move must not be taken for something else.
#[test]
fn doubtful_moves_are_refused() {
    for san in ["Nd2", "Nf5", "Ke3", "--"] {
        let text = GameText {
            fen: Some("4k3/8/8/8/8/5N2/8/1N2K3 w - - 0 1".to_owned()),
            sans: vec![san.to_owned()],
        };
        assert!(replay(&text).is_err(), "{san}");
    }
}

/// A game that breaks off is named, and not passed over.
#[test]
#[should_panic(expected = "game 2: ply 2: 0 legal moves fit e4")]
fn an_illegal_game_is_named() {
    detect(b"[Event \"?\"]\n\n1. e4 e5 *\n\n[Event \"?\"]\n\n1. e4 e4 *\n");
}

/// Each square of the view, and each half of the turn on its own.
#[test]
fn turns_undo_themselves() {
    let turn = |attacker, mirrored| Turn { attacker, mirrored };
    assert_eq!(turn(Color::White, false).view(Square::H7), Square::H7);
    assert_eq!(turn(Color::White, true).view(Square::H7), Square::A7);
    assert_eq!(turn(Color::Black, false).view(Square::H7), Square::H2);
    assert_eq!(turn(Color::Black, true).view(Square::G4), Square::B5);
    for square in Square::ALL {
        let turn = turn(Color::Black, true);
        assert_eq!(turn.view(turn.view(square)), square);
    }
}

/// What "guards" and "reaches" mean: own men are guarded but not reached, men in between shut a line,
/// pawns guard slantwise and towards the other camp, and a pinned man guards all the same.
#[test]
fn guarding_and_reaching_differ() {
    let fen = "4r1k1/6p1/5p2/7P/8/5N2/4B1P1/3QK3 w - - 0 1";
    let board = Board::from_fen(fen, false).unwrap_or_else(|error| panic!("{fen}: {error}"));
    let white = Scene::new(&board, Turn { attacker: Color::White, mirrored: false });
    assert!(!white.reaches(Attacker, Piece::Queen, &[Square::H5]));
    assert_eq!(white.guards(Attacker, &[Piece::Queen], Square::E2), 1);
    assert!(!white.reaches(Attacker, Piece::Queen, &[Square::E2]));
    assert_eq!(white.guards(Attacker, &Piece::ALL, Square::G5), 1);
    assert_eq!(white.guards(Defender, &Piece::ALL, Square::G5), 1);
    assert_eq!(white.guards(Attacker, &Piece::ALL, Square::G6), 1);
    assert_eq!(white.guards(Attacker, &[Piece::Bishop], Square::D3), 1);
    let black = Scene::new(&board, Turn { attacker: Color::Black, mirrored: true });
    // The same men: f6 is now c3, g5 is b4 and e8 is d1.
    assert!(black.on(Attacker, Piece::Pawn, &[Square::C3]));
    assert_eq!(black.guards(Attacker, &[Piece::Pawn], Square::B4), 1);
    assert_eq!(black.guards(Attacker, &[Piece::Rook], Square::D7), 1);
    assert_eq!(black.guards(Attacker, &[Piece::Rook], Square::D8), 0);
}
