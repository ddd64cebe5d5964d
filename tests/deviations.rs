//! What is met in files and is not as the standard writes it, but can be read.
//!
//! What programs are known to write (common practice, no source), with what python-chess 1.11.2 and
//! pgn-reader 0.29.0 make of it; where those differ, the standard's own rule decides.

use hecatomb::collection::{GameResult, Games, MoveKind, Scan, plies_at_a_glance};
use shakmaty::{Color, Role, Square};

fn moves(movetext: &str) -> Vec<&str> {
    let mut scan = Scan::new();
    scan.read(movetext.as_bytes()).unwrap();
    scan.moves
        .iter()
        .map(|token| std::str::from_utf8(token.text(movetext.as_bytes())).unwrap())
        .collect()
}

#[test]
fn movetext_is_read_however_it_is_spaced_and_numbered() {
    for movetext in [
        "1. e4 e5 2. Nf3 Nc6 *",
        "1.e4 e5 2.Nf3 Nc6 *",
        "e4 e5 Nf3 Nc6",
        "1. e4 1... e5 2. Nf3 2. ... Nc6 1-0",
        "1 e4 e5 2 Nf3 Nc6 *",
        "1. e4! $14 e5?! 2. Nf3!? {a comment} Nc6 ; rest\n*",
        "1. e4\n% an escape d4\ne5\n\n2. Nf3 Nc6\n\n0-1",
        "1. e4 (1. d4 (1. c4) {c} d5) e5 2. Nf3 Nc6 1/2-1/2",
        "1. e4{a}e5 2. Nf3(2. d4)Nc6 *",
        "1.\x0Be4\te5\r\n2. Nf3 Nc6 ½-½",
    ] {
        assert_eq!(moves(movetext), ["e4", "e5", "Nf3", "Nc6"], "{movetext}");
    }
}

#[test]
fn results_are_those_of_the_standard_and_two_short_forms() {
    let result = |text: &str| {
        let mut scan = Scan::new();
        scan.read(text.as_bytes()).unwrap();
        scan.result
    };
    assert_eq!(result("1. e4 1-0"), Some(GameResult::WhiteWins));
    assert_eq!(result("1. e4 0-1"), Some(GameResult::BlackWins));
    assert_eq!(result("1. e4 1/2-1/2"), Some(GameResult::Draw));
    assert_eq!(result("1. e4 1/2"), Some(GameResult::Draw));
    assert_eq!(result("1. e4 ½-½"), Some(GameResult::Draw));
    assert_eq!(result("1. e4 *"), Some(GameResult::Open));
    assert_eq!(result("1. e4 {0-1 would be wrong}"), None);
}

#[test]
fn kind_of_a_move_is_told_at_a_glance() {
    let kind = |san: &str| MoveKind::of(san.as_bytes(), Color::White);
    let some = |role, is_capture, to| Some(MoveKind { role, is_capture, to });
    assert_eq!(kind("Bxh7+"), some(Role::Bishop, true, Square::H7));
    assert_eq!(kind("Bd3xh7+"), some(Role::Bishop, true, Square::H7));
    assert_eq!(kind("R1e2"), some(Role::Rook, false, Square::E2));
    assert_eq!(kind("bxa8=Q#"), some(Role::Pawn, true, Square::A8));
    assert_eq!(kind("e4"), some(Role::Pawn, false, Square::E4));
    assert_eq!(kind("O-O"), some(Role::King, false, Square::G1));
    assert_eq!(kind("0-0-0"), some(Role::King, false, Square::C1));
    for no_move in ["", "--", "Z0", "x", "B", "Bxh9", "é4"] {
        assert_eq!(kind(no_move), None, "{no_move}");
    }
}

#[test]
fn plies_are_told_at_a_glance_where_the_end_is_plain() {
    let plies = |text: &str| plies_at_a_glance(text.as_bytes()).map(|(_, plies)| plies);
    assert_eq!(plies("1. e4 e5 2. Nf3 1-0\n\n"), Some(3));
    assert_eq!(plies("1. e4 e5 2. Nf3 Nc6"), Some(4));
    assert_eq!(plies("1.e4 e5 2.Nf3 {[%clk 0:01:00]} 2... Nc6!? {[%clk 0:00:59]} *"), Some(4));
    assert_eq!(plies("1. e4 (1. d4) e5 2. Nf3 Nc6 1/2-1/2"), Some(4));
    assert_eq!(plies("1. e4 e5 2. Nf3 (2. d4) *"), None);
    assert_eq!(plies("e4 e5 Nf3 *"), None);
    assert_eq!(plies("0-1"), None);
    assert_eq!(plies("999999999. e4 *"), None);
}

/// The tags Event and White of the games in a text, and how much movetext each has.
fn games(text: &str) -> Vec<(String, String, usize)> {
    Games::of(text.as_bytes())
        .map(|game| {
            let tag = |name: &str| game.tags.text_of(name.as_bytes());
            (tag("Event"), tag("White"), game.movetext.trim_ascii().len())
        })
        .collect()
}

#[test]
fn games_are_parted_whatever_stands_between_them() {
    let game = |event: &str, white: &str| (event.to_owned(), white.to_owned(), 10);
    for text in [
        "[Event \"a\"]\n[White \"A\"]\n\n1. e4 e5 *\n\n\n[Event \"b\"]\n[White \"B\"]\n\n1. d4 d5 *\n",
        "[Event \"a\"]\r\n[White \"A\"]\r\n\r\n1. e4 e5 *\r\n\r\n[Event \"b\"]\r\n[White \"B\"]\r\n\r\n1. d4 d5 *",
        "[Event \"a\"]\n[White \"A\"]\n1. e4 e5 *\n[Event \"b\"]\n[White \"B\"]\n1. d4 d5 *",
        "\u{FEFF}[Event \"a\"]\n\n[White \"A\"]\n\n\n1. e4 e5 *\n\n[Event \"b\"]\n[White \"B\"]\n\n1. d4 d5 *",
        ";; exported\n%x\n[Event \"a\"] [White \"A\"]\n\n1. e4 e5 *\n[White \"B\"]\n[Event \"b\"]\n\n1. d4 d5 *",
    ] {
        let expected = [game("a", "A"), game("b", "B")];
        assert_eq!(games(text), expected, "{text}");
    }
}

/// What stands between the games of files that somebody joined (common practice, no source), or where a
/// disk, an editor or a transfer left its marks.
#[test]
fn games_of_joined_files_are_sound_whatever_the_seam() {
    let whole = |event: &str, white: &str| (event.to_owned(), white.to_owned());
    let [first, second] = ["a", "b"].map(|name| {
        let upper = name.to_uppercase();
        format!("[Event \"{name}\"]\n[White \"{upper}\"]\n\n1. e4 {{c}} e5 *")
    });
    let expected = [whole("a", "A"), whole("b", "B")];
    for seam in [
        "",
        " ",
        "\n",
        "\n\n  ",
        "\n\t",
        "\u{FEFF}",
        "\n\u{FEFF}",
        "\n\n\u{FEFF}\n",
        "\x1A",
        "\n\x1A",
        "\n\x1A\n",
        "\n\0\0\0",
        "\n\x0C",
        "\n\x0C\n",
        "\u{A0}",
        "\n\n\u{A0}\n\n",
        "\n\nGames of the spring cup:\n",
        "\n\nSpring cup, round 2\n\n",
        "\nnext file: ",
        " ; the end\n",
        " {the end}",
        "\n% an escape\n",
        "\n\n[$vent \"c\"]\n",
        "\n\n#vent \"c\"]\n",
        "\n(",
    ] {
        let text = [&*first, seam, &second].concat();
        let found: Vec<_> =
            games(&text).into_iter().map(|(event, white, _)| (event, white)).collect();
        assert_eq!(found, expected, "{seam:?}");
        let mut scan = Scan::new();
        for game in Games::of(text.as_bytes()) {
            assert_eq!(scan.read(game.movetext), Ok(()), "{seam:?}");
            assert_eq!((scan.moves.len(), scan.result), (2, Some(GameResult::Open)), "{seam:?}");
        }
    }
}

#[test]
fn lines_may_end_with_a_carriage_return_alone() {
    let text = "[Event \"a\"]\n[White \"A\"]\n\n1. e4 ; best\ne5 *\n\n\
        [Event \"b\"]\n[White \"B\"]\n\n% [Event \"no\"]\n1. d4\nd5 *\n\n\
        [White \"no movetext\"]\n\n[Event \"c\"]\n[White \"C\"]\n\n1. d4 {\n[a \"b\"]} d5 *\n";
    let found = games(&text.replace('\n', "\r"));
    assert_eq!(found, games(text));
    assert_eq!(found.iter().map(|(event, ..)| &**event).collect::<Vec<_>>(), ["a", "b", "", "c"]);
}

#[test]
fn tags_of_two_games_are_never_those_of_one() {
    let whites = |text: &str| -> Vec<String> {
        games(text).into_iter().map(|(_, white, _)| white).collect()
    };
    let game = "[White \"B\"]\n[Result \"*\"]\n\n1. e4 e5 *\n";
    for tags in [
        "[White \"A\"]\n[Black \"x\"]\n\n[Event \"b\"]\n",
        "[White \"A\"]\n\n",
        "[White \"A\"]\n\n[Site \"s\"]\n",
        "[Event \"a\"]\n[White \"A\"]\n[Result \"0-1] 1. e4 e5 0-1\n\n",
        "[White \"A\"]\n[Result \"0-1] 1. e4 e5 0-1\n",
        "[White \"A\"]\n[Event \"a\n\n[Event \"b\"]\n",
        "[Event \"a\"]\n[White \"A\"]\n[Event \"b\"]\n",
        "[Event\t\"a\"]\n[White \"A\"]\n[Event  \"b\"]\n",
    ] {
        assert_eq!(whites(&[tags, game].concat()), ["A", "B"], "{tags:?}");
    }
    // One blank line among the tags of a game parts nothing.
    assert_eq!(whites("[Event \"a\"]\n\n[Site \"s\"]\n\n[White \"A\"]\n\n1. e4 *\n"), ["A"]);
}

#[test]
fn tags_count_whatever_white_space_stands_in_them() {
    // PGN standard 8.1: any white space may stand between the tokens of a pair.
    for [before, between, after] in
        [["", " ", ""], ["", "  ", ""], [" ", "\t", " "], ["", "", ""], ["", "\n", "\n"]]
    {
        let tags = [
            "Result \"0-1\"",
            "WhiteElo \"2500\"",
            "Variant \"x\"",
            "FEN \"y\"",
            "Date \"2031.01.01\"",
        ];
        let tags = tags.map(|tag| format!("[{before}{}{after}]\n", tag.replacen(' ', between, 1)));
        let text = tags.concat() + "\n1. e4 *\n";
        let game = Games::of(text.as_bytes()).next().unwrap();
        assert_eq!(game.tags.result(), Some(GameResult::BlackWins), "{text}");
        assert_eq!((game.tags.white_elo(), game.tags.year()), (Some(2500), Some(2031)), "{text}");
        assert_eq!((game.tags.variant(), game.tags.fen()), (&b"x"[..], &b"y"[..]), "{text}");
        assert_eq!(game.tags.broken, b"", "{text}");
    }
}

#[test]
fn tag_lines_that_are_no_pairs_are_told() {
    for line in [
        "[White B\"]",
        "[Event $B\"]",
        "[White, \"B\"]",
        "[Ev-ent \"B\"]",
        "[White \"B]",
        "[White \"]",
        "xWhite \"B\"]",
    ] {
        let text = format!("[Site \"s\"]\n{line}\n[Result \"*\"]\n\n1. e4 *\n");
        let games: Vec<_> = Games::of(text.as_bytes()).collect();
        assert_eq!((games.len(), games[0].tags.broken), (1, line.as_bytes()), "{text}");
    }
}

#[test]
fn carriage_returns_alone_part_tags_from_moves() {
    let text = "[White \"A\"]\r[Result \"1-0\"]\r\r1. e4 e5 1-0\rWhite \"B\"]\n[Result \"0-1\"]\n\n1. d4 0-1\n";
    let found: Vec<_> = Games::of(text.as_bytes())
        .map(|game| (game.tags.text_of(b"White"), game.tags.result()))
        .collect();
    assert_eq!(
        found,
        [
            ("A".to_owned(), Some(GameResult::WhiteWins)),
            (String::new(), Some(GameResult::BlackWins))
        ]
    );
}

#[test]
fn first_of_several_tags_of_one_name_counts() {
    let text = "[White \"\"]\n[White \"A\"]\n[White \"B\"]\n[Result \"1-0\"]\n[Result \"0-1\"]\n\
        [ WhiteElo \"2000\"]\n[WhiteElo \"1000\"]\n\n1. e4 1-0\n";
    let game = Games::of(text.as_bytes()).next().unwrap();
    assert_eq!(game.tags.text_of(b"White"), "A");
    assert_eq!(game.tags.result(), Some(GameResult::WhiteWins));
    assert_eq!(game.tags.text_of(b"Result"), "1-0");
    assert_eq!(game.tags.white_elo(), Some(2000));
}

#[test]
fn values_are_kept_whatever_they_hold() {
    let [value] =
        ["[Event \"1. e4 (see [b]) {x} ; %\"]\n\n1. e4 *"].map(|text| games(text)[0].0.clone());
    assert_eq!(value, "1. e4 (see [b]) {x} ; %");
}

#[test]
fn comment_with_a_brace_in_it_is_not_read_as_moves() {
    let movetext = b"1. e4 e5 * { better is 7. Nf3 Nc6 { or not }";
    assert_eq!(plies_at_a_glance(movetext), None);
    let mut scan = Scan::new();
    scan.read(movetext).unwrap();
    assert_eq!((scan.result, scan.moves.len()), (Some(GameResult::Open), 2));
    assert_eq!(plies_at_a_glance(b"1. e4 {a} e5 {b} {c} *"), Some((Some(GameResult::Open), 2)));
}

#[test]
fn number_of_a_heading_behind_a_result_is_no_move_number() {
    let movetext = b"1. e4 e5 1-0\nRound 2\n";
    assert_eq!(plies_at_a_glance(movetext), None);
    let mut scan = Scan::new();
    scan.read(movetext).unwrap();
    assert_eq!((scan.result, scan.moves.len()), (Some(GameResult::WhiteWins), 2));
    assert_eq!(plies_at_a_glance(b"1. d4 { a } 1-0\nx }"), None);
    assert!(scan.read(b"1. d4 { a } 1-0\nx }").is_err());
    // What is no castling is no move, and a result glued to its number is one.
    assert_eq!(plies_at_a_glance(b"1. e4 e5 1-0\n1 O-al3"), None);
    assert!(scan.read(b"1. e4 e5 1-0\n1.*").is_err());
}

#[test]
fn result_glued_to_a_move_is_not_passed_over() {
    // A form feed is no white space of the standard, so that no result stands before it.
    assert_eq!(plies_at_a_glance(b"1. e4 e5 1/2-1/2\x0C\r\n"), None);
    assert_eq!(plies_at_a_glance(b"1. e4 e5 *\x0B"), Some((Some(GameResult::Open), 2)));
    for movetext in ["1. e4 e5!*", "1. e4?*", "3.0-1", "3.0*", "1. e4 e5!?$1*"] {
        assert_eq!(plies_at_a_glance(movetext.as_bytes()), None, "{movetext}");
        let mut scan = Scan::new();
        scan.read(movetext.as_bytes()).unwrap();
        assert!(scan.result.is_some(), "{movetext}");
    }
}

#[test]
fn last_move_number_beyond_belief_is_not_believed() {
    // Twice the first number, less two, is 2 in 64 bits.
    for number in ["9223372036854775810", "99999999999999999999", "5001"] {
        assert_eq!(plies_at_a_glance(format!("1. e4 {number}... e5 1-0").as_bytes()), None);
    }
}
