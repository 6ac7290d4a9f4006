//! `anglestop register building terms`: what water costs in a building, and which programme of times to correct holds there.

use clap::Args;

use super::{Desk, place, take};
use crate::actions::water::{SetTerms, TermsText, set_terms};
use crate::domain::trade::water::TariffText;
use crate::error::Result;
use crate::store::terms;

/// What holds in one building instead of the office's own.
#[derive(Debug, Args)]
#[command(
    after_help = "What is not given stays; an empty value takes it away. They hold from now on; a deficiency keeps the deadline it was opened with.\n\n  \
    anglestop register building terms ALDER --water-price 4.63 --sewer-price 6.10 --billed ccf --currency USD --programme voucher"
)]
pub struct Terms {
    /// Code of the building
    building: String,
    /// Price of water per billing unit, such as 4.63
    #[arg(long, value_name = "PRICE", allow_hyphen_values = true)]
    water_price: Option<String>,
    /// Price of sewer per billing unit, such as 6.10
    #[arg(long, value_name = "PRICE", allow_hyphen_values = true)]
    sewer_price: Option<String>,
    /// What the bill counts in: ccf, kgal or m3; ccf when not given
    #[arg(long, value_name = "UNIT")]
    billed: Option<String>,
    /// Three letters, such as USD
    #[arg(long, value_name = "CODE")]
    currency: Option<String>,
    /// Code of the programme of times to correct
    #[arg(long, value_name = "CODE")]
    programme: Option<String>,
    /// Print the terms as JSON
    #[arg(long)]
    json: bool,
}

/// Sets what was given, if it differs, and says what holds now.
///
/// # Errors
/// A sentence for each value that can't be used, or that there is no such building.
pub(super) fn run(desk: &Desk, options: &Terms) -> Result<()> {
    let (building, kept) = desk.db.read(|conn| {
        let found = place::building(conn, desk, &options.building)?;
        Ok((found.id, terms::of_building(conn, found.id)?))
    })?;
    let mut text = TermsText {
        tariff: kept.tariff.as_ref().map(TariffText::from).unwrap_or_default(),
        programme: kept.programme,
    };
    let before = text.clone();
    take(&mut text.tariff.water_price, options.water_price.as_ref());
    take(&mut text.tariff.sewer_price, options.sewer_price.as_ref());
    take(&mut text.tariff.billed, options.billed.as_ref());
    take(&mut text.tariff.currency, options.currency.as_ref());
    take(&mut text.programme, options.programme.as_ref());
    if text != before {
        set_terms(&desk.db, &desk.actor, desk.now, &SetTerms { building, text })?;
        eprintln!("Terms set. They hold from now on.");
    }
    let now = desk.db.read(|conn| terms::of_building(conn, building))?;
    let tariff = now.tariff.as_ref();
    if options.json {
        let told = serde_json::json!({
            "building": options.building.trim().to_uppercase(),
            "water_minor": tariff.map(|tariff| tariff.water_minor),
            "sewer_minor": tariff.map(|tariff| tariff.sewer_minor),
            "billed": tariff.map(|tariff| tariff.billed.to_string()),
            "currency": tariff.map(|tariff| tariff.currency.as_str()),
            "programme": now.programme,
        });
        crate::cli::say!("{told}");
    } else {
        crate::cli::say!("{}", options.building.trim().to_uppercase());
    }
    Ok(())
}
