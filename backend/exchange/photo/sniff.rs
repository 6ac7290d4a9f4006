//! What a file is, by its first bytes, and where the picture in it ends: what stands behind it is no part of a photo.

/// A format that is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// JPEG.
    Jpeg,
    /// PNG.
    Png,
    /// WebP.
    WebP,
}

const PNG: &[u8] = b"\x89PNG\r\n\x1a\n";

/// The format that a file begins as; none when it is none that is taken.
///
/// # Source
/// JPEG: ITU-T T.81 (1992), B.1.1.3; PNG: W3C PNG (2003), 5.2; WebP: RFC 9649, 2.4. From memory.
///
/// ```
/// use anglestop::exchange::photo::{Kind, begins_as};
/// assert_eq!(begins_as(b"\xff\xd8\xff\xe0\x00\x10JFIF"), Some(Kind::Jpeg));
/// assert_eq!(begins_as(b"<svg xmlns='http://www.w3.org/2000/svg'>"), None);
/// ```
#[must_use]
pub fn begins_as(bytes: &[u8]) -> Option<Kind> {
    if bytes.starts_with(b"\xff\xd8\xff") {
        Some(Kind::Jpeg)
    } else if bytes.starts_with(PNG) {
        Some(Kind::Png)
    } else if bytes.starts_with(b"RIFF") && bytes.get(8..12) == Some(b"WEBP") {
        Some(Kind::WebP)
    } else {
        None
    }
}

/// How many bytes the picture takes; none when its frame is broken or not closed.
#[must_use]
pub fn ends_at(kind: Kind, bytes: &[u8]) -> Option<usize> {
    match kind {
        Kind::Jpeg => jpeg_end(bytes),
        Kind::Png => png_end(bytes),
        Kind::WebP => {
            let size = u32::from_le_bytes(bytes.get(4..8)?.try_into().ok()?);
            let end = usize::try_from(size).ok()?.checked_add(8)?;
            let end = end + end % 2;
            (end <= bytes.len()).then_some(end)
        }
    }
}

/// Segments by their length; what follows a scan is read up to the next marker.
fn jpeg_end(bytes: &[u8]) -> Option<usize> {
    let mut at = 2;
    loop {
        while *bytes.get(at)? != 0xff {
            at += 1;
        }
        while *bytes.get(at)? == 0xff {
            at += 1;
        }
        let marker = *bytes.get(at)?;
        at += 1;
        match marker {
            0xd9 => return Some(at),
            // Stuffing, restarts and the start: no length.
            0x00 | 0x01 | 0xd0..=0xd8 => {}
            _ => {
                let length = u16::from_be_bytes(bytes.get(at..at + 2)?.try_into().ok()?);
                at += usize::from(length.max(2));
            }
        }
    }
}

fn png_end(bytes: &[u8]) -> Option<usize> {
    let mut at = PNG.len();
    loop {
        let length = u32::from_be_bytes(bytes.get(at..at + 4)?.try_into().ok()?);
        let name = bytes.get(at + 4..at + 8)?;
        at = at.checked_add(usize::try_from(length).ok()?)?.checked_add(12)?;
        if at > bytes.len() {
            return None;
        }
        if name == b"IEND" {
            return Some(at);
        }
    }
}
