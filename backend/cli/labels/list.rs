//! `anglestop labels list`: places with their codes and addresses, a row each.

use clap::Args;

use super::Places;
use crate::config;
use crate::domain::code::Coded as _;
use crate::error::{Error, Result};
use crate::store::Db;

/// Options of `labels list`.
#[derive(Debug, Args)]
pub struct Options {
    #[command(flatten)]
    places: Places,
    /// The address that people type; else from ANGLESTOP_PUBLIC_URL, else where pages listen
    #[arg(long)]
    public_url: Option<String>,
}

/// Lists.
pub fn run(db: &Db, options: &Options) -> Result<()> {
    let public_url = address(options.public_url.as_deref())?;
    let (building, places) = db.read(|conn| options.places.load(conn))?;
    let mut file = csv::Writer::from_writer(Vec::new());
    let write =
        |file: &mut csv::Writer<Vec<u8>>, row: [&str; 7]| file.write_record(row).map_err(Error::internal);
    write(
        &mut file,
        ["building", "unit", "room", "tag", "kind", "code", "address"],
    )?;
    for place in &places {
        let code = place.code.as_deref().unwrap_or_default();
        let leads = if code.is_empty() {
            String::new()
        } else {
            format!("{public_url}/l/{code}")
        };
        write(
            &mut file,
            [
                &building,
                &place.unit_label,
                &place.room,
                &place.tag_label,
                place.kind.code(),
                code,
                &leads,
            ],
        )?;
    }
    let bytes = file
        .into_inner()
        .map_err(|cause| Error::internal(cause.to_string()))?;
    crate::cli::written(format_args!("{}", String::from_utf8_lossy(&bytes)));
    Ok(())
}

/// The address that people type.
pub(super) fn address(flag: Option<&str>) -> Result<String> {
    let listen = config::value("listen", None)?.text;
    config::public_url(flag, &listen)
}
