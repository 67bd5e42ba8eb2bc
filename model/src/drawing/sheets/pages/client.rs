//! A room's client page: each plate drawn larger, and key by key what each way of using it does.

use kurbo::Point;

use super::Page;
use super::face::Face;
use super::handout::{head, lines, pair, set, subhead, width};
use super::told::{Told, ToldPlate, ToldRoom};
use crate::drawing::Role;
use crate::drawing::sheets::flow::Block;
use crate::drawing::sheets::pen::{Hand, Pen};
use crate::sentence::keys::KeyDeed;

/// Plates are drawn so many times true size.
const TIMES: f64 = 1.1;

/// Width of the column in which the words on a key stand, mm.
const KEY_MM: f64 = 44.0;

/// The sheets of a room.
pub(super) fn pages(told: &Told<'_>, room: &ToldRoom) -> Vec<Page> {
    let mut blocks = head(&room.name, 7.0);
    let body = Hand::regular(Role::Body, 2.5);
    let intro = "What the keys of this room do. Where nothing is said of two or three presses or of holding a key, they do \
                 nothing.";
    blocks.extend(lines(intro, body, width(), "", 2.0));
    for plate in room.plates.iter().filter_map(|at| told.plates.get(*at)) {
        blocks.extend(plate_blocks(told, plate));
    }
    let foot = [
        "Words on keys marked provisional may still be changed: say what you would call them.".to_owned(),
        "Nothing here replaces a smoke, heat or carbon monoxide alarm: these sound by themselves.".to_owned(),
    ];
    set(&format!("{}: what its keys do", room.name), &blocks, &foot)
}

fn plate_blocks(told: &Told<'_>, plate: &ToldPlate) -> Vec<Block> {
    let mut blocks = vec![subhead(&told.plate_words(plate), 3.5)];
    let words: Vec<[String; 2]> = plate.legends.iter().map(|legend| legend.words.clone()).collect();
    blocks.extend(picture(told, plate, &words, TIMES, true));
    let hand = Hand::regular(Role::Body, 2.5);
    for (key, legend) in plate.plate.keys.iter().zip(&plate.legends) {
        let words = legend.words.join(" ");
        let name =
            if words.trim().is_empty() { key.key.clone() } else { format!("{}: {}", key.key, words.trim()) };
        let said: Vec<String> = key.deeds.iter().map(deed_words).collect();
        let said = if said.is_empty() { vec!["Does nothing yet.".to_owned()] } else { said };
        blocks.extend(pair(&name, &said, KEY_MM, hand));
    }
    blocks
}

/// `One press: turn Kitchen ceiling lights on or off.`
pub(super) fn deed_words(deed: &KeyDeed) -> String {
    let told = deed.told();
    let mut letters = told.chars();
    let capital: String = letters.next().map(|first| first.to_uppercase().collect()).unwrap_or_default();
    let end = if told.ends_with(".”") { "" } else { "." };
    format!("{capital}{}{end}", letters.as_str())
}

/// The plate with these words on its keys, so many times true size, and whether its legend is final where that matters
/// to the reader.
pub(super) fn picture(
    told: &Told<'_>,
    plate: &ToldPlate,
    words: &[[String; 2]],
    times: f64,
    says_state: bool,
) -> Option<Block> {
    let device = told.project.devices.get(plate.plate.device)?;
    let face = told.project.kinds.get(device.kind)?.plate_face();
    // A plate larger than the sheet is wide is drawn as large as goes.
    let times = times.min(width() / face.width.as_mm());
    let is_provisional = says_state && !told.is_final(plate);
    let face = Face { face, words: words.iter().collect(), is_provisional, times };
    let size = face.size();
    let mut pen = Pen::default();
    face.draw(&mut pen, Point::new(0.0, -size.height));
    Some(Block { items: pen.items, height: size.height, gap: 2.0, keep_with_next: true })
}
