//! Due items end to end, on both databases: from the register and the results to what is stored, listed and verified.

mod cases;
pub mod command;
mod desk;
mod exported;
mod failures;
mod histories;
mod impact;
mod lived_in;
mod load;
mod office;
mod oracle;
mod plain;
mod schedules;
mod turns;
mod vacancy;
