//! The register: adding, changing, moving, retiring and replacing, by action and by page, on both databases.

mod command;
mod house;
mod pages;
mod parts;
mod rules;
