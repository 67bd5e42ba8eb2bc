//! Hostile files: whatever is handed in, the answer is a sentence and the file stays as it was.
//!
//! Each case is written to a folder of its own, opened, and then saved over. Opening must be refused with a
//! sentence that names the file and the way out; saving must be refused too, and not one byte may change.

use std::collections::BTreeMap;
use std::io::{Cursor, Write};
use std::path::{Path, PathBuf};

use kurbo::Point;
use pattress::files;
use pattress_model::edit::{Change, History, Op};
use pattress_model::plan::{MakeUp, Underlay, Wall};
use pattress_model::project::Project;
use pattress_model::store::{Media, write_project};
use pattress_model::units::{Angle, Length};
use zip::write::SimpleFileOptions;

/// A house with one wall, and an underlay whose picture is `media`.
fn small_house(media: Option<String>) -> Project {
    let mut project = Project::new();
    let level = project.levels.ids().next().expect("a level");
    let mut ids = project.fresh_ids();
    let wall = Wall {
        level,
        start: Point::new(0.0, 0.0),
        end: Point::new(4000.0, 0.0),
        thickness: Length::mm(100.0),
        height: Length::mm(2400.0),
        make_up: MakeUp::Stud,
    };
    let mut ops = vec![Op::put(ids.issue(), wall)];
    if let Some(media) = media {
        let underlay = Underlay {
            level,
            name: "scan.png".to_owned(),
            media,
            page: 1,
            width: 4.0,
            height: 3.0,
            mm_per_unit: 10.0,
            scale_from: None,
            second_length: None,
            position: Point::ZERO,
            turn: Angle::ZERO,
            opacity: 0.5,
            on_sheets: false,
        };
        ops.push(Op::put(ids.issue(), underlay));
    }
    History::default().apply(&mut project, Change::new("Draw", ops)).expect("sound");
    project
}

fn packed(entries: &[(&str, &[u8])]) -> Vec<u8> {
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in entries {
        zip.start_file(*name, SimpleFileOptions::default()).expect("starts");
        zip.write_all(bytes).expect("writes");
    }
    zip.finish().expect("finishes").into_inner()
}

/// Every file beneath a folder with its bytes.
fn content_of(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut found = BTreeMap::new();
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            found.extend(content_of(&path));
        } else {
            found.insert(path.clone(), std::fs::read(&path).expect("readable"));
        }
    }
    found
}

/// Opens and saves over; both must be refused, and nothing may change. Gives the sentence.
fn refused(place: &Path, plan: &Path) -> String {
    let before = content_of(place);
    let sentence = files::open(plan).map(|_| ()).expect_err("opened what is hostile").to_string();
    assert!(sentence.contains(&plan.display().to_string()), "does not name the file: {sentence}");
    assert!(sentence.contains(": "), "does not tell the way out: {sentence}");
    assert!(!sentence.contains('\n'), "more than one line: {sentence}");
    let refusal = files::save(plan, &small_house(None), &Media::default()).expect_err("wrote over it");
    assert!(refusal.to_string().contains("left as it is, since"), "{refusal}");
    assert!(refusal.to_string().contains("save under another name"), "{refusal}");
    assert_eq!(content_of(place), before, "{sentence}: the file did not stay as it was");
    sentence
}

fn refused_file(bytes: &[u8]) -> String {
    let place = tempfile::tempdir().expect("a folder");
    let plan = place.path().join("house.pattress");
    std::fs::write(&plan, bytes).expect("written");
    refused(place.path(), &plan)
}

#[test]
fn what_is_no_plan_is_refused_and_stays_as_it_was() {
    let text = write_project(&small_house(None));
    let with = |from: &str, to: &str| {
        assert!(text.contains(from), "{from} is not in the plan");
        packed(&[("project.json", text.replacen(from, to, 1).as_bytes())])
    };
    let whole = text.as_bytes();
    let wrong_hash = format!("media/{}.png", "ab".repeat(32));
    let cases: Vec<(&str, Vec<u8>, &str)> = vec![
        ("empty file", vec![], "is empty: take a whole copy"),
        ("text", b"hello".to_vec(), "content is of another sort"),
        ("bare JSON", whole.to_vec(), "content is of another sort"),
        ("half a ZIP", packed(&[("project.json", whole)])[..60].to_vec(), "ZIP packing is cut short"),
        ("a ZIP of nothing", packed(&[]), "a ZIP without a project.json"),
        ("text cut short", packed(&[("project.json", &whole[..200])]), "cut short"),
        ("no UTF-8", packed(&[("project.json", b"{\xff}")]), "no UTF-8 text at byte 2"),
        ("wrong type", with("\"thickness\": 100", "\"thickness\": \"100\""), "expected a number"),
        ("wrong sort", with("\"make_up\": \"stud\"", "\"make_up\": 5"), "line"),
        ("newer", with("\"version\": 1", "\"version\": 2"), "open it with release"),
        ("version 0", with("\"version\": 1", "\"version\": 0"), "no release has issued"),
        ("dangling", with("\"level\": 1", "\"level\": 9"), "refers to level 9, which is not there"),
        ("not finite", with("[4000, 0]", "[1e999, 0]"), "not finite"),
        ("no length", with("[4000, 0]", "[0, 0]"), "wall 2: the wall has no length"),
        ("too far", with("[4000, 0]", "[1e300, 0]"), "within 10 km"),
        ("unknown field", with("\"thickness\"", "\"colour\": 1, \"thickness\""), "unknown field `colour`"),
        ("twice", with("\"thickness\": 100", "\"thickness\": 1, \"thickness\": 100"), "duplicate field"),
        ("traversal", packed(&[("project.json", whole), ("../evil.txt", b"x")]), "“../evil.txt”"),
        ("absolute", packed(&[("project.json", whole), ("/etc/evil", b"x")]), "“/etc/evil”"),
        ("hidden traversal", packed(&[("project.json", whole), ("media/../x.png", b"x")]), "media/../x.png"),
        (
            "stranger",
            packed(&[("project.json", whole), ("notes.txt", b"x")]),
            "“notes.txt”, which is no part",
        ),
        ("wrong hash", packed(&[("project.json", whole), (&wrong_hash, b"x")]), "not what its name states"),
        ("nested", packed(&[("project.json", "[".repeat(100_000).as_bytes())]), "cut short"),
    ];
    for (what, bytes, expected) in cases {
        let sentence = refused_file(&bytes);
        assert!(sentence.contains(expected), "{what}: “{sentence}” does not say “{expected}”");
    }
}

#[test]
fn a_plan_cut_short_at_any_tenth_byte_is_refused() {
    let place = tempfile::tempdir().expect("a folder");
    let plan = place.path().join("house.pattress");
    let mut media = Media::default();
    let picture = media.keep(b"no picture, but bytes of its own".to_vec(), "png");
    files::save(&plan, &small_house(Some(picture)), &media).expect("saved");
    let whole = std::fs::read(&plan).expect("readable");
    for end in (0..whole.len()).step_by(10) {
        refused_file(&whole[..end]);
    }
    let text = write_project(&small_house(None));
    for end in (0..text.trim_end().len()).step_by(10) {
        refused_file(&packed(&[("project.json", &text.as_bytes()[..end])]));
    }
}

#[test]
fn a_flipped_byte_is_refused_or_harmless() {
    let place = tempfile::tempdir().expect("a folder");
    let plan = place.path().join("house.pattress");
    let house = small_house(None);
    files::save(&plan, &house, &Media::default()).expect("saved");
    let whole = std::fs::read(&plan).expect("readable");
    for at in (0..whole.len()).step_by(7) {
        let mut bytes = whole.clone();
        bytes[at] ^= 0x55;
        std::fs::write(&plan, &bytes).expect("written");
        match files::read(&plan) {
            Ok(read) => assert_eq!(read.project, house, "byte {at} changed the plan unnoticed"),
            Err(refusal) => assert!(refusal.to_string().contains("house.pattress"), "{refusal}"),
        }
    }
}

#[test]
fn folders_are_held_to_the_same() {
    let text = write_project(&small_house(None));
    let cases: [(&str, &[u8], &str); 4] = [
        ("notes.txt", b"mine", "a folder without a project.json"),
        ("project.json", b"", "is empty"),
        ("project.json", &text.as_bytes()[..300], "cut short"),
        ("project.json", b"\xff\xfe{", "no UTF-8"),
    ];
    for (file, bytes, expected) in cases {
        let place = tempfile::tempdir().expect("a folder");
        let house = place.path().join("house");
        std::fs::create_dir(&house).expect("made");
        std::fs::write(house.join(file), bytes).expect("written");
        let sentence = refused(place.path(), &house);
        assert!(sentence.contains(expected), "{sentence}");
    }
    let missing = files::open(Path::new("nowhere/house.pattress")).map(|_| ()).expect_err("nothing there");
    assert_eq!(missing.to_string(), "“nowhere/house.pattress” is not there: check its name and its folder");
}

#[test]
fn a_zip_that_unpacks_to_more_than_a_plan_holds_is_refused() {
    // 300 MB of blanks pack into less than 300 kB.
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    zip.start_file("project.json", SimpleFileOptions::default()).expect("starts");
    let blanks = vec![b' '; 1_000_000];
    for _ in 0..300 {
        zip.write_all(&blanks).expect("writes");
    }
    let bomb = zip.finish().expect("finishes").into_inner();
    assert!(bomb.len() < 1_000_000);
    let sentence = refused_file(&bomb);
    assert!(sentence.contains("“project.json”, which is larger than 256 MB"), "{sentence}");
}

#[test]
fn a_plan_whose_picture_is_missing_opens_and_loses_nothing_on_save() {
    let place = tempfile::tempdir().expect("a folder");
    let plan = place.path().join("house.pattress");
    let missing = format!("{}.png", "ab".repeat(32));
    let house = small_house(Some(missing.clone()));
    files::save(&plan, &house, &Media::default()).expect("saved");
    let opened = files::open(&plan).expect("opens");
    assert_eq!(opened.missing_media.len(), 1);
    let sentence = &opened.missing_media[0];
    for part in ["house.pattress", "scan.png", missing.as_str(), "load the picture again"] {
        assert!(sentence.contains(part), "{sentence} does not say {part}");
    }
    files::save(&plan, &opened.project, &opened.media).expect("saved again");
    assert_eq!(files::read(&plan).expect("reads").project, house);
}

#[test]
fn a_plan_that_could_not_be_read_again_is_not_saved() {
    let place = tempfile::tempdir().expect("a folder");
    let plan = place.path().join("house.pattress");
    let house = small_house(None);
    files::save(&plan, &house, &Media::default()).expect("saved");
    let before = std::fs::read(&plan).expect("readable");
    let no_level = Project::default();
    let refusal = files::save(&plan, &no_level, &Media::default()).expect_err("saved a broken plan");
    assert!(refusal.to_string().contains("was not saved and is as it was"), "{refusal}");
    assert_eq!(std::fs::read(&plan).expect("readable"), before);
}

#[test]
fn a_plan_marked_read_only_is_left_alone() {
    let place = tempfile::tempdir().expect("a folder");
    let plan = place.path().join("house.pattress");
    files::save(&plan, &small_house(None), &Media::default()).expect("saved");
    let mut permissions = std::fs::metadata(&plan).expect("there").permissions();
    permissions.set_readonly(true);
    std::fs::set_permissions(&plan, permissions).expect("set");
    let before = content_of(place.path());
    let refusal = files::save(&plan, &Project::new(), &Media::default()).expect_err("wrote over it");
    assert!(refusal.to_string().contains("read-only"), "{refusal}");
    assert_eq!(content_of(place.path()), before);
}

#[test]
fn pictures_are_told_by_their_content_and_held_to_their_limits() {
    let place = tempfile::tempdir().expect("a folder");
    let mut png = Vec::new();
    let picture = image::RgbImage::from_fn(64, 48, |x, y| image::Rgb([x as u8, y as u8, 7]));
    picture.write_to(&mut Cursor::new(&mut png), image::ImageFormat::Png).expect("a PNG");
    let mut jpg = Vec::new();
    picture.write_to(&mut Cursor::new(&mut jpg), image::ImageFormat::Jpeg).expect("a JPEG");
    let mut huge = png.clone();
    huge[16..20].copy_from_slice(&50_000_u32.to_be_bytes());
    let mut many = png.clone();
    many[16..20].copy_from_slice(&30_000_u32.to_be_bytes());
    many[20..24].copy_from_slice(&30_000_u32.to_be_bytes());
    let mut corrupt = png.clone();
    corrupt[60] ^= 0xff;
    let cases: Vec<(&str, &[u8], Result<&str, &str>)> = vec![
        ("right.png", &png, Ok("png")),
        ("misnamed.png", &jpg, Ok("jpg")),
        ("without-ending", &png, Ok("png")),
        ("empty.png", &[], Err("is empty")),
        ("note.png", b"hello", Err("none of the drawings that can be read")),
        ("sheet.png", b"%PDF-1.7 ...", Err("its content is broken")),
        ("cut.png", &png[..png.len() - 20], Err("cut short")),
        ("cut.jpg", &jpg[..jpg.len() - 20], Err("cut short")),
        ("start.jpg", &jpg[..3], Err("cut short")),
        ("start.png", &png[..8], Err("cut short")),
        ("huge.png", &huge, Err("no side may exceed 40000 px")),
        ("many.png", &many, Err("its content is broken")),
        ("corrupt.png", &corrupt, Err("content is broken")),
    ];
    for (file, bytes, expected) in cases {
        let path = place.path().join(file);
        std::fs::write(&path, bytes).expect("written");
        match (files::read_picture(&path), expected) {
            (Ok(read), Ok(ending)) => {
                assert_eq!((read.ending, read.width_px, read.height_px), (ending, 64, 48), "{file}");
            }
            (Err(refusal), Err(part)) => {
                let sentence = refusal.to_string();
                assert!(sentence.contains(part) && sentence.contains(file), "{file}: {sentence}");
            }
            (outcome, expected) => panic!("{file}: {outcome:?} instead of {expected:?}"),
        }
    }
    let missing = files::read_picture(&place.path().join("none.png")).expect_err("nothing there");
    assert!(missing.to_string().contains("is not there"), "{missing}");
}
