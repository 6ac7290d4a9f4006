//! The page on a technician's phone: a shell without data, which the phone keeps, and the worker that keeps it. What is shown in it the
//! phone reads from its own store; the scripts stand in `templates/assets/phone`.

pub mod shell;
pub mod worker;
