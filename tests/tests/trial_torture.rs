//! Pictures that broke decoders, read as underlays.
//!
//! The trial data are no part of the checkout: they are looked for in `shared/data` in the folders above it,
//! or where the variable PATTRESS_TRIAL_DATA says; without them this test says so and passes. What each file
//! must do stands in the data's own list, and is repeated here.

use std::path::{Path, PathBuf};

use pattress::files;

fn torture_folder() -> Option<PathBuf> {
    let data = match std::env::var_os("PATTRESS_TRIAL_DATA") {
        Some(given) => Some(PathBuf::from(given)),
        None => Path::new(env!("CARGO_MANIFEST_DIR"))
            .ancestors()
            .map(|folder| folder.join("shared/data"))
            .find(|folder| folder.is_dir()),
    };
    data.map(|folder| folder.join("torture")).filter(|folder| folder.is_dir())
}

/// What the data's list expects of a file.
enum Expected {
    /// It opens, with this size in pixels.
    Opens(u32, u32),
    /// It is refused with these words.
    Refused(&'static str),
    /// Either, as long as it ends in an answer.
    Answers,
}

#[test]
fn pictures_that_broke_decoders_open_or_are_refused_in_words() {
    use Expected::{Answers, Opens, Refused};
    let Some(folder) = torture_folder() else {
        println!("trial data not present: nothing read");
        return;
    };
    let cases = [
        ("jpg_dc-predictor-overflow.jpg", Answers),
        ("jpg_empty.jpg", Refused("is empty")),
        ("jpg_invalid-prediction-shift.jpg", Answers),
        ("jpg_progressive3.jpg", Opens(650, 470)),
        ("jpg_rgb.jpg", Opens(500, 333)),
        ("png_basi6a16.png", Opens(32, 32)),
        ("png_bomb_30000x30000_1bit.png", Refused("30000 × 30000 px")),
        ("png_ihdr_2e9.png", Refused("2000000000 × 2000000000 px")),
        ("png_truncated_60pct.png", Refused("cut short")),
        ("png_xd9n2c08.png", Refused("content is broken")),
        ("png_xdtn0g01.png", Refused("cut short")),
        ("png_xhdn0g08.png", Refused("content is broken")),
        ("png_xs1n0g01.png", Refused("neither a PNG nor a JPEG")),
        ("renamed_png_is_pdf.png", Refused("it is a PDF")),
    ];
    for (file, expected) in cases {
        let outcome = files::read_picture(&folder.join(file));
        match &outcome {
            Ok(read) => println!("{file}: {} × {} px", read.width_px, read.height_px),
            Err(refusal) => {
                let sentence = refusal.to_string();
                println!("{sentence}");
                assert!(sentence.contains(file) && sentence.contains(": "), "{sentence}");
            }
        }
        match (expected, outcome) {
            (Opens(width, height), Ok(read)) => {
                assert_eq!((read.width_px, read.height_px), (width, height), "{file}");
            }
            (Refused(words), Err(refusal)) => assert!(refusal.to_string().contains(words), "{refusal}"),
            (Answers, _) => {}
            (_, outcome) => panic!("{file}: {:?}", outcome.map(|read| (read.width_px, read.height_px))),
        }
    }
}
