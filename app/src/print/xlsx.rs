//! Schedules as one workbook: a sheet a table, headings frozen, ready to print across the width of a page.
//!
//! Words are written as words, whatever they look like, and figures as figures with their decimals. The file
//! carries a date that it is given, never that of the machine, so the same tables give the same bytes.

use pattress_model::schedules::{Cell, Table};
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, FormatAlign, Workbook, Worksheet, XlsxError};

use super::PrintError;
use super::csv::heading;

/// A4 among the paper sizes of ECMA-376.
const PAPER_A4: u8 = 9;

/// Narrowest and widest column, in characters: wider words wrap.
const COLUMN_WIDTHS: (usize, usize) = (6, 48);

/// The date a workbook carries where the plan has no date of issue: the first that its container can hold.
const NO_DATE: (u16, u8, u8) = (1980, 1, 1);

/// All tables as one workbook. `date` is the date of issue, `2026-01-31`; empty or unreadable where there is
/// none.
///
/// # Errors
/// A table that a workbook cannot hold: a name of over 31 characters, a field of over 32 767, too many rows.
pub fn xlsx(tables: &[Table], title: &str, date: &str) -> Result<Vec<u8>, PrintError> {
    let mut workbook = Workbook::new();
    let properties = DocProperties::new().set_title(title).set_creation_datetime(
        &creation(date)
            .map_err(|reason| PrintError::Table { table: "all".to_owned(), reason: reason.to_string() })?,
    );
    workbook.set_properties(&properties);
    for table in tables {
        fill(workbook.add_worksheet(), table, title, date).map_err(|reason| PrintError::Table {
            table: table.name.to_owned(),
            reason: reason.to_string(),
        })?;
    }
    workbook
        .save_to_buffer()
        .map_err(|reason| PrintError::Table { table: "all".to_owned(), reason: reason.to_string() })
}

fn creation(date: &str) -> Result<ExcelDateTime, XlsxError> {
    let read = || {
        let (year, rest) = date.trim().split_once('-')?;
        let (month, day) = rest.split_once('-')?;
        ExcelDateTime::from_ymd(year.parse().ok()?, month.parse().ok()?, day.parse().ok()?).ok()
    };
    let (year, month, day) = NO_DATE;
    read().map_or_else(|| ExcelDateTime::from_ymd(year, month, day), Ok)
}

fn fill(sheet: &mut Worksheet, table: &Table, title: &str, date: &str) -> Result<(), XlsxError> {
    sheet.set_name(table.name)?;
    sheet.set_paper_size(PAPER_A4).set_landscape().set_print_fit_to_pages(1, 0);
    sheet.set_header(format!("&L{}&R{}", escaped(table.title), escaped(title)));
    sheet.set_footer(format!("&L{}&RPage &P of &N", escaped(date)));
    sheet.set_freeze_panes(1, 1)?;
    sheet.set_repeat_rows(0, 0)?;
    let bold = Format::new().set_bold().set_text_wrap().set_align(FormatAlign::Top);
    for (index, column) in table.columns.iter().enumerate() {
        let at = u16::try_from(index).unwrap_or(u16::MAX);
        sheet.write_string_with_format(0, at, heading(column), &bold)?;
        sheet.set_column_width(at, width(table, index) as f64)?;
    }
    for (index, row) in table.rows.iter().enumerate() {
        let line = u32::try_from(index + 1).unwrap_or(u32::MAX);
        for (column, cell) in row.iter().enumerate() {
            write(sheet, line, u16::try_from(column).unwrap_or(u16::MAX), cell)?;
        }
    }
    Ok(())
}

fn write(sheet: &mut Worksheet, row: u32, column: u16, cell: &Cell) -> Result<(), XlsxError> {
    let plain = Format::new().set_align(FormatAlign::Top);
    match cell {
        Cell::Text(words) => {
            sheet.write_string_with_format(row, column, words, &plain.set_text_wrap())?;
        }
        Cell::Number { value, decimals } => {
            let form = match decimals {
                0 => "0".to_owned(),
                decimals => format!("0.{}", "0".repeat(usize::from(*decimals))),
            };
            sheet.write_number_with_format(row, column, *value, &plain.set_num_format(form))?;
        }
        Cell::Missing(_) => {
            sheet.write_string_with_format(row, column, cell.shown(), &plain.set_italic().set_bold())?;
        }
        Cell::Empty => {}
    }
    Ok(())
}

/// Wide enough for the longest word-wrapped line that is reasonable, in characters.
fn width(table: &Table, index: usize) -> usize {
    let cells = table.rows.iter().filter_map(|row| row.get(index)).map(|cell| cell.shown().chars().count());
    let heading = table.columns.get(index).map_or(0, |column| heading(column).chars().count());
    cells.chain([heading]).max().unwrap_or(0).saturating_add(2).clamp(COLUMN_WIDTHS.0, COLUMN_WIDTHS.1)
}

/// Words for a header or footer, where an ampersand starts a code.
fn escaped(words: &str) -> String {
    words.chars().take(100).collect::<String>().replace('&', "&&")
}
