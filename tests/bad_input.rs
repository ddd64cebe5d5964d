//! Broken input costs nothing but itself: the games around it are mined, and it is listed with its
//! place.

use std::io::Write;

use crate::support::{OFFER_GAME, Place, Ran, game};

/// Runs the miner over a text that stands between two sound games, and gives the rejects' games,
/// plies, reasons and texts.
fn between_sound_games(text: impl AsRef<[u8]>) -> Vec<String> {
    let place = Place::new();
    let mut collection = game("Alder, Tom", "Birch, Ida").into_bytes();
    collection.extend_from_slice(text.as_ref());
    collection.extend_from_slice(game("Cedar, Ann", "Dogwood, Lee").as_bytes());
    place.write("games.pgn", &collection);
    let ran = place.run(&["mine", "games.pgn", "--query", "knight-follow-up", "--audit"]);
    assert_eq!(ran.status, 0, "{ran}");
    let whites: Vec<String> =
        place.rows("hits/knight-follow-up.csv").iter().map(|row| row["white"].to_owned()).collect();
    let sound = |white: &str| whites.iter().any(|found| found == white);
    assert!(sound("Alder, Tom") && sound("Cedar, Ann"), "{whites:?}");
    let rejects = place.rows("rejects.csv");
    for row in &rejects {
        let (start, length) = (row["text_offset"].parse::<usize>().unwrap(), row["text"].len());
        let at_fault = &collection[start..start + length];
        assert_eq!(hecatomb::collection::decode(at_fault), &row["text"]);
    }
    rejects
        .iter()
        .map(|row| {
            let [game, ply, reason, text, detail] =
                ["game", "ply", "reason", "text", "detail"].map(|column| &row[column]);
            let detail = if detail.is_empty() { String::new() } else { format!(" ({detail})") };
            format!("{game} {ply} {reason}: {text}{detail}")
        })
        .collect()
}

/// A game with this movetext.
fn with_movetext(movetext: &str) -> String {
    format!(
        "[Event \"Harbour League\"]\n[White \"Elm, Kay\"]\n[Black \"Fir, Jo\"]\n\n{movetext}\n\n"
    )
}

/// The movetext of a game with an offer, changed in one place.
fn offer_game_with(old: &str, new: &str) -> String {
    assert!(OFFER_GAME.contains(old));
    with_movetext(&OFFER_GAME.replace(old, new))
}

#[test]
fn moves_that_a_reader_would_pass_over_are_unreadable() {
    for (old, new) in [
        ("1. e4", "1. e2-e4"),
        ("10. Qh5", "10. Qh5++"),
        ("11. hxg5", "11. a8Q"),
        ("5. Nf3", "5. nf3"),
        ("5. Nf3", "5. Nf3ep"),
        ("7. h4", "7. \u{0}h4"),
    ] {
        let wrong = new.split_once(' ').unwrap().1;
        let ply = 2 * old.split_once('.').unwrap().0.parse::<usize>().unwrap() - 1;
        let expected = format!("2 {ply} unreadable move: {wrong}");
        assert_eq!(between_sound_games(offer_game_with(old, new)), [expected]);
    }
}

#[test]
fn illegal_ambiguous_and_null_moves_are_told_apart() {
    let reject = |old, new| between_sound_games(offer_game_with(old, new));
    assert_eq!(reject("10. Qh5", "10. Qh8"), ["2 19 illegal move: Qh8"]);
    assert_eq!(reject("11. hxg5", "11. Rh9"), ["2 21 unreadable move: Rh9"]);
    assert_eq!(reject("7. h4", "7. --"), ["2 13 null move: --"]);
    assert_eq!(reject("7. h4", "7. Z0"), ["2 13 null move: Z0"]);
    assert_eq!(reject("4. e5 Nfd7", "4. e5 Nd7"), ["2 8 ambiguous move: Nd7 (Nbd7, Nfd7)"]);
}

#[test]
fn unterminated_comment_costs_only_its_own_game() {
    let open = with_movetext("1. e4 { never closed e5 2. Nf3 *");
    assert_eq!(
        between_sound_games(&open),
        ["2 2 unterminated comment: { never closed e5 2. Nf3 *"]
    );
    // After it, a game with a comment of its own would seem to close it.
    let with_comment = with_movetext("1. d4 { closed } d5 *");
    assert_eq!(
        between_sound_games(open + &with_comment),
        ["2 2 unterminated comment: { never closed e5 2. Nf3 *"]
    );
}

#[test]
fn unterminated_comment_at_the_end_costs_only_its_own_game() {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida") + &with_movetext("1. e4 { never"));
    let ran = place.run(&["mine", "games.pgn", "--audit", "--query", "queen-lift"]);
    assert_eq!(ran.status, 0, "{ran}");
    assert_eq!(place.rows("hits/queen-lift.csv").len(), 1);
    assert_eq!(&place.rows("rejects.csv")[0]["reason"], "unterminated comment");
}

#[test]
fn comments_may_hold_anything_that_looks_like_a_game() {
    let fake = game("Fake, One", "Fake, Two");
    for comment in [
        format!("{{ {fake} }}"),
        "{ wrapped\n[%emt 0:00:05]}".to_owned(),
        "; [Event \"x\"] {\n".to_owned(),
    ] {
        let rejects =
            between_sound_games(offer_game_with("9. Ng5+", &format!("{comment} 9. Ng5+")));
        assert_eq!(rejects, Vec::<String>::new());
    }
}

#[test]
fn variations_may_nest_and_must_match() {
    let nested = format!("{}{}", "(1. d4 ".repeat(50), ")".repeat(50));
    assert_eq!(
        between_sound_games(offer_game_with("1. e4", &format!("1. e4 {nested}"))),
        Vec::<String>::new()
    );
    assert_eq!(
        between_sound_games(offer_game_with("1. e4", "1. e4 (1. d4")),
        ["2 2 unterminated variation: (1. d4 e6 2. d4 d5 3. Nc3 Nf6 4. e5 Nfd7"]
    );
    assert_eq!(between_sound_games(offer_game_with("1. e4", "1. e4 )")), ["2 2 stray bracket: )"]);
    assert_eq!(between_sound_games(offer_game_with("1. e4", "1. e4 }")), ["2 2 stray bracket: }"]);
    let deep = "(".repeat(100_000);
    assert_eq!(between_sound_games(offer_game_with("1. e4", &format!("1. e4 {deep}"))).len(), 1);
}

#[test]
fn text_behind_the_result_is_told() {
    assert_eq!(
        between_sound_games(offer_game_with("1-0", "1-0 1. d4")),
        ["2 24 text after the result: 1."]
    );
    assert_eq!(
        between_sound_games(offer_game_with("1-0", "1-0 {a comment} ; another")),
        Vec::<String>::new()
    );
}

#[test]
fn tags_without_moves_are_told() {
    let only_tags = "[Event \"Harbour League\"]\n[White \"Elm, Kay\"]\n\n";
    assert_eq!(between_sound_games(only_tags), ["2  no movetext: [Event \"Harbour League\"]"]);
    assert_eq!(between_sound_games(with_movetext("1-0")), Vec::<String>::new());
}

#[test]
fn tag_line_that_swallows_its_game_is_told_and_the_next_game_is_itself() {
    assert_eq!(
        between_sound_games("[Event \"x\"]\n[White \"Elm, Kay\"]\n[Result \"0-1] 1. e4 e5 0-1\n\n"),
        ["2  unreadable tag: [Result \"0-1] 1. e4 e5 0-1"]
    );
    // Only its first line may have been swallowed.
    let wrapped = "[Event \"x\"]\n[Result \"0-1] 1. e4 e5\n2. Nf3 Nc6 0-1\n\n";
    assert_eq!(between_sound_games(wrapped), ["2  unreadable tag: [Result \"0-1] 1. e4 e5"]);
    let without_event = "[White \"Elm, Kay\"]\n[Black \"Fir, Jo\"]\n\n";
    assert_eq!(between_sound_games(without_event), ["2  no movetext: [White \"Elm, Kay\"]"]);
}

#[test]
fn game_of_a_broken_tag_line_is_mined_and_doubted() {
    let place = Place::new();
    let broken =
        game("Alder, Tom", "Birch, Ida").replace("[Site \"Ombrequay\"]", "[Site \"Ombrequay]");
    place.write("games.pgn", broken + &game("Cedar, Ann", "Dogwood, Lee"));
    let ran = place.run(&["mine", "games.pgn", "--query", "knight-follow-up"]);
    assert_eq!(ran.status, 0, "{ran}");
    let rows = place.rows("hits/knight-follow-up.csv");
    let doubts: Vec<[&str; 3]> =
        rows.iter().map(|row| ["white", "site", "doubts"].map(|column| &row[column])).collect();
    assert_eq!(
        doubts,
        [["Alder, Tom", "", "unreadable tag line"], ["Cedar, Ann", "Ombrequay", ""]]
    );
}

#[test]
fn what_is_no_text_behind_a_result_is_told() {
    let utf16: Vec<u8> =
        game("Elm, Kay", "Fir, Jo").encode_utf16().flat_map(u16::to_le_bytes).collect();
    for next in [[b"\xFF\xFE", &utf16[..]].concat(), gzip_of(&game("Elm, Kay", "Fir, Jo"))] {
        let place = Place::new();
        place.write("games.pgn", [game("Alder, Tom", "Birch, Ida").as_bytes(), &next].concat());
        place.run(&["mine", "games.pgn", "--query", "knight-follow-up"]);
        assert_eq!(&place.rows("rejects.csv")[0]["reason"], "text after the result");
    }
}

#[test]
fn games_that_may_lack_moves_are_doubted() {
    let doubts = |movetext: &str| {
        let place = Place::new();
        place.write("games.pgn", with_movetext(movetext) + &game("Cedar, Ann", "Dogwood, Lee"));
        let ran = place.run(&["mine", "games.pgn", "--query", "knight-follow-up"]);
        assert_eq!((ran.status, place.rows("rejects.csv").len()), (0, 0), "{ran}");
        let rows = place.rows("hits/knight-follow-up.csv");
        assert_eq!(&rows[1]["doubts"], "");
        rows[0]["doubts"].to_owned()
    };
    assert_eq!(doubts(OFFER_GAME), "");
    let cut = OFFER_GAME.split(" 12.").next().unwrap();
    assert_eq!(doubts(cut), "no result after the moves");
    assert_eq!(
        doubts(&OFFER_GAME.replace("11. hxg5 f6 12.", "11. hxg5 f6 13.")),
        "move numbers skip"
    );
    assert_eq!(
        doubts(&OFFER_GAME.replace("11. hxg5 f6 12. g6", "11. hxg5 6 f6 12. g6")),
        "move numbers skip"
    );
    assert_eq!(doubts(&OFFER_GAME.replace("12. g6", "12. g6 {a {b}")), "brace in a comment");
    for sound in [
        OFFER_GAME.replace("8. Bxh7+", "8. Bxh7+ 8..."),
        OFFER_GAME.replace(". ", "."),
        OFFER_GAME.replace(". ", " "),
        OFFER_GAME.replace("4. e5", "4. ... 4. e5"),
    ] {
        assert_eq!(doubts(&sound), "", "{sound}");
    }
}

#[test]
fn plain_file_that_breaks_off_in_a_game_loses_that_game_aloud() {
    let [first, second] = [game("Alder, Tom", "Birch, Ida"), game("Cedar, Ann", "Dogwood, Lee")];
    let whole = first.clone() + second.trim_end();
    // A bracket alone is no tag yet.
    for cut in first.len() + 2..whole.len() {
        let place = Place::new();
        place.write("games.pgn", &whole[..cut]);
        let ran = place.run(&["mine", "games.pgn", "--query", "knight-follow-up"]);
        assert_eq!(ran.status, 0, "{ran}");
        let games = place.rows("hits/knight-follow-up.csv").len();
        assert_eq!(
            (games, place.rows("rejects.csv").len()),
            (1, 1),
            "{}",
            &whole[first.len()..cut]
        );
    }
    let place = Place::new();
    place.write("games.pgn", &whole[..whole.len() - 7]).run(&["mine", "games.pgn"]);
    let reject = &place.rows("rejects.csv")[0];
    let told = ["game", "ply", "reason", "text"].map(|column| &reject[column]);
    assert_eq!(told, ["2", "22", "source ends before the result", "12."]);
}

#[test]
fn values_of_tags_are_cut_at_a_thousand_bytes() {
    let place = Place::new();
    let long = "ö".repeat(40_000);
    place.write("games.pgn", game(&long, "Birch, Ida"));
    assert_eq!(place.run(&["mine", "games.pgn", "--query", "knight-follow-up"]).status, 0);
    let row = &place.rows("hits/knight-follow-up.csv")[0];
    assert_eq!((&row["white"], &row["doubts"]), (&*("ö".repeat(500) + "…"), "tag cut"));
    let ran = place.run(&["tally", "hecatomb-out", "--by", "white"]);
    assert_eq!(ran.status, 0, "{ran}");
}

#[test]
fn limit_of_plies_is_told_as_such() {
    let movetext = "1. Nf3 Nf6 2. Ng1 Ng8 ".repeat(2501) + "*";
    let rejects = between_sound_games(with_movetext(&movetext));
    assert_eq!(rejects, ["2 10001 more than 10000 plies: Nf3"]);
}

#[test]
fn set_up_of_other_kinds_of_chess_is_told_as_such() {
    let reject = |fen: &str| {
        let place = Place::new();
        place.write(
            "games.pgn",
            with_movetext("1. e4 *").replace("\n\n1.", &format!("\n[FEN \"{fen}\"]\n\n1.")),
        );
        let ran = place.run(&["mine", "games.pgn", "--audit"]);
        assert_eq!(ran.status, 0, "{ran}");
        let verified = place.run(&["verify", "--fen", fen, "--offer", "e4"]);
        assert_eq!(verified.status, 1, "{verified}");
        let row = &place.rows("rejects.csv")[0];
        assert!(verified.err.contains(&row["detail"]), "{verified}");
        format!("{}: {} ({})", &row["reason"], &row["text"], &row["detail"])
    };
    let start = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR";
    let unreadable =
        |text: &str, detail: &str| format!("unreadable set-up position: {text} ({detail})");
    assert_eq!(
        reject(&format!("{start}/8 w KQkq - 0 1")),
        unreadable(
            "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQK",
            &format!("`{start}/8` has 9 ranks, not 8")
        )
    );
    assert_eq!(
        reject("4k3/8/8/8/8/8/4P3/4K3[Nn] w - - 0 1"),
        unreadable(
            "4k3/8/8/8/8/8/4P3/4K3[Nn] w - - 0 1",
            "men in hand are of another kind of chess"
        )
    );
    assert_eq!(
        reject("4k3/8/8/8/8/8/4P3/4K3 w - - 3+3 0 1"),
        unreadable(
            "4k3/8/8/8/8/8/4P3/4K3 w - - 3+3 0 1",
            "a counter of checks is of another kind of chess"
        )
    );
    // What is shown holds the fault, however far on it stands.
    assert_eq!(
        reject("rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBN w KQkq - 0 1"),
        unreadable("RNBQKBN", "rank 1 (`RNBQKBN`) has 7 squares, not 8")
    );
}

/// As python-chess 1.11.2 reads them: `Board(fen)` keeps the position, `clean_castling_rights` what is left
/// of the rights.
#[test]
fn surplus_rights_of_a_set_up_are_dropped_and_doubted() {
    let mined = |fen: &str| {
        let place = Place::new();
        let text = format!(
            "[Event \"x\"]\n[SetUp \"1\"]\n[FEN \"{fen}\"]\n\n1. Bxh7+ Kxh7 2. Ng5+ Kg8 3. Qh5 *\n"
        );
        place.write("games.pgn", text);
        let ran = place.run(&["mine", "games.pgn", "--query", "knight-follow-up"]);
        assert_eq!(ran.status, 0, "{ran}");
        let rows = place.rows("hits/knight-follow-up.csv");
        [&rows[0]["fen"], &rows[0]["doubts"]].join(" | ")
    };
    let board = "r1bq1rk1/pp1n1ppp/2n1p3/b2pP3/8/2PB1N2/PP3PPP/RNBQ1RK1";
    assert_eq!(mined(&format!("{board} w - - 0 1")), format!("{board} w - - 0 1 | "));
    assert_eq!(
        mined(&format!("{board} w KQkq - 0 1")),
        format!("{board} w - - 0 1 | castling rights corrected")
    );
    assert_eq!(
        mined(&format!("{board} w - d6 0 1")),
        format!("{board} w - - 0 1 | en passant square dropped")
    );
}

#[test]
fn set_up_positions_are_mined_and_broken_ones_told() {
    let set_up = |fen: &str| {
        format!(
            "[Event \"x\"]\n[White \"Set, Up\"]\n[SetUp \"1\"]\n[FEN \"{fen}\"]\n\n\
             1. Bxh7+ Kxh7 2. Ng5+ Kg8 3. Qh5 *\n\n"
        )
    };
    let fen = "r1bq1rk1/pp1n1ppp/2n1p3/b2pP3/8/2PB1N2/PP3PPP/RNBQ1RK1 w - - 0 1";
    assert_eq!(between_sound_games(set_up(fen)), Vec::<String>::new());
    let broken = "r1bq1rk1/pp1n1ppp/2n1p3/b2pP3/8/2PB1N2/PP3PPP/RNBQ1RK1 w";
    assert_eq!(between_sound_games(set_up(&broken[4..])).len(), 1);
    assert!(
        between_sound_games(set_up("not a position"))[0]
            .contains("unreadable set-up position: not a position")
    );
}

#[test]
fn shuffled_chess_is_mined_and_other_variants_are_rejected_as_such() {
    let shuffled = "[Event \"x\"]\n[Variant \"Chess960\"]\n\
        [FEN \"bqrkrnnb/pppppppp/8/8/8/8/PPPPPPPP/BQRKRNNB w ECec - 0 1\"]\n\n1. Ng3 Ng6 2. Nf3 Nf6 3. O-O O-O *\n\n";
    assert_eq!(between_sound_games(shuffled), Vec::<String>::new());
    let other = "[Event \"x\"]\n[Variant \"Atomic\"]\n\n1. e4 e5 *\n\n";
    assert_eq!(between_sound_games(other), ["2  chess variant: Atomic"]);
}

#[test]
fn text_that_is_no_game_is_no_game() {
    let place = Place::new();
    place.write("notes.txt", "Shopping: two pounds of flour, one dozen eggs.\n");
    let ran = place.run(&["mine", "notes.txt"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("no games in `notes.txt`"), "{ran}");
    assert_eq!(&place.rows("rejects.csv")[0]["text"], "Shopping:");
}

#[test]
fn games_without_tags_are_parted_by_results() {
    let place = Place::new();
    place.write("games.pgn", format!("{OFFER_GAME}\n\n1. e4 e5 0-1\n{OFFER_GAME}\n"));
    let ran = place.run(&["mine", "games.pgn", "--query", "knight-follow-up", "--keep-duplicates"]);
    assert_eq!(ran.status, 0, "{ran}");
    let games: Vec<String> =
        place.rows("hits/knight-follow-up.csv").iter().map(|row| row["game"].to_owned()).collect();
    assert_eq!(games, ["1", "3"]);
}

#[test]
fn line_of_50_megabytes_is_passed_over_and_told() {
    let place = Place::new();
    let mut text = game("Alder, Tom", "Birch, Ida");
    text += "[Event \"long\"]\n\n1. e4 {";
    text.extend(std::iter::repeat_n('x', 50 << 20));
    text += "} e5 *\n\n";
    text += &game("Cedar, Ann", "Dogwood, Lee");
    place.write("games.pgn", text);
    let ran = place.run(&["mine", "games.pgn", "--query", "knight-follow-up"]);
    assert_eq!(ran.status, 0, "{ran}");
    let games: Vec<String> =
        place.rows("hits/knight-follow-up.csv").iter().map(|row| row["game"].to_owned()).collect();
    assert_eq!(games, ["1", "3"]);
    assert_eq!(&place.rows("rejects.csv")[0]["reason"], "game too long");
}

#[test]
fn names_in_latin_1_come_out_in_utf_8() {
    let place = Place::new();
    let mut text = game("Ren@, Zo#", "Birch, Ida").into_bytes();
    for byte in &mut text {
        *byte = match *byte {
            b'@' => 0xE9,
            _ => *byte,
        };
    }
    place.write("games.pgn", text);
    assert_eq!(place.run(&["mine", "games.pgn"]).status, 0);
    assert_eq!(&place.rows("hits/bishop-takes-h7.csv")[0]["white"], "René, Zo#");
}

fn zstd_of(text: &str) -> Vec<u8> {
    zstd::encode_all(text.as_bytes(), 3).unwrap()
}

/// As the command `zstd` writes it.
fn checked_zstd_of(text: &str) -> Vec<u8> {
    let mut encoder = zstd::stream::write::Encoder::new(Vec::new(), 3).unwrap();
    encoder.include_checksum(true).unwrap();
    encoder.write_all(text.as_bytes()).unwrap();
    encoder.finish().unwrap()
}

fn gzip_of(text: &str) -> Vec<u8> {
    let mut encoder = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::default());
    encoder.write_all(text.as_bytes()).unwrap();
    encoder.finish().unwrap()
}

fn bzip2_of(text: &str) -> Vec<u8> {
    let mut encoder = bzip2::write::BzEncoder::new(Vec::new(), bzip2::Compression::fast());
    encoder.write_all(text.as_bytes()).unwrap();
    encoder.finish().unwrap()
}

/// The number of hits in a file of this content, whatever its name.
fn hits_in(content: &[u8]) -> (usize, Ran) {
    let place = Place::new();
    place.write("some-file", content);
    let ran = place.run(&["mine", "some-file", "--query", "knight-follow-up"]);
    (place.rows("hits/knight-follow-up.csv").len(), ran)
}

#[test]
fn archives_are_told_by_content_and_may_have_several_members() {
    let [first, second] = [game("Alder, Tom", "Birch, Ida"), game("Cedar, Ann", "Dogwood, Lee")];
    // RFC 8878, section 3.1.2: a skippable frame has a magic number and a size, both little-endian.
    let skippable = [&[0x50, 0x2A, 0x4D, 0x18, 4, 0, 0, 0][..], b"skip"].concat();
    for content in [
        [zstd_of(&first), zstd_of(&second)].concat(),
        [skippable.clone(), zstd_of(&first), skippable, zstd_of(&second)].concat(),
        [gzip_of(&first), gzip_of(&second)].concat(),
        [bzip2_of(&first), bzip2_of(&second)].concat(),
        (first + &second).into_bytes(),
    ] {
        let (hits, ran) = hits_in(&content);
        assert_eq!((hits, ran.status), (2, 0), "{ran}");
    }
}

/// Many games that do not compress to nothing.
fn many_games() -> String {
    (0..2000)
        .map(|number| {
            game(&format!("White{}, W", number * 7919 % 10_007), &format!("Black, {number}"))
        })
        .collect()
}

#[test]
fn truncated_archive_keeps_the_rows_before_it() {
    let text = many_games();
    for content in [zstd_of(&text), gzip_of(&text), bzip2_of(&text)] {
        let (hits, ran) = hits_in(&content[..content.len() * 3 / 4]);
        assert_eq!(ran.status, 1, "{ran}");
        assert!((100..2000).contains(&hits), "{hits} hits: {ran}");
        assert!(ran.err.contains("can't read `some-file` to its end"), "{ran}");
    }
}

#[test]
fn damaged_archive_keeps_the_rows_before_the_damage_and_the_other_sources() {
    let place = Place::new();
    let mut damaged = zstd_of(&many_games());
    let middle = damaged.len() / 2;
    damaged[middle..middle + 40].fill(0x5A);
    place.write("a.pgn.zst", damaged).write("b.pgn", game("Cedar, Ann", "Dogwood, Lee"));
    let ran = place.run(&["mine", "a.pgn.zst", "b.pgn", "--query", "knight-follow-up"]);
    assert_eq!(ran.status, 1, "{ran}");
    let rows = place.rows("hits/knight-follow-up.csv");
    assert!(rows.iter().any(|row| &row["source"] == "b.pgn"));
    let manifest: serde_json::Value =
        serde_json::from_str(&place.read("hecatomb-out/run.json")).unwrap();
    assert!(
        manifest["sources"][0]["failure"].is_string()
            && manifest["sources"][1]["failure"].is_null()
    );
}

/// After the first damaged byte the text of an archive may be anything until its check fails, and where the
/// damage is nobody knows.
#[test]
fn rows_from_a_damaged_archive_are_doubted_from_the_last_check_on() {
    let names = |text: &str| {
        let place = Place::new();
        place.write("games.pgn", text);
        assert_eq!(place.run(&["mine", "games.pgn", "--query", "knight-follow-up"]).status, 0);
        let rows = place.rows("hits/knight-follow-up.csv");
        rows.iter().map(|row| row["white"].to_owned()).collect::<std::collections::BTreeSet<_>>()
    };
    let text = many_games();
    let sound = names(&text);
    for (format, damaged) in
        [("csv", gzip_of(&text)), ("jsonl", checked_zstd_of(&text)), ("parquet", bzip2_of(&text))]
    {
        for place_of_damage in [damaged.len() / 3, damaged.len() / 2, damaged.len() * 2 / 3] {
            let place = Place::new();
            let mut damaged = damaged.clone();
            damaged[place_of_damage] ^= 0x10;
            place.write("a.pgn", damaged).write("b.pgn", game("Cedar, Ann", "Dogwood, Lee"));
            let arguments =
                ["mine", "a.pgn", "b.pgn", "--query", "knight-follow-up", "--table", format];
            let ran = place.run(&arguments);
            assert_eq!(ran.status, 1, "{ran}");
            let tally = |by: &str| {
                let ran = place.run(&["tally", "hecatomb-out", "--by", by, "--format", "csv"]);
                assert_eq!(ran.status, 0, "{ran}");
                let mut reader = csv::Reader::from_reader(ran.out.as_bytes());
                let value = reader.headers().unwrap().iter().position(|name| name == by).unwrap();
                reader.records().map(|row| row.unwrap()[value].to_owned()).collect::<Vec<_>>()
            };
            let doubts = tally("doubts");
            let strangers = tally("white").into_iter().filter(|white| !sound.contains(white));
            let strangers = strangers.filter(|white| white != "Cedar, Ann").count();
            if doubts.len() == 1 {
                assert_eq!(strangers, 0, "nothing of the damaged source was kept: {ran}");
                continue;
            }
            assert!(ran.err.contains("games were read before that, all unchecked"), "{ran}");
            assert!(ran.out.replace('\n', " ").contains("1 damaged source"), "{ran}");
            let (sound, doubted): (Vec<_>, Vec<_>) = doubts.iter().partition(|doubt| *doubt == "?");
            assert_eq!(sound, ["?"], "{ran}");
            assert!(doubted.iter().all(|doubt| doubt.ends_with("damaged source")), "{ran}");
        }
    }
    let place = Place::new();
    let mut second = checked_zstd_of(&text);
    let middle = second.len() / 2;
    second[middle] ^= 0x10;
    // Short frames are decompressed together, up to 4 MiB of text.
    let first = game("Cedar, Ann", "Dogwood, Lee") + &"; a long comment\n".repeat(1 << 18);
    place.write("a.pgn", [checked_zstd_of(&first), second].concat());
    place.run(&["mine", "a.pgn", "--query", "knight-follow-up", "--keep-duplicates"]);
    let rows = place.rows("hits/knight-follow-up.csv");
    let doubted = |row: &crate::support::Row| &row["doubts"] == "damaged source";
    assert!(!doubted(&rows[0]) && doubted(rows.last().unwrap()), "the first frame was checked");
}

#[test]
fn source_that_fails_at_once_after_one_that_broke_off_has_no_games() {
    let place = Place::new();
    let whole = gzip_of(&many_games());
    place.write("a.pgn", &whole[..whole.len() / 2]).write("b.pgn", "PK\x03\x04 and more");
    let ran = place.run(&["mine", "a.pgn", "b.pgn", "--query", "knight-follow-up"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("can't read `b.pgn`: it is a zip archive"), "{ran}");
    let manifest: serde_json::Value =
        serde_json::from_str(&place.read("hecatomb-out/run.json")).unwrap();
    assert_eq!(manifest["sources"][1]["games"], 0);
    assert!(manifest["sources"][1]["unchecked_from"].is_null(), "{manifest}");
}

#[test]
fn missing_and_unreadable_sources_do_not_stop_the_others() {
    let place = Place::new();
    place.write("games.pgn", game("Alder, Tom", "Birch, Ida")).write("empty.pgn", "");
    std::fs::create_dir(place.path().join("empty-folder")).unwrap();
    let ran = place.run(&["mine", "missing.pgn", "empty-folder", "empty.pgn", "games.pgn"]);
    assert_eq!(ran.status, 1, "{ran}");
    assert!(ran.err.contains("can't read `missing.pgn`"), "{ran}");
    assert!(ran.err.contains("no games in the folder `empty-folder`"), "{ran}");
    assert_eq!(place.rows("hits/bishop-takes-h7.csv").len(), 1);
    assert_eq!(place.run(&["mine", "empty.pgn", "--out", "other"]).status, 1);
    assert_eq!(place.run(&["mine", "missing.pgn", "--out", "third"]).status, 1);
    assert!(!place.path().join("third").exists());
}
