//! Schedules written as a workbook and as comma-separated values, read back by libraries that did not write
//! them.

use std::io::Cursor;

use calamine::{Data, Reader, Xlsx};
use pattress::print::{csv::csv, xlsx::xlsx};
use pattress_model::project::Project;
use pattress_model::schedules::{Cell, Column, Table, all_tables};

/// Words that a spreadsheet would like to take for something else.
const TRICKY: [&str; 7] =
    ["=1+1", "+44 20", "-1", "@SUM(A1)", "007", "1/2", "comma, \"quote\"\r\nand a second line — 2.5 m²"];

fn tricky_table() -> Table {
    Table {
        name: "tricky",
        title: "Tricky & titled",
        columns: vec![Column { title: "Words", unit: "" }, Column { title: "Figure", unit: "mm AFFL" }],
        rows: TRICKY
            .iter()
            .enumerate()
            .map(|(index, words)| {
                vec![Cell::text(*words), Cell::Number { value: index as f64 + 0.25, decimals: 2 }]
            })
            .chain([vec![Cell::Empty, Cell::Missing("height")]])
            .collect(),
    }
}

#[test]
fn a_workbook_keeps_words_as_words_and_figures_as_figures() {
    let bytes = xlsx(&[tricky_table()], "House & garden", "2026-01-31").unwrap();
    let mut workbook: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).unwrap();
    assert_eq!(workbook.sheet_names(), ["tricky"]);
    let range = workbook.worksheet_range("tricky").unwrap();
    assert_eq!(range.get_value((0, 1)), Some(&Data::String("Figure (mm AFFL)".to_owned())));
    for (index, words) in TRICKY.iter().enumerate() {
        let row = index as u32 + 1;
        let Some(Data::String(read)) = range.get_value((row, 0)) else { panic!("{words} is no text") };
        // XML folds CR LF to LF; nothing else may change.
        assert_eq!(read.replace("\r\n", "\n").replace("_x000D_", ""), words.replace("\r\n", "\n"));
        assert_eq!(range.get_value((row, 1)), Some(&Data::Float(index as f64 + 0.25)));
    }
    let last = TRICKY.len() as u32 + 1;
    assert_eq!(range.get_value((last, 1)), Some(&Data::String("height missing".to_owned())));
    assert!(workbook.worksheet_formula("tricky").unwrap().used_cells().next().is_none());
}

#[test]
fn comma_separated_values_read_back_as_written() {
    let table = tricky_table();
    let bytes = csv(&table);
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(bytes.as_slice());
    let records: Vec<Vec<String>> =
        reader.records().map(|record| record.unwrap().iter().map(str::to_owned).collect()).collect();
    assert_eq!(records[0], ["Words", "Figure (mm AFFL)"]);
    for (record, row) in records[1..].iter().zip(&table.rows) {
        let shown: Vec<String> = row.iter().map(Cell::shown).collect();
        assert_eq!(*record, shown);
    }
    assert_eq!(records.len(), table.rows.len() + 1);
}

#[test]
fn the_same_tables_give_the_same_bytes_and_another_date_gives_others() {
    let tables = all_tables(&Project::new());
    let once = xlsx(&tables, "House", "2026-01-31").unwrap();
    assert_eq!(once, xlsx(&tables, "House", "2026-01-31").unwrap());
    assert_ne!(once, xlsx(&tables, "House", "2026-02-01").unwrap());
    assert_eq!(xlsx(&tables, "House", "").unwrap(), xlsx(&tables, "House", "").unwrap());
}

#[test]
fn every_schedule_of_the_house_has_a_sheet_of_its_own() {
    let tables = all_tables(&Project::new());
    let bytes = xlsx(&tables, "House", "not a date").unwrap();
    let workbook: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).unwrap();
    let names: Vec<&str> = tables.iter().map(|table| table.name).collect();
    assert_eq!(workbook.sheet_names(), names);
}
