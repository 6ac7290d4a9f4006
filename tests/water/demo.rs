//! The invented fleet has something to show on each page about water and causes.

use diesel::RunQueryDsl as _;

use crate::support::demo;
use crate::support::sqlite;

#[derive(diesel::QueryableByName)]
struct Count {
    #[diesel(sql_type = diesel::sql_types::BigInt)]
    count: i64,
}

#[test]
fn the_demo_has_leaks_measured_in_several_ways_causes_found_and_prices_set() {
    let fleet = sqlite();
    demo::make(&fleet, 240);
    let count = |query: &str| {
        fleet
            .db
            .read(|conn| Ok(diesel::sql_query(query).get_result::<Count>(conn)?.count))
            .unwrap()
    };
    let counts = [
        ("leaks measured", "SELECT COUNT(*) AS count FROM water_losses", 3),
        (
            "ways of measuring",
            "SELECT COUNT(DISTINCT method) AS count FROM water_losses",
            2,
        ),
        ("causes found", "SELECT COUNT(*) AS count FROM diagnoses", 2),
        (
            "buildings with a price of water",
            "SELECT COUNT(*) AS count FROM building_terms WHERE currency <> ''",
            2,
        ),
        (
            "office prices",
            "SELECT COUNT(*) AS count FROM settings WHERE key LIKE 'price.%'",
            3,
        ),
    ];
    for (what, query, least) in counts {
        let found = count(query);
        println!("{what}: {found}");
        assert!(found >= least, "{what}: {found}, fewer than {least}");
    }
}
