//! Anglestop: keeps every rental unit's fixtures, makes their checks come due, and proves that they were done.
//!
//! The rooms, from the bottom up; every arrow points down (the test `architecture` reads the tree and enforces it):
//!
//! | room | knows | may call |
//! |---|---|---|
//! | `domain` | the trade, due dates, outcomes, condition: pure values in, values out | nothing of ours |
//! | `demo` | an invented fleet and its past | `domain` |
//! | `kept` | what was read or drawn lately, in memory, within a bound | nothing of ours |
//! | `store` | the two databases; the only room that names diesel | `domain`, `kept` |
//! | `exchange` | formats: bytes to domain values and back | `domain` |
//! | `picture` | drawings as SVG | `domain`, `language`, `kept` |
//! | `language` | numbers, dates, lengths as people read them | `domain` |
//! | `mail` | composing and delivering mail | `domain`, `store`, `picture`, `language` |
//! | `actions` | one use case a file, one transaction each | `domain`, `store`, `exchange`, `language`, `mail::compose` |
//! | `jobs` | the clockwork | `actions`, `store`, `mail` |
//! | `web` | routes, pages, forms | `actions`, `store` (reads), `exchange`, `picture`, `language`, `domain` |
//! | `cli` | the same job from a terminal | all |

pub mod actions;
pub mod cli;
pub mod clock;
pub mod config;
pub mod demo;
pub mod domain;
pub mod error;
pub mod exchange;
pub mod jobs;
pub mod kept;
pub mod language;
pub mod mail;
pub mod picture;
pub mod store;
pub mod web;
