//! A program that speaks UCI, for the tests, and misbehaves on demand.
//!
//! How it misbehaves is the name under which it is started, behind the first dot: a test links to it as
//! `7.hang-in-search`. Faults of a search come in positions whose move number is 13, or in all with `-always`
//! behind the name; with `-once`, only in the first process under that name. Every start adds a byte to the file
//! `NAME.starts` beside it.
//!
//! As `7.weighs` it plays as well as it can: its score is the material after best play within the positions it was granted.
//!
//! As `7.chances-at-first-59` it expects 59 points of a hundred for the side that offers, which is to move only if it is
//! told which moves to search; and 70 once it is granted more than 2,000 positions.
//!
//! Else its score is the material, its move the first legal one, its depth one more than the moves it was
//! given after the position, and its nodes are those it was granted.

use std::fs::OpenOptions;
use std::io::{BufRead, Seek, Write};
use std::path::PathBuf;
use std::process::{Command, ExitCode, Stdio};
use std::time::Duration;

use hecatomb::verdict::{Budget, WeighedScore, Weigher};
use shakmaty::fen::Fen;
use shakmaty::uci::UciMove;
use shakmaty::{CastlingMode, Chess, Position, Role};

/// The status with which it crashes.
const CRASHED: u8 = 3;

/// The status with which it complains of what it was told.
const TOLD_WRONG: u8 = 9;

/// The argument with which it does nothing for ever.
const ASLEEP: &str = "asleep";

fn main() -> ExitCode {
    let mut arguments = std::env::args();
    let path = arguments.next().map(PathBuf::from).unwrap_or_default();
    if arguments.next().is_some_and(|argument| argument == ASLEEP) {
        sleep_for_ever();
    }
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let Some((_, fault)) = name.split_once('.') else {
        // It was started by its own name.
        return ExitCode::SUCCESS;
    };
    let starts = count_start(&path);
    let fault = match fault.strip_suffix("-once") {
        Some(_) if starts > 1 => "none",
        Some(fault) => fault,
        None => fault,
    };
    let (fault, is_unlucky) = match fault.strip_suffix("-always") {
        Some(fault) => (fault, true),
        None => (fault, false),
    };
    let peer = Peer { path, fault: fault.to_owned(), starts, is_unlucky, ..Peer::default() };
    ExitCode::from(peer.talk().err().unwrap_or(0))
}

/// How often it has been started under this name, this time included.
fn count_start(path: &std::path::Path) -> u64 {
    let mut name = path.as_os_str().to_owned();
    name.push(".starts");
    let mut file =
        OpenOptions::new().append(true).create(true).open(name).expect("a writable folder");
    file.write_all(b".").expect("a writable file");
    // Where its own byte ends, and not how long the file is: others may start at the same moment.
    file.stream_position().expect("an open file")
}

fn sleep_for_ever() -> ! {
    loop {
        std::thread::sleep(Duration::from_secs(3600));
    }
}

/// What it has been told.
#[derive(Default)]
struct Peer {
    path: PathBuf,
    fault: String,
    starts: u64,
    /// Whether its fault comes in every position.
    is_unlucky: bool,
    is_shuffled: bool,
    pace: u64,
    /// Whether it was told to say how often it expects a win, a draw and a loss.
    shows_chances: bool,
    /// Whether a search may start: a new game was announced, and a position given.
    is_new: bool,
    pos: Option<Chess>,
    moves: u64,
    /// How many searches it has been asked for.
    searches: u64,
}

/// The end of the process, with this status.
type Ends = Result<(), u8>;

impl Peer {
    fn talk(mut self) -> Ends {
        if self.fault == "crash-at-start" || self.fault == "only-one" && self.starts > 1 {
            return Err(CRASHED);
        }
        if self.fault == "has-child" {
            let asleep = Command::new(&self.path).arg(ASLEEP).spawn();
            asleep.map_err(|_| TOLD_WRONG)?;
        }
        for line in std::io::stdin().lock().lines() {
            let line = line.map_err(|_| TOLD_WRONG)?;
            let words: Vec<&str> = line.split(' ').collect();
            match words[..] {
                ["uci"] => self.introduce()?,
                ["setoption", "name", name, "value", ref value @ ..] => {
                    self.set(name, &value.join(" "))?;
                }
                ["isready"] => self.say("readyok")?,
                ["ucinewgame"] => self.is_new = true,
                ["position", "fen", ref rest @ ..] => self.place(rest)?,
                ["go", "nodes", nodes] => self.search(nodes, None)?,
                ["go", "nodes", nodes, "searchmoves", ref named @ ..] => {
                    self.search(nodes, Some(named))?;
                }
                ["quit"] => break,
                _ => return Err(TOLD_WRONG),
            }
        }
        if self.fault == "ignores-quit" {
            sleep_for_ever();
        }
        Ok(())
    }

    /// Says a line; ends if nobody listens.
    fn say(&self, line: &str) -> Ends {
        let line = match self.fault.as_str() {
            "carriage-returns" => format!("\t{}\r\n", line.replace(' ', " \t ")),
            "noise" => format!("{}\n{line}\n", noise(line.len())),
            _ => format!("{line}\n"),
        };
        self.write(line.as_bytes())
    }

    fn write(&self, bytes: &[u8]) -> Ends {
        // Bytes that are no text, before each line.
        let noise: &[u8] = if self.fault == "noise" { b"\xff\xfe\0\x80\n" } else { b"" };
        let mut out = std::io::stdout().lock();
        let written = out.write_all(noise).and_then(|()| out.write_all(bytes));
        written.and_then(|()| out.flush()).map_err(|_| CRASHED)
    }

    fn introduce(&self) -> Ends {
        match self.fault.as_str() {
            "hang-in-handshake" => sleep_for_ever(),
            "slow-start" => std::thread::sleep(Duration::from_millis(300)),
            "flood-in-handshake" => self.flood("id author Birch, Ida\n")?,
            _ => {}
        }
        self.say("id name Quarry 1.2")?;
        self.say("id author Alder, Tom")?;
        self.say("option name Pace type spin default 0 min 0 max 1000")?;
        self.say("option name Style type combo default Calm var Calm var Very Wild")?;
        if self.fault != "no-shuffled-chess" {
            self.say("option name UCI_Chess960 type check default false")?;
        }
        if self.fault.contains("chances") {
            self.say("option name UCI_ShowWDL type check default false")?;
        }
        self.say("uciok")
    }

    fn set(&mut self, name: &str, value: &str) -> Ends {
        match name {
            "UCI_Chess960" => self.is_shuffled = value == "true",
            "UCI_ShowWDL" if self.fault.contains("chances") => self.shows_chances = value == "true",
            "Pace" => self.pace = value.parse().map_err(|_| TOLD_WRONG)?,
            "Style" if value == "Very Wild" => {}
            _ => return Err(TOLD_WRONG),
        }
        Ok(())
    }

    fn place(&mut self, words: &[&str]) -> Ends {
        let (fen, moves) = words.split_at_checked(6).ok_or(TOLD_WRONG)?;
        let mode = if self.is_shuffled { CastlingMode::Chess960 } else { CastlingMode::Standard };
        let fen: Fen = fen.join(" ").parse().map_err(|_| TOLD_WRONG)?;
        let mut pos: Chess = fen.into_position(mode).map_err(|_| TOLD_WRONG)?;
        let moves = moves.strip_prefix(&["moves"]).unwrap_or(moves);
        for text in moves {
            let named: UciMove = text.parse().map_err(|_| TOLD_WRONG)?;
            let m = named.to_move(&pos).map_err(|_| TOLD_WRONG)?;
            if m.to_uci(mode) != named {
                return Err(TOLD_WRONG);
            }
            pos.play_unchecked(m);
        }
        self.pos = Some(pos);
        self.moves = moves.len() as u64;
        Ok(())
    }

    /// Searches a position, or only these moves of it.
    fn search(&mut self, nodes: &str, named: Option<&[&str]>) -> Ends {
        let pos = self.pos.take().filter(|_| self.is_new).ok_or(TOLD_WRONG)?;
        self.is_new = false;
        self.searches += 1;
        let number = u64::from(pos.fullmoves().get());
        std::thread::sleep(Duration::from_millis(self.pace * (number % 7)));
        let is_unlucky = self.is_unlucky || number == 13;
        let mode = pos.castles().mode();
        let searched =
            searched(&pos, named, self.fault == "deaf-to-searchmoves").ok_or(TOLD_WRONG)?;
        let line = first_moves(&pos, &searched);
        let best = line.first().ok_or(TOLD_WRONG)?.to_uci(mode).to_string();
        let mut best = format!("bestmove {best} ponder a1a1");
        let mut shown: Vec<String> = line.iter().map(|m| m.to_uci(mode).to_string()).collect();
        let mut score = format!("score cp {} ", 100 * material(&pos));
        if self.fault == "weighs" {
            let nodes = nodes.parse().map_err(|_| TOLD_WRONG)?;
            let (weighed, line) = weighed(&pos, &searched, nodes).ok_or(TOLD_WRONG)?;
            shown = line.iter().map(|m| m.to_uci(mode).to_string()).collect();
            best = format!("bestmove {}", shown.first().ok_or(TOLD_WRONG)?);
            score = weighed;
        }
        match self.fault.as_str() {
            "illegal-line" => shown.push("a1a1".to_owned()),
            // After a dozen searches it says no more what it thinks, whenever it was started.
            "weary" if self.starts > 1 || self.searches > 12 => score.clear(),
            _ if !is_unlucky => {}
            "crash-in-search" => return Err(CRASHED),
            "abort-in-search" => std::process::abort(),
            "hang-in-search" => sleep_for_ever(),
            "flood-of-lines" => self.flood("info string and so on and on\n")?,
            "endless-line" => self.flood("and so on and on and ")?,
            "closed-output" => return self.close_output(),
            "nonsense" => "bestmove castles".clone_into(&mut best),
            "illegal-move" => "bestmove a1a1".clone_into(&mut best),
            "no-move" => "bestmove (none)".clone_into(&mut best),
            "no-score" => score.clear(),
            _ => {}
        }
        if self.shows_chances && !score.is_empty() {
            score += &self.chances(&pos, nodes, named.is_some());
        }
        let depth = self.moves + 1;
        self.say(&format!("info depth {depth} {score}nodes {nodes} pv {}", shown.join(" ")))?;
        self.say(&best)?;
        match self.fault.as_str() {
            "two-answers" => self.say("bestmove a1a1"),
            _ => Ok(()),
        }
    }

    /// How often it expects a win, a draw and a loss: more if it has more men, or less; or nonsense.
    fn chances(&self, pos: &Chess, nodes: &str, is_offering: bool) -> String {
        if let Some(points) = self.fault.strip_prefix("chances-at-first-") {
            let has_second_thoughts = nodes.parse::<u64>().is_ok_and(|nodes| nodes > 2_000);
            let points = if has_second_thoughts { 70 } else { points.parse().unwrap_or(50) };
            let win = 10 * if is_offering { points } else { 100 - points };
            return format!("wdl {win} 0 {} ", 1_000 - win);
        }
        let own = material(pos).signum();
        let figures = match if self.fault == "gloomy-chances" { -own } else { own } {
            _ if self.fault == "nonsense-chances" => "wdl 700 400 100 ",
            1 => "wdl 700 200 100 ",
            -1 => "wdl 100 200 700 ",
            _ => "wdl 50 900 50 ",
        };
        figures.to_owned()
    }

    /// Says the same for as long as anybody listens.
    fn flood(&self, text: &str) -> Ends {
        let texts = text.repeat(100);
        loop {
            self.write(texts.as_bytes())?;
        }
    }

    /// Goes on as a process that has no output and hears nothing.
    fn close_output(&self) -> Ends {
        #[cfg(unix)]
        {
            use std::os::unix::process::CommandExt;
            let _ = Command::new(&self.path).arg(ASLEEP).stdout(Stdio::null()).exec();
        }
        Err(TOLD_WRONG)
    }
}

/// The legal moves, or those of them that are named; `None` if one of these is illegal.
fn searched(pos: &Chess, named: Option<&[&str]>, is_deaf: bool) -> Option<Vec<shakmaty::Move>> {
    let Some(named) = named else { return Some(pos.legal_moves().to_vec()) };
    let read = |text: &&str| text.parse::<UciMove>().ok()?.to_move(pos).ok();
    let named: Vec<_> = named.iter().map(read).collect::<Option<_>>()?;
    let searched = pos.legal_moves().into_iter().filter(|m| named.contains(m) != is_deaf);
    Some(searched.collect())
}

/// The score of the best of these moves by material after best play, and that play.
fn weighed(
    pos: &Chess,
    searched: &[shakmaty::Move],
    nodes: u64,
) -> Option<(String, Vec<shakmaty::Move>)> {
    let mut weigher = Weigher::with_entries(1 << 12);
    let weighing = weigher.weigh(pos, searched, 8, &mut Budget::of(nodes))?;
    let score = match weighing.score {
        WeighedScore::Pawns(pawns) => format!("score cp {} ", 100 * pawns),
        WeighedScore::Mates(moves) => format!("score mate {moves} "),
        WeighedScore::Mated(moves) => format!("score mate -{moves} "),
    };
    Some((score, weighing.line))
}

/// The first of these moves, and the next two, too.
fn first_moves(pos: &Chess, searched: &[shakmaty::Move]) -> Vec<shakmaty::Move> {
    let mut pos = pos.clone();
    let mut line: Vec<shakmaty::Move> = searched.first().copied().into_iter().collect();
    if let Some(&m) = line.first() {
        pos.play_unchecked(m);
    }
    let next = || {
        let m = pos.legal_moves().first().copied()?;
        pos.play_unchecked(m);
        Some(m)
    };
    line.extend(std::iter::from_fn(next).take(2));
    line
}

/// The material of the side to move less that of the other, in pawns.
fn material(pos: &Chess) -> i32 {
    let worth =
        [(Role::Pawn, 1), (Role::Knight, 3), (Role::Bishop, 3), (Role::Rook, 5), (Role::Queen, 9)];
    let count = |men: shakmaty::Bitboard| i32::try_from(men.count()).expect("at most 64");
    let men = |role| pos.board().by_role(role);
    worth
        .into_iter()
        .map(|(role, pawns)| pawns * (count(men(role) & pos.us()) - count(men(role) & pos.them())))
        .sum()
}

/// Printable noise of words that the protocol does not know, different for each seed.
fn noise(seed: usize) -> String {
    let mut state = seed as u32 | 1;
    let mut letter = || {
        // Numerical Recipes' linear congruential generator.
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        char::from(b'!' + (state >> 24) as u8 % 90)
    };
    (0..200).map(|_| letter()).collect()
}
