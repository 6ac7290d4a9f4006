//! Each migration can be taken back, and leaves what was there before it.

use diesel::prelude::*;
use diesel::sql_types::Text;
use diesel_migrations::{FileBasedMigrations, MigrationHarness};

use crate::support::{postgres, sqlite};

#[derive(QueryableByName)]
struct Line {
    #[diesel(sql_type = Text)]
    line: String,
}

const OF_SQLITE: &str = "SELECT type || ' ' || name || ': ' || coalesce(sql, '') AS line FROM sqlite_schema \
     WHERE tbl_name NOT LIKE '\\_\\_diesel%' ESCAPE '\\' AND tbl_name <> 'sqlite_sequence' ORDER BY line";

const OF_POSTGRES: &str = "SELECT 'column ' || table_name || '.' || column_name || ' ' || data_type || ' ' || is_nullable AS line \
     FROM information_schema.columns WHERE table_schema = current_schema() AND table_name NOT LIKE '\\_\\_diesel%' \
     UNION ALL SELECT indexdef FROM pg_indexes WHERE schemaname = current_schema() AND tablename NOT LIKE '\\_\\_diesel%' \
     UNION ALL SELECT viewname || definition FROM pg_views WHERE schemaname = current_schema() \
     UNION ALL SELECT tgname || ' ' || tgrelid::regclass::text FROM pg_trigger JOIN pg_class ON pg_class.oid = tgrelid \
     WHERE NOT tgisinternal AND relnamespace = current_schema()::regnamespace ORDER BY 1";

/// The definitions without their comments, each in one line.
fn tables(lines: QueryResult<Vec<Line>>) -> Vec<String> {
    let bare = |line: &Line| {
        let code = line.line.lines().filter_map(|text| text.split("--").next());
        let words = code.flat_map(str::split_whitespace);
        words.collect::<Vec<_>>().join(" ")
    };
    lines.unwrap().iter().map(bare).collect()
}

/// Takes back every migration and makes it again, and compares the tables at each step of the way.
macro_rules! there_and_back {
    ($connection:expr, $folder:literal, $schema:expr) => {{
        let mut connection = $connection;
        let migrations = FileBasedMigrations::from_path($folder).unwrap();
        let mut down = vec![tables(diesel::sql_query($schema).load(&mut connection))];
        let applied = connection.applied_migrations().unwrap().len();
        for _ in 0..applied {
            let version = connection
                .revert_last_migration(migrations.clone())
                .unwrap()
                .to_string();
            down.push(tables(diesel::sql_query($schema).load(&mut connection)));
            assert_ne!(
                down[down.len() - 2],
                down[down.len() - 1],
                "{version} changes something"
            );
        }
        assert_eq!(down.len(), applied + 1);
        assert!(down[applied].is_empty(), "{:?}", down[applied]);
        for step in (0..applied).rev() {
            let version = connection
                .run_next_migration(migrations.clone())
                .unwrap()
                .to_string();
            let up = tables(diesel::sql_query($schema).load(&mut connection));
            assert_eq!(up, down[step], "{version}");
        }
    }};
}

#[test]
fn each_migration_of_sqlite_goes_there_and_back() {
    let fleet = sqlite();
    let file = fleet.url.strip_prefix("sqlite://").unwrap();
    there_and_back!(
        SqliteConnection::establish(file).unwrap(),
        "migrations/sqlite",
        OF_SQLITE
    );
}

#[test]
fn each_migration_of_postgresql_goes_there_and_back() {
    let fleet = postgres();
    there_and_back!(
        PgConnection::establish(&fleet.url).unwrap(),
        "migrations/postgres",
        OF_POSTGRES
    );
}
