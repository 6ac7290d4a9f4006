//! The files of the catalogue, compiled into the program in the order in which checks are listed.

macro_rules! files {
    ($($name:literal),+ $(,)?) => {
        /// Name and text of each file of `seeds/catalogue`; a test compares the list with the folder.
        pub const FILES: &[(&str, &str)] = &[$((
            $name,
            include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/seeds/catalogue/", $name)),
        )),+];
    };
}

files!(
    "sources.toml",
    "clearance.toml",
    "correction.toml",
    "water_closet.toml",
    "sinks.toml",
    "tub_shower.toml",
    "supply.toml",
    "water_heater.toml",
    "appliances.toml",
    "drains.toml",
    "surroundings.toml",
    "alarms.toml",
    "flush.toml",
    "likely.toml",
    "leak_points.toml",
    "water.toml",
    "symptoms.toml",
    "schedules.toml",
    "lives.toml",
    "score.toml",
);
