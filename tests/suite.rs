//! The one integration binary.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]
