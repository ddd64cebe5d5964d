//! The names of sources in tables and messages.

use std::path::Path;

/// The name of a path in tables and messages: the path itself if it is text, or else with the bytes that are
/// none as `\xE9`. No two paths have the same name: where there are such bytes, or it looks so, a
/// backslash is `\x5C`.
pub(super) fn name_of(path: &Path) -> String {
    let bytes = path.as_os_str().as_encoded_bytes();
    match std::str::from_utf8(bytes) {
        Ok(text) if !seems_to_hold_codes(bytes) => text.to_owned(),
        _ => bytes
            .utf8_chunks()
            .flat_map(|chunk| {
                let odd = chunk.invalid().iter().map(|byte| format!("\\x{byte:02X}"));
                std::iter::once(chunk.valid().replace('\\', "\\x5C")).chain(odd)
            })
            .collect(),
    }
}

/// Whether a path holds what a name has in place of a backslash, or of a byte that is no text.
fn seems_to_hold_codes(path: &[u8]) -> bool {
    path.windows(4).any(|code| match code {
        b"\\x5C" => true,
        [b'\\', b'x', first, second] => {
            matches!(first, b'8'..=b'9' | b'A'..=b'F')
                && matches!(second, b'0'..=b'9' | b'A'..=b'F')
        }
        _ => false,
    })
}

#[cfg(test)]
mod tests {
    #[cfg(unix)]
    #[test]
    fn no_two_paths_have_the_same_name() {
        use std::collections::BTreeSet;
        use std::ffi::OsStr;
        use std::os::unix::ffi::OsStrExt;

        let name = |bytes: &[u8]| super::name_of(std::path::Path::new(OsStr::from_bytes(bytes)));
        assert_eq!(name(b"caf\xE9.pgn"), "caf\\xE9.pgn");
        assert_eq!(name("café.pgn".as_bytes()), "café.pgn");
        assert_eq!(name(b"a\\b.pgn"), "a\\b.pgn");
        // Every path of a few pieces that could be taken for each other.
        let pieces: [&[u8]; 9] =
            [b"\\", b"x", b"E9", b"5C", b"\xE9", b"\xC3", b"\xA9", b"\\xE9", b"\\x5C"];
        let mut paths: BTreeSet<Vec<u8>> = BTreeSet::from([Vec::new()]);
        for _ in 0..4 {
            let longer = |path: &Vec<u8>| pieces.map(|piece| [path, piece].concat());
            let next: Vec<Vec<u8>> = paths.iter().flat_map(longer).collect();
            paths.extend(next);
        }
        let names: BTreeSet<String> = paths.iter().map(|path| name(path)).collect();
        assert!(paths.len() > 5000);
        assert_eq!(names.len(), paths.len());
    }
}
