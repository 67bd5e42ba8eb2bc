//! Drawings that broke their readers, read as the window reads them: pages apart, pictures here.
//!
//! The trial data are no part of the checkout: they are looked for in `shared/data` in the folders above it,
//! or where the variable PATTRESS_TRIAL_DATA says; without them this test says so and passes. What each file
//! must do stands in the data's own list, and is repeated here. Every file is to end within 5 s and 1.5 GB.

mod watching;

use std::time::Instant;

use pattress::files;
use pattress::survey::{self, Asked, Read, ReadError};
use pattress_tests::trial_data;

/// Every file ends within this, seconds. What is promised is promised of the program as it is issued: one that
/// was built for developing is given more, for it does each step four to ten times slower.
const MOST_SECONDS: f64 = if cfg!(debug_assertions) { 20.0 } else { 5.0 };

/// And within this much memory, MB.
const MOST_MEGABYTES: u64 = 1_500;

/// What the data's list expects of a file.
enum Expected {
    /// It opens as a picture of this size in pixels.
    Picture(usize, usize),
    /// It opens as a page of this size in whole millimetres.
    Page(u32, u32),
    /// It is refused with these words.
    Refused(&'static str),
    /// It asks for a password, and with that one it is a page of this size.
    Locked(&'static str, u32, u32),
    /// Any of these, as long as it ends in an answer.
    Answers,
}

#[test]
fn drawings_that_broke_readers_open_or_are_refused_in_words() {
    use Expected::{Answers, Locked, Page, Picture, Refused};
    let Some(folder) = trial_data::folder("torture") else {
        println!("trial data not present: nothing read");
        return;
    };
    let cases = [
        ("jpg_dc-predictor-overflow.jpg", Answers),
        ("jpg_empty.jpg", Refused("is empty")),
        ("jpg_invalid-prediction-shift.jpg", Answers),
        ("jpg_progressive3.jpg", Picture(650, 470)),
        ("jpg_rgb.jpg", Picture(500, 333)),
        ("pdf_Pages-tree-refs.pdf", Answers),
        ("pdf_encrypted_userpw.pdf", Locked("secret", 420, 297)),
        ("pdf_issue14497.pdf", Page(1189, 841)),
        ("pdf_poppler-395-0-fuzzed.pdf", Answers),
        ("pdf_poppler-85140-0.pdf", Answers),
        ("pdf_userunit_2.0.pdf", Page(840, 594)),
        ("png_basi6a16.png", Picture(32, 32)),
        ("png_bomb_30000x30000_1bit.png", Picture(7500, 7500)),
        ("png_ihdr_2e9.png", Refused("2000000000 × 2000000000 px")),
        ("png_truncated_60pct.png", Refused("cut short")),
        ("png_xd9n2c08.png", Refused("content is broken")),
        ("png_xdtn0g01.png", Refused("cut short")),
        ("png_xhdn0g08.png", Refused("content is broken")),
        ("png_xs1n0g01.png", Refused("none of the drawings")),
        ("renamed_png_is_pdf.png", Page(420, 297)),
        ("svg_deeply-nested-svg.svg", Answers),
        ("svg_elements-via-ENTITY-reference-1.svg", Answers),
        ("svg_external_href.svg", Page(200, 100)),
        ("svg_no-size.svg", Answers),
        ("svg_recursive-1.svg", Answers),
        ("svg_zero-size.svg", Refused("make no size")),
        ("zero_bytes.pdf", Refused("is empty")),
    ];
    let program = watching::built_program();
    match &program {
        Some(_) => println!("pages are read apart, by the program that was built beside this test"),
        None => println!("the program is not built: pages are read here, without its limit of memory"),
    }
    println!("{:<42} {:>7} {:>8}  outcome", "file", "seconds", "MB");
    for (file, expected) in cases {
        let path = folder.join(file);
        let ask = |password: Option<&str>| {
            let asked = Asked { page: 1, password: password.map(str::to_owned) };
            let watch = watching::Watch::start();
            let begun = Instant::now();
            let outcome = match files::read_drawing(&path) {
                Ok(bytes) => survey::read_by(program.as_deref(), file, bytes, &asked, &|_| true)
                    .map_err(|error| (error.to_string(), Some(error))),
                Err(error) => Err((error.to_string(), None)),
            };
            let seconds = begun.elapsed().as_secs_f64();
            let megabytes = watch.peak_in_megabytes();
            let words = match &outcome {
                Ok(read) => in_words(read),
                Err((sentence, _)) => sentence.clone(),
            };
            println!("{file:<42} {seconds:>7.3} {megabytes:>8}  {words}");
            assert!(seconds < MOST_SECONDS, "{file}: {seconds} s");
            assert!(megabytes < MOST_MEGABYTES, "{file}: {megabytes} MB");
            if let Err((sentence, _)) = &outcome {
                assert!(sentence.contains(file) && sentence.contains(": "), "{sentence}");
            }
            outcome
        };
        match (&expected, ask(None)) {
            (Picture(width, height), Ok(Read::Picture(read))) => {
                assert_eq!((read.grey.width(), read.grey.height()), (*width, *height), "{file}");
            }
            (Page(width, height), Ok(read)) => assert_eq!(size_of(&read), Some((*width, *height)), "{file}"),
            (Locked(password, width, height), Err((_, Some(ReadError::PasswordNeeded { .. })))) => {
                let wrong = ask(Some("not this one"));
                assert!(matches!(wrong, Err((_, Some(ReadError::PasswordNeeded { .. })))), "{file}");
                let read = ask(Some(password)).expect("opens with its password");
                assert_eq!(size_of(&read), Some((*width, *height)), "{file}");
            }
            (Refused(words), Err((sentence, _))) => assert!(sentence.contains(words), "{sentence}"),
            (Answers, _) => {}
            (_, outcome) => panic!("{file}: {:?}", outcome.map(|read| in_words(&read))),
        }
    }
}

fn in_words(read: &Read) -> String {
    match read {
        Read::Page(read) => format!(
            "page of {} × {} mm: {} lines, {} areas, {} runs of lettering{}",
            read.page.width,
            read.page.height,
            read.page.strokes.len(),
            read.page.fills.len(),
            read.page.writings.len(),
            if read.scan.is_some() { ", a scan" } else { "" },
        ),
        Read::Picture(read) => format!(
            "picture of {} × {} px{}",
            read.picture.width_px,
            read.picture.height_px,
            if read.times_smaller > 1 {
                format!(", its sides 1/{} of the file's", read.times_smaller)
            } else {
                String::new()
            },
        ),
        Read::Building => "a model of a building".to_owned(),
    }
}

fn size_of(read: &Read) -> Option<(u32, u32)> {
    match read {
        Read::Page(read) => Some((read.page.width.round() as u32, read.page.height.round() as u32)),
        _ => None,
    }
}
