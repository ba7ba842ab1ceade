//! A company's own mark: a PNG that a person names, kept beside the settings as `logo.png`.

use std::fs;
use std::io::{Cursor, ErrorKind};
use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow, bail};
use png::{BitDepth, ColorType, Decoder, Limits, Transformations};

use crate::files::atomic_write::{make_private_folder, write_privately};
use crate::files::plain_file::{self, MEGABYTE, Unread};
use crate::model::facts::company::Picture;
use crate::model::wording::uncapital;
use crate::units::show;

/// Largest file, bytes: a mark of a few hundred pixels has some tens of thousands.
const LARGEST: u64 = 2 * MEGABYTE;
/// Most pixels along an edge: 4 in. at 500 to the inch, on a head that has 2.
const MOST_PIXELS: u32 = 2_000;

/// Where it is kept, beside the settings.
pub fn place(settings: &Path) -> PathBuf {
    settings.with_file_name("logo.png")
}

/// The one that is kept; nothing where there is none.
///
/// # Errors
/// One sentence where what is there is no picture.
pub fn kept(settings: &Path) -> Result<Option<Picture>> {
    let place = place(settings);
    if fs::symlink_metadata(&place).is_err_and(|error| error.kind() == ErrorKind::NotFound) {
        return Ok(None);
    }
    read(&place).map(|(picture, _)| Some(picture))
}

/// Keeps a copy of a picture beside the settings.
///
/// # Errors
/// One sentence, where it is no picture, too large, or cannot be kept; the old one stays.
pub fn keep(settings: &Path, from: &Path) -> Result<Picture> {
    let (picture, bytes) = read(from)?;
    if let Some(folder) = settings.parent() {
        make_private_folder(folder).map_err(|error| {
            anyhow!("The settings' folder cannot be made ({}): {}", plain_file::said(&error), folder.display())
        })?;
    }
    write_privately(&place(settings), &bytes)?;
    Ok(picture)
}

/// Takes the kept one away.
///
/// # Errors
/// One sentence, where it cannot be removed.
pub fn forget(settings: &Path) -> Result<()> {
    let place = place(settings);
    match fs::remove_file(&place) {
        Err(error) if error.kind() != ErrorKind::NotFound => {
            bail!("The logo cannot be removed ({}): {}", plain_file::said(&error), place.display())
        }
        Ok(()) | Err(_) => Ok(()),
    }
}

fn read(path: &Path) -> Result<(Picture, Vec<u8>)> {
    let refused = |why: String| anyhow!("The logo is not taken, for {why}: {}", path.display());
    let bytes = plain_file::read_start(path, LARGEST + 1).map_err(|unread| match unread {
        Unread::Missing => refused("there is no such file".to_owned()),
        other @ (Unread::Unplain(_)
        | Unread::TooLarge(_)
        | Unread::NotText
        | Unread::NoPermission
        | Unread::System(_)) => refused(uncapital(&other.to_string())),
    })?;
    if bytes.len() as u64 > LARGEST {
        return Err(refused(format!("it is larger than {} MB", LARGEST / MEGABYTE)));
    }
    let picture = picture(&bytes).map_err(refused)?;
    Ok((picture, bytes))
}

/// The pixels of a PNG.
///
/// # Errors
/// Why it is none, or too large, as the end of a sentence.
pub fn picture(bytes: &[u8]) -> Result<Picture, String> {
    let no_picture = |_fault| "it is no PNG picture, or a damaged one".to_owned();
    let most = (MOST_PIXELS as usize).pow(2) * 8;
    let mut decoder = Decoder::new_with_limits(Cursor::new(bytes), Limits { bytes: most });
    decoder.set_transformations(Transformations::normalize_to_color8());
    let header = decoder.read_header_info().map_err(no_picture)?;
    let (width, height) = (header.width, header.height);
    if width.max(height) > MOST_PIXELS {
        let [width, height, most] = [width, height, MOST_PIXELS].map(|count| show::number(f64::from(count), 0));
        return Err(format!("it has {width} by {height} pixels; each edge has at most {most}"));
    }
    let mut reader = decoder.read_info().map_err(no_picture)?;
    let size = reader.output_buffer_size().ok_or_else(|| "it is no PNG picture, or a damaged one".to_owned())?;
    let mut pixels = vec![0; size];
    let frame = reader.next_frame(&mut pixels).map_err(no_picture)?;
    pixels.truncate(frame.buffer_size());
    let rgba = match (frame.color_type, frame.bit_depth) {
        (ColorType::Rgba, BitDepth::Eight) => pixels,
        (ColorType::Rgb, BitDepth::Eight) => {
            pixels.as_chunks::<3>().0.iter().flat_map(|[red, green, blue]| [*red, *green, *blue, u8::MAX]).collect()
        }
        (ColorType::Grayscale, BitDepth::Eight) => {
            pixels.iter().flat_map(|grey| [*grey, *grey, *grey, u8::MAX]).collect()
        }
        (ColorType::GrayscaleAlpha, BitDepth::Eight) => {
            pixels.as_chunks::<2>().0.iter().flat_map(|[grey, alpha]| [*grey, *grey, *grey, *alpha]).collect()
        }
        (ColorType::Indexed, _)
        | (
            ColorType::Rgba | ColorType::Rgb | ColorType::Grayscale | ColorType::GrayscaleAlpha,
            BitDepth::One | BitDepth::Two | BitDepth::Four | BitDepth::Sixteen,
        ) => return Err("its colours are of a kind that is not read".to_owned()),
    };
    if rgba.len() != width as usize * height as usize * 4 {
        return Err("it is no PNG picture, or a damaged one".to_owned());
    }
    Ok(Picture { width, height, rgba: rgba.into() })
}
