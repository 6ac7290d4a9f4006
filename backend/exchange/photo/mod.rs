//! Photos: which bytes are one, and the same picture written anew, without anything else that was in the file. Decides what is refused
//! and how large a picture is kept; knows nobody's phone.

mod anew;
mod sniff;

pub use anew::{Anew, anew};
pub use sniff::{Kind, begins_as, ends_at};

/// The most bytes of a photo as sent: 10 MiB.
pub const MOST_BYTES: i64 = 10 << 20;

/// The most pixels of a photo as sent: 24 megapixels.
pub const MOST_PIXELS: u64 = 24_000_000;

/// The longest side of a photo as kept, pixels.
pub const LONGEST_SIDE: u32 = 2_048;

/// The quality of the JPEG that is kept, of 100.
pub const QUALITY: u8 = 80;
