//! What is measured on: games, and tables of hits.

use std::fs::{self, File};
use std::io::{self, BufReader, Write};
use std::path::{Path, PathBuf};

use hecatomb::hits::{JudgedHit, Layout, Reading, Run, Verdicts, verdict_cells, verdict_columns};
use hecatomb::tables::{
    Column, RUN_FILE, TERMS_FILE, TableFormat, TableRun, TableWriter, TermsFile, hits_table,
};

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

/// The file as one frame of zstd next to it. Games that come again are compressed anew: its window of 1 MB ends
/// before the games do, and no collection is made of copies, which are decompressed four times as fast.
pub(crate) fn compressed(plain: &Path) -> io::Result<PathBuf> {
    const WINDOW_LOG: u32 = 20;
    let path = plain.with_extension("pgn.zst");
    let mut encoder = zstd::stream::Encoder::new(File::create(&path)?, 3)?;
    encoder.window_log(WINDOW_LOG)?;
    io::copy(&mut BufReader::new(File::open(plain)?), &mut encoder)?;
    encoder.finish()?;
    Ok(path)
}

/// The length of a file in MB.
pub(crate) fn megabytes(path: &Path) -> io::Result<u64> {
    Ok(fs::metadata(path)?.len() / 1_000_000)
}

/// Repeats the hits of a query in a run, and the verdicts on them if there are any, each with an id of its
/// own, and corrects what the run says of its tables. Where the table of hits is.
pub(crate) fn repeat_hits(folder: &Path, query: &str, count: usize) -> io::Result<PathBuf> {
    let mut run = Run::open(folder, Reading::AsWritten).map_err(io::Error::other)?;
    let (layout, hits) = hits_of(&run, query)?;
    let repeated = || {
        let numbered = hits.iter().cycle().take(count).enumerate();
        numbered.map(|(number, hit)| {
            let id = format!("{number}:{}", hit.id);
            JudgedHit { id, ..hit.clone() }
        })
    };
    let (format, name) = (run.format(), run.format().file_name(&hits_table(query)));
    let place = folder.join(&name);
    let table = write(&place, format, &layout.hit_columns(), repeated(), |hit, to| {
        to.row(&layout.hit_cells(&hit.row()))
    })?;
    if layout.verdicts != Verdicts::Missing {
        let (verdicts, columns) = (layout.verdicts, verdict_columns(layout.verdicts));
        let place = run.verdicts_place(query);
        let written = write(&place, format, &columns, repeated(), |hit, to| {
            to.row(&verdict_cells(verdicts, &hit.row()))
        })?;
        let verdicts = folder.join("verdicts");
        let mut terms = TermsFile::read(&verdicts);
        let known = terms.0.get_mut(query).expect("verdicts have terms");
        (known.hits, known.table) = (table.xxh3.clone(), Some(written));
        fs::write(verdicts.join(TERMS_FILE), serde_json::to_string(&terms)?)?;
    }
    run.manifest.tables.insert(name, table);
    fs::write(folder.join(RUN_FILE), serde_json::to_string(&run.manifest)?)?;
    Ok(place)
}

/// The hits of a query in a run, and which columns they have.
fn hits_of(run: &Run, query: &str) -> io::Result<(Layout, Vec<JudgedHit>)> {
    let mut reader = run.hits(query).map_err(io::Error::other)?;
    let layout = reader.layout().expect("the sample has hits of this query").clone();
    let mut hits = Vec::new();
    while let Some(hit) = reader.next_hit().map_err(io::Error::other)? {
        hits.push(hit.clone());
    }
    Ok((layout, hits))
}

/// Writes a table of hits in the place of another.
fn write(
    place: &Path,
    format: TableFormat,
    columns: &[Column],
    hits: impl Iterator<Item = JudgedHit>,
    row: impl Fn(&JudgedHit, &mut dyn TableWriter) -> io::Result<()>,
) -> io::Result<TableRun> {
    fs::remove_file(place)?;
    let mut table = format.create(place, columns)?;
    for hit in hits {
        row(&hit, &mut *table)?;
    }
    table.finish()
}
