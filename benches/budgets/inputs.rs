//! What is measured on: games, and tables of hits.

use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use hecatomb::hits::Run;
use hecatomb::tables::TableFormat;

/// The games to measure on: those of the file in `HECATOMB_BENCH`, or of the package pgn-reader.
pub(crate) fn games() -> io::Result<Vec<u8>> {
    let Some(path) = std::env::var_os("HECATOMB_BENCH") else {
        return package_games();
    };
    let mut bytes = fs::read(path)?;
    if bytes.starts_with(&[0x28, 0xB5, 0x2F, 0xFD]) {
        bytes = zstd::decode_all(&bytes[..])?;
    }
    Ok(bytes)
}

/// The games that the package pgn-reader carries.
fn package_games() -> io::Result<Vec<u8>> {
    let metadata = cargo_metadata::MetadataCommand::new().exec().map_err(io::Error::other)?;
    let package = metadata.packages.iter().find(|package| package.name == "pgn-reader");
    let folder = package.and_then(|package| package.manifest_path.parent());
    let folder = folder.ok_or_else(|| io::Error::other("pgn-reader is not among the packages"))?;
    let files = fs::read_dir(folder.join("benches"))?.map(|entry| Ok(entry?.path()));
    let mut files: Vec<PathBuf> = files.collect::<io::Result<_>>()?;
    files.retain(|path| path.to_string_lossy().ends_with("_1000k.pgn"));
    files.sort();
    let games: Vec<Vec<u8>> = files.iter().rev().map(fs::read).collect::<io::Result<_>>()?;
    Ok(games.concat())
}

/// The games again and again, to about a length.
pub(crate) fn repeated(games: &[u8], length: usize, path: &Path) -> io::Result<PathBuf> {
    let mut file = File::create(path)?;
    for _ in 0..length.div_ceil(games.len()) {
        file.write_all(games)?;
    }
    Ok(path.to_owned())
}

/// The file as one frame of zstd next to it.
pub(crate) fn compressed(plain: &Path) -> io::Result<PathBuf> {
    let path = plain.with_extension("pgn.zst");
    zstd::stream::copy_encode(File::open(plain)?, File::create(&path)?, 3)?;
    Ok(path)
}

/// The length of a file in MB.
pub(crate) fn megabytes(path: &Path) -> io::Result<u64> {
    Ok(fs::metadata(path)?.len() / 1_000_000)
}

/// Repeats the rows of a table, each with an id of its own.
pub(crate) fn repeat_rows(table: &Path, count: usize) -> io::Result<()> {
    let text = fs::read_to_string(table)?;
    let (columns, rows) = text.split_once('\n').expect("a table has a line of columns");
    let mut file = BufWriter::new(File::create(table)?);
    writeln!(file, "{columns}")?;
    for (number, row) in rows.lines().cycle().take(count).enumerate() {
        writeln!(file, "{number}:{row}")?;
    }
    file.flush()
}

/// Rewrites the table of hits of a query in a run in another format, in its place.
pub(crate) fn rewrite(run: &Path, query: &str, format: TableFormat) -> io::Result<()> {
    let table = run.join("hits").join(query).with_extension("csv");
    let mut hits = Run::open(run).and_then(|run| run.hits(query)).map_err(io::Error::other)?;
    let layout = hits.layout().expect("a table of this format names its columns").clone();
    let place = table.with_extension(format.ending());
    let mut written = format.create(&place, &layout.hit_columns())?;
    while let Some(hit) = hits.next_hit().map_err(io::Error::other)? {
        written.row(&layout.hit_cells(&hit.row()))?;
    }
    written.finish()?;
    fs::remove_file(table)
}
