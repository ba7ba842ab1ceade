//! Pictures from files: PNG and JPEG, of a size that can be worked on; everything else is refused in words.

use std::io::Cursor;
use std::path::Path;

use anyhow::{Result, anyhow};
use png::{BitDepth, ColorType, Decoder, Limits, Transformations};
use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::bytestream::ZCursor;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

use crate::files::plain_file::{self, MEGABYTE, Unread};
use crate::model::facts::company::Picture;
use crate::units::show;

/// Largest file of a photograph or a scan, bytes.
const LARGEST: u64 = 40 * MEGABYTE;
/// Most pixels along an edge: a page of 11 in. at 1,000 to the inch.
const MOST_PIXELS: u32 = 11_000;
/// Most pixels in all: what the cameras of telephones take.
const MOST_IN_ALL: u64 = 64_000_000;
/// Least pixels along an edge of what a chart can be read off.
const LEAST_PIXELS: u32 = 60;

/// The chart or table in a picture's file.
///
/// # Errors
/// One sentence with the path where it cannot be read, is no PNG or JPEG, or is too large or too small.
pub fn read(path: &Path) -> Result<Picture> {
    let refused = |why: &str| anyhow!("The picture is not taken: {why}: {}", path.display());
    let bytes = plain_file::read_start(path, LARGEST + 1).map_err(|unread| anyhow!("{unread}: {}", path.display()))?;
    if bytes.len() as u64 > LARGEST {
        return Err(anyhow!("{}: {}", Unread::TooLarge(LARGEST), path.display()));
    }
    decoded(&bytes).map_err(|why| refused(&why))
}

/// True for a file that is meant as a picture, by its ending.
pub fn is_meant(path: &Path) -> bool {
    let ends = |ending: &&str| path.extension().is_some_and(|own| own.eq_ignore_ascii_case(ending));
    ["png", "jpg", "jpeg", "gif", "webp", "heic", "tif", "tiff", "bmp"].iter().any(ends)
}

/// The pixels of a PNG or JPEG.
///
/// # Errors
/// Why there are none, as the end of a sentence.
pub fn decoded(bytes: &[u8]) -> Result<Picture, String> {
    let picture = match bytes {
        [0x89, b'P', b'N', b'G', ..] => png(bytes, MOST_PIXELS)?,
        [0xFF, 0xD8, ..] => jpeg(bytes)?,
        _ => return Err("it is neither PNG nor JPEG; save it as one of these".to_owned()),
    };
    if picture.width.min(picture.height) < LEAST_PIXELS {
        let [width, height, least] = [picture.width, picture.height, LEAST_PIXELS].map(counted);
        return Err(format!(
            "it has {width} by {height} pixels, of which nothing can be read off; each edge takes {least}"
        ));
    }
    Ok(picture)
}

fn counted(count: u32) -> String {
    show::number(f64::from(count), 0)
}

/// Refuses a picture that has more pixels than can be worked on.
fn within(width: u32, height: u32, most: u32) -> Result<(), String> {
    if width.max(height) > most {
        let [width, height, most] = [width, height, most].map(counted);
        return Err(format!("it has {width} by {height} pixels; each edge has at most {most}"));
    }
    let all = u64::from(width) * u64::from(height);
    if all > MOST_IN_ALL {
        let million = |pixels: u64| show::number(pixels as f64 / 1e6, 0);
        return Err(format!(
            "it has {} million pixels, of which there are at most {}",
            million(all),
            million(MOST_IN_ALL)
        ));
    }
    Ok(())
}

fn jpeg(bytes: &[u8]) -> Result<Picture, String> {
    let damaged = |_fault| "it is no JPEG picture that is read here, or a damaged one".to_owned();
    let options = DecoderOptions::default()
        .set_max_width(usize::from(u16::MAX))
        .set_max_height(usize::from(u16::MAX))
        .jpeg_set_out_colorspace(ColorSpace::RGBA);
    let mut decoder = JpegDecoder::new_with_options(ZCursor::new(bytes), options);
    decoder.decode_headers().map_err(damaged)?;
    let info = decoder.info().ok_or("it is no JPEG picture, or a damaged one")?;
    let (width, height) = (u32::from(info.width), u32::from(info.height));
    within(width, height, MOST_PIXELS)?;
    let rgba = decoder.decode().map_err(damaged)?;
    if rgba.len() != width as usize * height as usize * 4 {
        return Err("its colours are of a kind that is not read".to_owned());
    }
    let picture = Picture { width, height, rgba: rgba.into() };
    Ok(upright(picture, decoder.exif().map_or(AS_STORED, |told| turn(told))))
}

/// A picture's turn where nothing is said of it.
const AS_STORED: u32 = 1;

/// How a camera says that a picture is turned, 1 to 8 (Exif 2.32, tag `Orientation`); as stored where it says nothing that is read.
fn turn(exif: &[u8]) -> u32 {
    let read = exif::Reader::new().read_raw(exif.to_vec()).ok();
    let field = read.as_ref().and_then(|told| told.get_field(exif::Tag::Orientation, exif::In::PRIMARY));
    field.and_then(|field| field.value.get_uint(0)).filter(|turn| (1..=8).contains(turn)).unwrap_or(AS_STORED)
}

/// A picture as it was seen: from 5 on its rows are what was seen as columns, and either way each edge may be mirrored.
fn upright(picture: Picture, turn: u32) -> Picture {
    if turn == AS_STORED {
        return picture;
    }
    let is_across = turn >= 5;
    let [from_right, from_foot] = [matches!(turn, 2 | 3 | 7 | 8), matches!(turn, 3 | 4 | 6 | 7)];
    let (stored, rows) = (picture.width as usize, picture.height as usize);
    let (width, height) = if is_across { (rows, stored) } else { (stored, rows) };
    let mut rgba = Vec::with_capacity(picture.rgba.len());
    for y in 0..height {
        for x in 0..width {
            let (column, row) = if is_across { (y, x) } else { (x, y) };
            let column = if from_right { stored - 1 - column } else { column };
            let row = if from_foot { rows - 1 - row } else { row };
            let at = (row * stored + column) * 4;
            rgba.extend_from_slice(&picture.rgba[at..at + 4]);
        }
    }
    let (width, height) = if is_across { (picture.height, picture.width) } else { (picture.width, picture.height) };
    Picture { width, height, rgba: rgba.into() }
}

/// The pixels of a PNG of at most so many along an edge.
///
/// # Errors
/// Why it is none, or too large, as the end of a sentence.
pub(super) fn png(bytes: &[u8], most_pixels: u32) -> Result<Picture, String> {
    let no_picture = |_fault| "it is no PNG picture, or a damaged one".to_owned();
    let most = (most_pixels as usize).pow(2) * 8;
    let mut decoder = Decoder::new_with_limits(Cursor::new(bytes), Limits { bytes: most });
    decoder.set_transformations(Transformations::normalize_to_color8());
    let header = decoder.read_header_info().map_err(no_picture)?;
    let (width, height) = (header.width, header.height);
    within(width, height, most_pixels)?;
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

#[cfg(test)]
mod tests {
    use super::*;

    fn png_of(width: u32, height: u32) -> Vec<u8> {
        let mut bytes = Vec::new();
        let mut encoder = png::Encoder::new(&mut bytes, width, height);
        encoder.set_color(ColorType::Grayscale);
        let mut writer = encoder.write_header().unwrap();
        writer.write_image_data(&vec![200; width as usize * height as usize]).unwrap();
        drop(writer);
        bytes
    }

    #[test]
    fn what_is_no_picture_to_work_on_is_said_in_words() {
        let cut = png_of(100, 100)[..60].to_vec();
        let rows: [(Vec<u8>, &str); 8] = [
            (png_of(1, 1), "it has 1 by 1 pixels, of which nothing can be read off"),
            (png_of(20_000, 60), "it has 20,000 by 60 pixels; each edge has at most 11,000"),
            (png_of(9_000, 9_000), "it has 81 million pixels"),
            (cut, "it is no PNG picture, or a damaged one"),
            (b"\xFF\xD8\xFF\xE0rest".to_vec(), "it is no JPEG picture"),
            (b"GIF89a".to_vec(), "it is neither PNG nor JPEG"),
            (b"ESP,1".to_vec(), "it is neither PNG nor JPEG"),
            (Vec::new(), "it is neither PNG nor JPEG"),
        ];
        for (bytes, wanted) in rows {
            let said = decoded(&bytes).unwrap_err();
            assert!(said.starts_with(wanted), "{said} for {wanted}");
        }
        let sound = decoded(&png_of(80, 60)).unwrap();
        assert_eq!((sound.width, sound.height, sound.rgba[0], sound.rgba[3]), (80, 60, 200, 255));
    }

    /// A JPEG of 80 by 60 pixels whose quarters differ, which a camera says is turned so.
    fn jpeg_of(turn: u8) -> Vec<u8> {
        let quarters = image::RgbImage::from_fn(80, 60, |x, y| match (x < 40, y < 30) {
            (true, true) => image::Rgb([250, 20, 20]),
            (false, true) => image::Rgb([20, 250, 20]),
            (true, false) => image::Rgb([20, 20, 250]),
            (false, false) => image::Rgb([250, 250, 20]),
        });
        let mut bytes = Cursor::new(Vec::new());
        quarters.write_to(&mut bytes, image::ImageFormat::Jpeg).unwrap();
        let bytes = bytes.into_inner();
        // One field of one directory: tag 0x0112, one number of two bytes.
        let mut exif = b"\xFF\xE1\x00\x22Exif\0\0II*\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0".to_vec();
        exif.extend([turn, 0, 0, 0, 0, 0, 0, 0]);
        [&bytes[..2], &exif, &bytes[2..]].concat()
    }

    /// Turned as the crate `image` turns it, whose own reading of the camera's words is asked.
    #[test]
    fn a_photograph_stands_as_it_was_seen() {
        for turn in 0..=9 {
            let bytes = jpeg_of(turn);
            let mut reader =
                image::ImageReader::new(Cursor::new(&bytes)).with_guessed_format().unwrap().into_decoder().unwrap();
            let told = image::ImageDecoder::orientation(&mut reader).unwrap();
            let mut wanted = image::DynamicImage::from_decoder(reader).unwrap();
            wanted.apply_orientation(told);
            let (found, wanted) = (decoded(&bytes).unwrap(), wanted.to_rgba8());
            assert_eq!((found.width, found.height), wanted.dimensions(), "{turn}");
            for (x, y) in [(10, 10), (45, 10), (10, 50), (50, 50)] {
                let at = ((y * found.width + x) * 4) as usize;
                let near = |one: &u8, other: &u8| one.abs_diff(*other) < 12;
                let [found, wanted] = [&found.rgba[at..at + 3], &wanted.get_pixel(x, y).0[..3]];
                assert!(
                    found.iter().zip(wanted).all(|(one, other)| near(one, other)),
                    "{turn}: {x} {y}: {found:?} {wanted:?}"
                );
            }
        }
    }

    #[test]
    fn a_picture_too_large_for_the_disk_is_refused_with_its_path() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("scan.png");
        std::fs::File::create(&path).unwrap().set_len(LARGEST + 1).unwrap();
        let said = read(&path).unwrap_err().to_string();
        assert!(said.starts_with("The file is too large") && said.ends_with("scan.png"), "{said}");
        assert!(read(folder.path()).unwrap_err().to_string().starts_with("This is a folder"));
    }
}
