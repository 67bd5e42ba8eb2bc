//! How long a plan of 1,000 walls and 2,000 devices takes to be saved and opened, as a folder and packed in one
//! file, with all that the window does about it: checks, hashes, the recovery log's lock.
//!
//! The reference is the plan's text alone: written and packed, or unpacked and parsed, without looking at what it
//! says.

mod measuring;

use std::io::{Cursor, Read, Write};
use std::time::Duration;

use measuring::Times;
use pattress::files;
use pattress_model::store::{Media, write_project};
use pattress_tests::generator::house_of_walls_and_devices;

const ASKED: Duration = Duration::from_millis(100);
const TURNS: usize = 15;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let project = house_of_walls_and_devices(1000, 2000);
    let media = Media::default();
    let folder = tempfile::tempdir()?;
    let text = write_project(&project);
    let (walls, devices) = (project.walls.len(), project.devices.len());
    println!("\n{walls} walls, {devices} devices: {} kB of text; CPU time", text.len() / 1000);
    let value: serde_json::Value = serde_json::from_str(&text)?;
    let zipped = packed(&value)?;
    let bare = [
        (
            Times::in_all(TURNS, || serde_json::to_string_pretty(&value)),
            Times::in_all(TURNS, || parsed(&text)),
        ),
        (Times::in_all(TURNS, || packed(&value).ok()), Times::in_all(TURNS, || unpacked(&zipped))),
    ];
    let names = [("house", "as a folder"), ("house.pattress", "packed")];
    for ((name, what), (write_bare, read_bare)) in names.into_iter().zip(&bare) {
        let path = folder.path().join(name);
        let mut refused = None;
        let saved = Times::in_all(TURNS, || {
            refused = refused.take().or(files::save(&path, &project, &media).err());
        });
        saved.print(&format!("save {what}"), Some(ASKED), Some(write_bare));
        let opened = Times::in_all(TURNS, || match files::open(&path) {
            Ok(opened) => drop(opened),
            Err(refusal) => refused = Some(refusal),
        });
        opened.print(&format!("open {what}"), Some(ASKED), Some(read_bare));
        if let Some(refusal) = refused {
            return Err(refusal.into());
        }
    }
    Ok(())
}

fn parsed(text: &str) -> Option<serde_json::Value> {
    serde_json::from_str(text).ok()
}

fn packed(value: &serde_json::Value) -> Result<Vec<u8>, Box<dyn std::error::Error>> {
    let mut archive = zip::ZipWriter::new(Cursor::new(Vec::new()));
    archive.start_file("project.json", zip::write::SimpleFileOptions::default())?;
    archive.write_all(serde_json::to_string_pretty(value)?.as_bytes())?;
    Ok(archive.finish()?.into_inner())
}

fn unpacked(bytes: &[u8]) -> Option<serde_json::Value> {
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).ok()?;
    let mut text = String::new();
    archive.by_index(0).ok()?.read_to_string(&mut text).ok()?;
    parsed(&text)
}
