//! The due list as people read it: its rows, filters, pages, counts and file are exactly the due rows, each building on its own date.
//! And the pages of schedules and checks, by what a manager does there.

mod catalogue;
mod fleet;
mod list;
mod schedules;
