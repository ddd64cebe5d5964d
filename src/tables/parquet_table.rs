//! Tables as Parquet: every column with its own type, blanks as nulls.

use std::io::{self, BufWriter, Write};
use std::sync::Arc;

use parquet::basic::{Compression, LogicalType, Repetition, Type as PhysicalType};
use parquet::data_type::{BoolType, ByteArray, ByteArrayType, DataType, DoubleType, Int64Type};
use parquet::file::metadata::KeyValue;
use parquet::file::properties::WriterProperties;
use parquet::file::writer::{SerializedColumnWriter, SerializedFileWriter};
use parquet::schema::types::{Type, TypePtr};

use super::cell::{Cell, Column, Kind};
use super::checksum::{Extent, SummedFile, TableRun};
use super::writer::{TableWriter, can_not_grow};

/// The rows that are held back and written as one row group, which bounds the memory of a table.
const ROWS_IN_GROUP: usize = 1000;

/// The key under which a file says what its columns mean.
const COLUMNS: &str = concat!(env!("CARGO_PKG_NAME"), ".columns");

pub(super) struct ParquetTable {
    /// `None` once the table is finished.
    writer: Option<SerializedFileWriter<BufWriter<SummedFile>>>,
    columns: Vec<Column>,
    /// The rows that are held back.
    rows: Vec<Vec<Cell<'static>>>,
    /// How many rows there were before them.
    written: u64,
}

impl ParquetTable {
    pub(super) fn start(
        file: BufWriter<SummedFile>,
        columns: &[Column],
    ) -> io::Result<ParquetTable> {
        let fields = columns.iter().map(field).collect::<Result<Vec<TypePtr>, _>>()?;
        let schema = Type::group_type_builder("schema").with_fields(fields).build()?;
        let properties = WriterProperties::builder()
            .set_compression(Compression::SNAPPY)
            .set_key_value_metadata(Some(vec![meanings(columns)?]))
            .build();
        let writer = SerializedFileWriter::new(file, Arc::new(schema), Arc::new(properties))?;
        let (columns, rows) = (columns.to_vec(), Vec::new());
        Ok(ParquetTable { writer: Some(writer), columns, rows, written: 0 })
    }

    fn write_group(&mut self) -> io::Result<()> {
        let rows = std::mem::take(&mut self.rows);
        let (Some(writer), false) = (&mut self.writer, rows.is_empty()) else {
            return Ok(());
        };
        self.written += rows.len() as u64;
        let mut group = writer.next_row_group()?;
        let mut index = 0;
        while let Some(mut column) = group.next_column()? {
            let cells = rows.iter().map(|row| &row[index]);
            match self.columns[index].kind {
                Kind::Text | Kind::Mixed => write::<ByteArrayType>(&mut column, cells.map(text))?,
                Kind::Integer => write::<Int64Type>(&mut column, cells.map(integer))?,
                Kind::Hundredths => write::<DoubleType>(&mut column, cells.map(decimal))?,
                Kind::Truth => write::<BoolType>(&mut column, cells.map(truth))?,
            }
            column.close()?;
            index += 1;
        }
        group.close()?;
        Ok(())
    }
}

/// What the columns mean, as an object with each column's unit, meaning, and what a blank tells.
fn meanings(columns: &[Column]) -> io::Result<KeyValue> {
    let meanings: serde_json::Map<String, serde_json::Value> = columns
        .iter()
        .map(|column| Ok((column.name.clone(), serde_json::to_value(&column.meaning)?)))
        .collect::<io::Result<_>>()?;
    Ok(KeyValue::new(COLUMNS.to_owned(), serde_json::to_string(&meanings)?))
}

/// The type of a column; every cell may be blank.
fn field(column: &Column) -> parquet::errors::Result<TypePtr> {
    let (physical, logical) = match column.kind {
        Kind::Text | Kind::Mixed => (PhysicalType::BYTE_ARRAY, Some(LogicalType::String)),
        Kind::Integer => (PhysicalType::INT64, None),
        Kind::Hundredths => (PhysicalType::DOUBLE, None),
        Kind::Truth => (PhysicalType::BOOLEAN, None),
    };
    let builder = Type::primitive_type_builder(&column.name, physical)
        .with_repetition(Repetition::OPTIONAL)
        .with_logical_type(logical);
    Ok(Arc::new(builder.build()?))
}

/// Writes the cells of a column: the values that are there, and for each cell whether it has one.
fn write<T: DataType>(
    column: &mut SerializedColumnWriter<'_>,
    cells: impl Iterator<Item = Option<T::T>>,
) -> io::Result<()> {
    let cells: Vec<Option<T::T>> = cells.collect();
    let levels: Vec<i16> = cells.iter().map(|cell| i16::from(cell.is_some())).collect();
    let values: Vec<T::T> = cells.into_iter().flatten().collect();
    column.typed::<T>().write_batch(&values, Some(&levels), None)?;
    Ok(())
}

fn text(cell: &Cell<'_>) -> Option<ByteArray> {
    match cell {
        Cell::Text(text) => Some(ByteArray::from(&**text)),
        Cell::Hundredths(number) => Some(super::cell::shortest(*number).as_str().into()),
        _ => None,
    }
}

fn integer(cell: &Cell<'_>) -> Option<i64> {
    match cell {
        Cell::Integer(number) => Some(*number),
        _ => None,
    }
}

fn decimal(cell: &Cell<'_>) -> Option<f64> {
    match cell {
        #[expect(clippy::cast_precision_loss, reason = "scores are far below 2^52")]
        Cell::Hundredths(number) => Some(*number as f64 / 100.0),
        _ => None,
    }
}

fn truth(cell: &Cell<'_>) -> Option<bool> {
    match cell {
        Cell::Truth(truth) => Some(*truth),
        _ => None,
    }
}

impl TableWriter for ParquetTable {
    fn row(&mut self, cells: &[Cell<'_>]) -> io::Result<()> {
        self.rows.push(cells.iter().cloned().map(Cell::into_owned).collect());
        if self.rows.len() == ROWS_IN_GROUP { self.write_group() } else { Ok(()) }
    }

    fn make_safe(&mut self) -> io::Result<Extent> {
        Err(can_not_grow())
    }

    fn finish(&mut self) -> io::Result<TableRun> {
        self.write_group()?;
        let writer = self.writer.take();
        let writer = writer.ok_or_else(|| io::Error::other("the table was finished before"))?;
        let mut file = writer.into_inner()?;
        file.flush()?;
        let file = file.get_ref();
        file.file().sync_all()?;
        Ok(TableRun { rows: self.written, xxh3: file.checksum() })
    }
}
