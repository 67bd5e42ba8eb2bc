//! The whole job from a plan folder to issued files, each read back by a library that did not write it.
//!
//! What the sheets and schedules must say is taken from `project.json` as bare JSON and from `figures.json`
//! beside it, so that neither the model nor the store is asked about itself.

use std::collections::{BTreeMap, BTreeSet};
use std::ffi::OsString;
use std::fs;
use std::path::Path;
use std::sync::OnceLock;

use calamine::{Data, Reader, Xlsx, open_workbook};
use pattress_tests::samples::folder;
use serde_json::Value;
use tempfile::TempDir;

/// A copy of the garden flat's folder with two issues of it, `first` and `second`.
struct Job {
    folder: TempDir,
    plan: Value,
    figures: Value,
}

impl Job {
    fn path(&self, file: &str) -> std::path::PathBuf {
        self.folder.path().join(file)
    }

    fn workbook_rows(&self, schedule: &str) -> Vec<Vec<Data>> {
        let mut workbook: Xlsx<_> = open_workbook(self.path("first/schedules.xlsx")).expect("a workbook");
        let range = workbook.worksheet_range(schedule).expect("a sheet of that name");
        range.rows().map(<[Data]>::to_vec).collect()
    }
}

fn run(line: &[&str]) -> String {
    let line = std::iter::once("pattress").chain(line.iter().copied()).map(OsString::from);
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = pattress::commands::run(line, &mut out, &mut err);
    assert_eq!(code, 0, "{}", String::from_utf8_lossy(&err));
    String::from_utf8(out).expect("words")
}

fn job() -> &'static Job {
    static JOB: OnceLock<Job> = OnceLock::new();
    JOB.get_or_init(|| {
        let to = tempfile::tempdir().expect("a folder");
        let plan = to.path().join("flat");
        fs::create_dir(&plan).expect("a folder in it");
        let from = folder().join("garden-flat");
        let text = fs::read_to_string(from.join("project.json")).expect("the sample");
        fs::write(plan.join("project.json"), &text).expect("a copy");
        for issue in ["first", "second"] {
            let out = to.path().join(issue);
            let only = "devices,zones,rules,kit-list,rooms";
            let (plan, out) = (plan.to_str().expect("words"), out.to_str().expect("words"));
            run(&["issue", plan, "--out", out, "--revision", "C02", "--status", "A4", "--only", only]);
        }
        assert_eq!(
            fs::read_to_string(plan.join("project.json")).expect("the copy"),
            text,
            "issuing reads only"
        );
        let figures = fs::read_to_string(from.join("figures.json")).expect("the figures");
        Job {
            folder: to,
            plan: serde_json::from_str(&text).expect("JSON"),
            figures: serde_json::from_str(&figures).expect("JSON"),
        }
    })
}

/// The tags that the plan's file gives its devices.
fn tags() -> BTreeSet<String> {
    let devices = job().plan["devices"].as_array().expect("devices");
    let tags: BTreeSet<String> =
        devices.iter().map(|device| device["tag"].as_str().expect("a tag").to_owned()).collect();
    assert_eq!(tags.len(), devices.len(), "no tag is given twice");
    assert!(tags.len() > 90);
    tags
}

fn files_beneath(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(next) = folders.pop() {
        for entry in fs::read_dir(next).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let name = path.strip_prefix(folder).expect("beneath").to_string_lossy().replace('\\', "/");
                found.insert(name, fs::read(&path).expect("bytes"));
            }
        }
    }
    found
}

#[test]
fn a_plan_issued_twice_gives_the_same_files_byte_for_byte() {
    let (first, second) = (files_beneath(&job().path("first")), files_beneath(&job().path("second")));
    let names: Vec<&str> = first.keys().map(String::as_str).collect();
    assert_eq!(
        names,
        [
            "plans.pdf",
            "schedules.xlsx",
            "schedules/devices.csv",
            "schedules/kit-list.csv",
            "schedules/rooms.csv",
            "schedules/rules.csv",
            "schedules/zones.csv",
            "sheets/GF-101.png",
            "sheets/GF-101.svg",
        ]
    );
    for (name, bytes) in &first {
        assert!(second.get(name) == Some(bytes), "{name} differs");
    }
    assert_eq!(first.len(), second.len());
}

#[test]
fn every_device_of_the_plan_stands_on_its_sheet_by_tag() {
    let document = lopdf::Document::load(job().path("first/plans.pdf")).expect("a PDF");
    assert_eq!(document.get_pages().len(), 1);
    let words = document.extract_text(&[1]).expect("words");
    let written: BTreeSet<&str> = words.split_whitespace().collect();
    let missing: Vec<String> = tags().into_iter().filter(|tag| !written.contains(tag.as_str())).collect();
    assert!(missing.is_empty(), "not on the sheet: {missing:?}");
    for expected in ["Garden Flat", "GF-101", "C02", "BS\u{a0}7671", "not an installation certificate"] {
        let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(plain(&words).contains(&plain(expected)), "{expected} is not in {words}");
    }
}

#[test]
fn the_workbook_lists_every_device_zone_and_rule_once() {
    let listed: Vec<String> = job().workbook_rows("devices").iter().map(|row| row[0].to_string()).collect();
    assert_eq!(listed[0], "Tag");
    let set: BTreeSet<String> = listed[1..].iter().cloned().collect();
    assert_eq!((set.len(), &set), (listed.len() - 1, &tags()));
    for schedule in ["zones", "rules"] {
        let things = job().plan[schedule].as_array().expect("a list").len();
        assert_eq!(job().workbook_rows(schedule).len(), things + 1, "{schedule} beneath their heading");
    }
}

#[test]
fn the_schedule_of_rooms_gives_the_areas_that_lie_beside_the_plan() {
    let rows = job().workbook_rows("rooms");
    let expected = job().figures["room_area_m2"]["Ground floor"].as_object().expect("rooms");
    assert_eq!(rows.len(), expected.len() + 1);
    for row in &rows[1..] {
        let name = row[1].to_string();
        let Data::Float(area) = row[3] else { panic!("the area of {name} is no number") };
        let kept = expected[&name].as_f64().expect("a figure");
        assert!((area - kept).abs() < 0.0051, "{name}: {area} m² in the workbook, {kept} m² kept");
    }
}

#[test]
fn the_kit_list_counts_as_many_things_as_the_plan_holds() {
    let path = job().path("first/schedules/kit-list.csv");
    let mut reader = csv::Reader::from_path(path).expect("a table");
    let column = reader.headers().expect("a heading").iter().position(|title| title.starts_with("Quantity"));
    let column = column.expect("a column of quantities");
    let rows: Vec<csv::StringRecord> = reader.records().map(|row| row.expect("a row")).collect();
    let (total, lines) = rows.split_last().expect("rows");
    let quantity = |row: &csv::StringRecord| row[column].parse::<f64>().unwrap_or_default();
    let counted: f64 = lines.iter().map(quantity).sum();
    assert_eq!((counted, quantity(total)), (tags().len() as f64, tags().len() as f64));
}
