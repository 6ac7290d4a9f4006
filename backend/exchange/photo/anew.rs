//! Writes a photo anew: decoded within limits that are set here, turned upright, made smaller, encoded as JPEG. Place, camera and whatever
//! else was in the file stay behind.

use std::io::Cursor;

use image::codecs::jpeg::{JpegDecoder, JpegEncoder};
use image::codecs::png::PngDecoder;
use image::codecs::webp::WebPDecoder;
use image::imageops::FilterType;
use image::{DynamicImage, ImageDecoder, ImageError, Limits};

use super::sniff::{Kind, begins_as, ends_at};
use super::{LONGEST_SIDE, MOST_BYTES, MOST_PIXELS, QUALITY};

/// The longest side of a photo as sent, pixels: a panorama has more than a square of as many pixels.
const LONGEST_SENT: u32 = 20_000;

/// The most bytes that decoding may ask for: 24 megapixels of four bytes and as much again.
const MOST_MEMORY: u64 = 200 << 20;

/// A photo as it is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Anew {
    /// JPEG.
    pub bytes: Vec<u8>,
    /// Pixels.
    pub width: u32,
    /// Pixels.
    pub height: u32,
}

/// The same picture as a JPEG of its own.
///
/// # Errors
/// A sentence when it is no photo that is taken: another format, too many bytes or pixels, broken, or something stands behind it.
pub fn anew(bytes: &[u8]) -> Result<Anew, String> {
    if i64::try_from(bytes.len()).is_ok_and(|length| length > MOST_BYTES) || bytes.is_empty() {
        return Err("The photo is empty or over 10 MiB. Take it again with fewer pixels.".to_owned());
    }
    let kind = begins_as(bytes)
        .ok_or("This is no JPEG, PNG or WebP, whatever its name says. Take a photo with the camera.")?;
    match ends_at(kind, bytes) {
        None => return Err(broken("it ends in the middle")),
        Some(end) if bytes[end..].iter().any(|byte| *byte != 0) => {
            return Err(
                "Something else stands behind the picture in this file, so it was not taken. Take the photo again.".to_owned(),
            );
        }
        Some(_) => {}
    }
    let picture = decode(kind, bytes)?;
    let (width, height) = (picture.width(), picture.height());
    let small = if width.max(height) > LONGEST_SIDE {
        picture.resize(LONGEST_SIDE, LONGEST_SIDE, FilterType::Triangle)
    } else {
        picture
    };
    encode(&on_white(small))
}

fn decode(kind: Kind, bytes: &[u8]) -> Result<DynamicImage, String> {
    let reader = Cursor::new(bytes);
    match kind {
        Kind::Jpeg => read(JpegDecoder::new(reader)),
        Kind::Png => read(PngDecoder::with_limits(reader, limits())),
        Kind::WebP => read(WebPDecoder::new(reader)),
    }
}

fn limits() -> Limits {
    let mut limits = Limits::no_limits();
    limits.max_image_width = Some(LONGEST_SENT);
    limits.max_image_height = Some(LONGEST_SENT);
    limits.max_alloc = Some(MOST_MEMORY);
    limits
}

/// Looks at the size first: a few bytes may claim more pixels than there is memory.
fn read<D: ImageDecoder>(decoder: Result<D, ImageError>) -> Result<DynamicImage, String> {
    let mut decoder = decoder.map_err(|error| refusal(&error))?;
    let (width, height) = decoder.dimensions();
    if width == 0 || height == 0 || u64::from(width) * u64::from(height) > MOST_PIXELS {
        return Err(format!(
            "The photo says that it has {width} by {height} pixels; at most 24 megapixels are taken. Take it again with fewer."
        ));
    }
    decoder.set_limits(limits()).map_err(|error| refusal(&error))?;
    let turned = decoder.orientation().map_err(|error| refusal(&error))?;
    let mut picture = DynamicImage::from_decoder(decoder).map_err(|error| refusal(&error))?;
    picture.apply_orientation(turned);
    Ok(picture)
}

fn refusal(error: &ImageError) -> String {
    match error {
        ImageError::Limits(_) => {
            "The photo takes more memory than is given to one; at most 24 megapixels are taken. Take it again with fewer.".to_owned()
        }
        other => broken(&other.to_string()),
    }
}

fn broken(why: &str) -> String {
    format!("The photo can't be read ({why}). Take it again.")
}

/// JPEG knows no transparency; what shines through is white.
fn on_white(picture: DynamicImage) -> image::RgbImage {
    if !picture.color().has_alpha() {
        return picture.into_rgb8();
    }
    let from = picture.into_rgba8();
    image::RgbImage::from_fn(from.width(), from.height(), |x, y| {
        let [red, green, blue, alpha] = from.get_pixel(x, y).0;
        let over = |value: u8| {
            let mixed = u32::from(value) * u32::from(alpha) + 255 * (255 - u32::from(alpha));
            u8::try_from(mixed / 255).unwrap_or(u8::MAX)
        };
        image::Rgb([over(red), over(green), over(blue)])
    })
}

fn encode(picture: &image::RgbImage) -> Result<Anew, String> {
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, QUALITY)
        .encode_image(picture)
        .map_err(|error| broken(&error.to_string()))?;
    Ok(Anew {
        bytes,
        width: picture.width(),
        height: picture.height(),
    })
}
