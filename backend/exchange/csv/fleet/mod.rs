//! The fleet as files: one CSV with a row a fixture, or a folder of CSVs without loss.
//!
//! Both forms are read into the same [`statement`]s, building by building, and laid over what is known ([`settle`]). In the one
//! CSV a blank cell leaves what is known and `-` says that there is none; in the folder a blank says that there is none. What a
//! file leaves out stays.

pub mod cells;
pub mod columns;
pub mod difference;
pub mod folder;
mod header;
pub mod one;
pub mod record;
pub mod settle;
pub mod source;
pub mod statement;
