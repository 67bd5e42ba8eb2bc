//! A plan as one ZIP: `project.json` and `media/`, packed so that the same plan gives the same bytes.
//!
//! Reading trusts nothing: names are held to the two forms a plan has, sizes to their limits whatever the
//! directory of the ZIP claims, and media to the SHA-256 that their names state.

use std::io::{self, Read, Seek, Write};

use pattress_model::store::Media;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipArchive, ZipWriter};

use super::error::FileError;

/// The name of the plan's text within the ZIP or the folder.
pub(super) const PROJECT: &str = "project.json";

/// No plan's text is larger than this: 256 MB.
pub(super) const LARGEST_PROJECT: u64 = 256_000_000;

/// No picture or photograph of a plan is larger than this: 512 MB.
pub(super) const LARGEST_MEDIUM: u64 = 512_000_000;

/// All pictures of a plan together are no larger than this: 2 GB.
const LARGEST_MEDIA: u64 = 2_000_000_000;

/// No plan has more pictures than this.
const MOST_ENTRIES: usize = 10_000;

/// Refuses to write what would be refused when read.
pub(super) fn check_limits(file: &str, text: &str, media: &Media) -> Result<(), FileError> {
    let too_large = |part: String, limit: u64| FileError::TooLarge {
        file: file.to_owned(),
        part,
        limit: format!("{} MB", limit / 1_000_000),
    };
    if text.len() as u64 > LARGEST_PROJECT {
        return Err(too_large("the plan itself".to_owned(), LARGEST_PROJECT));
    }
    let mut together = 0;
    for (name, bytes) in media.iter() {
        if !is_medium_name(name) {
            return Err(FileError::StrangeEntry { file: file.to_owned(), entry: name.to_owned() });
        }
        if bytes.len() as u64 > LARGEST_MEDIUM {
            return Err(too_large(format!("the picture “{name}”"), LARGEST_MEDIUM));
        }
        together += bytes.len() as u64;
    }
    if together > LARGEST_MEDIA { Err(too_large("its pictures".to_owned(), LARGEST_MEDIA)) } else { Ok(()) }
}

/// Packs a plan.
pub(super) fn pack<W: Write + Seek>(text: &str, media: &Media, into: W) -> io::Result<W> {
    let fixed = SimpleFileOptions::default().last_modified_time(DateTime::DEFAULT).unix_permissions(0o644);
    let mut zip = ZipWriter::new(into);
    let packed = fixed.compression_method(CompressionMethod::Deflated).compression_level(Some(6));
    zip.start_file(PROJECT, packed)?;
    zip.write_all(text.as_bytes())?;
    for (name, bytes) in media.iter() {
        // Pictures are compressed already.
        zip.start_file(format!("media/{name}"), fixed.compression_method(CompressionMethod::Stored))?;
        zip.write_all(bytes)?;
    }
    Ok(zip.finish()?)
}

/// Unpacks a plan: its text and its media. `file` is how sentences name it.
pub(super) fn unpack<R: Read + Seek>(file: &str, from: R) -> Result<(String, Media), FileError> {
    let damaged = |what: String| FileError::Damaged { file: file.to_owned(), what };
    let mut zip = ZipArchive::new(from)
        .map_err(|error| damaged(format!("its ZIP packing is cut short or broken: {error}")))?;
    if zip.len() > MOST_ENTRIES {
        return Err(FileError::TooLarge {
            file: file.to_owned(),
            part: format!("{} files", zip.len()),
            limit: format!("{MOST_ENTRIES} files"),
        });
    }
    let mut text = None;
    let mut media = Media::default();
    let mut room = LARGEST_MEDIA;
    for index in 0..zip.len() {
        let mut entry = zip
            .by_index(index)
            .map_err(|error| damaged(format!("entry {} of its ZIP: {error}", index + 1)))?;
        let name = String::from_utf8_lossy(entry.name_raw()).into_owned();
        if name == "media/" {
            continue;
        }
        if name == PROJECT {
            let bytes = read_within(file, &name, &mut entry, LARGEST_PROJECT)?;
            text = Some(text_of(file, bytes)?);
        } else if let Some(medium) = name.strip_prefix("media/").filter(|medium| is_medium_name(medium)) {
            let bytes = read_within(file, &name, &mut entry, LARGEST_MEDIUM.min(room))?;
            room -= bytes.len() as u64;
            keep_medium(file, medium, bytes, &mut media)?;
        } else {
            return Err(FileError::StrangeEntry { file: file.to_owned(), entry: name });
        }
    }
    match text {
        Some(text) => Ok((text, media)),
        None => Err(FileError::NoPlan {
            file: file.to_owned(),
            what: "it is a ZIP without a project.json".to_owned(),
        }),
    }
}

/// Reads to the end, but never more than the limit, whatever size was claimed.
fn read_within(file: &str, part: &str, from: &mut impl Read, limit: u64) -> Result<Vec<u8>, FileError> {
    let mut bytes = Vec::new();
    from.take(limit + 1).read_to_end(&mut bytes).map_err(|error| FileError::Damaged {
        file: file.to_owned(),
        what: format!("“{part}” can't be unpacked: {error}"),
    })?;
    if bytes.len() as u64 > limit {
        return Err(FileError::TooLarge {
            file: file.to_owned(),
            part: format!("“{part}”"),
            limit: format!("{} MB", limit / 1_000_000),
        });
    }
    Ok(bytes)
}

/// The plan's text, which is UTF-8 (RFC 8259).
pub(super) fn text_of(file: &str, bytes: Vec<u8>) -> Result<String, FileError> {
    String::from_utf8(bytes).map_err(|error| FileError::Damaged {
        file: file.to_owned(),
        what: format!("project.json is no UTF-8 text at byte {}", error.utf8_error().valid_up_to() + 1),
    })
}

/// Keeps a medium once its content is what its name states.
pub(super) fn keep_medium(
    file: &str,
    name: &str,
    bytes: Vec<u8>,
    media: &mut Media,
) -> Result<(), FileError> {
    let ending = name.rsplit_once('.').map_or("", |(_, ending)| ending);
    if pattress_model::store::media::name_of(&bytes, ending) != name {
        return Err(FileError::Damaged {
            file: file.to_owned(),
            what: format!("the content of “media/{name}” is not what its name states"),
        });
    }
    media.keep(bytes, ending);
    Ok(())
}

/// Whether a name has the form that media have: 64 hexadecimal digits, a dot, a short ending.
pub(super) fn is_medium_name(name: &str) -> bool {
    let Some((digest, ending)) = name.split_once('.') else { return false };
    digest.len() == 64
        && digest.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'))
        && (1..=5).contains(&ending.len())
        && ending.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit())
}
