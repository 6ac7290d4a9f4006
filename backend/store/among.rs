//! "Is one of these keys" as a statement that stays prepared: however many keys there are, they are bound as one text. A list of
//! single binds would be another statement for every count of keys, and SQLite keeps none of those.

use diesel::expression::{AppearsOnTable, Expression, SelectableExpression, ValidGrouping, is_aggregate};
use diesel::query_builder::{AstPass, QueryFragment, QueryId};
use diesel::sql_types::{Bool, Text};

use super::AnyConnection;

/// The database behind a statement, either one.
pub type Either = <AnyConnection as diesel::Connection>::Backend;

/// The condition that a column is one of some keys.
#[derive(Debug, Clone)]
pub struct Among {
    column: &'static str,
    before: &'static str,
    list: String,
    after: &'static str,
}

/// Whether `column` (an expression of SQL, an integer) is one of `keys`.
pub fn among(conn: &AnyConnection, column: &'static str, keys: &[i64]) -> Among {
    let keys: Vec<String> = keys.iter().map(i64::to_string).collect();
    let keys = keys.join(",");
    match conn {
        AnyConnection::Sqlite(_) => Among {
            column,
            before: " IN (SELECT value FROM json_each(",
            list: format!("[{keys}]"),
            after: "))",
        },
        AnyConnection::Postgres(_) => Among {
            column,
            before: " = ANY(string_to_array(",
            list: keys,
            after: ", ',')::bigint[])",
        },
    }
}

impl Expression for Among {
    type SqlType = Bool;
}

impl<Source> AppearsOnTable<Source> for Among {}
impl<Source> SelectableExpression<Source> for Among {}

impl<Group> ValidGrouping<Group> for Among {
    type IsAggregate = is_aggregate::Never;
}

// Which columns it names is text, so the text of the whole statement is what it is kept under.
impl QueryId for Among {
    type QueryId = ();
    const HAS_STATIC_QUERY_ID: bool = false;
}

impl QueryFragment<Either> for Among {
    fn walk_ast<'b>(&'b self, mut out: AstPass<'_, 'b, Either>) -> diesel::QueryResult<()> {
        out.push_sql(self.column);
        out.push_sql(self.before);
        out.push_bind_param::<Text, _>(&self.list)?;
        out.push_sql(self.after);
        Ok(())
    }
}
