//! Every value of the catalogue in rows, for whoever wants to argue: what it is of, the value as it stands in the file, and where it
//! comes from. Walks the files as they are, so that a value that is added later is listed without a line here.

use super::{CatalogueError, FILES, wire};

/// One value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ValueRow {
    /// The file, without its ending: `water_closet`.
    pub file: &'static str,
    /// What it is of: "Refill time · reading".
    pub of: String,
    /// The name of the value in the file: `at most`, `minutes`.
    pub what: String,
    /// The value, with its unit where the file gives one.
    pub value: String,
    /// Where it comes from, as a phrase.
    pub source: String,
}

/// Every value of the built-in files.
///
/// # Errors
/// When a file can't be read, or a value has no source; a test reads them all.
pub fn values() -> Result<Vec<ValueRow>, CatalogueError> {
    let mut sources = wire::Sources::new();
    let mut rows = Vec::new();
    for (name, text) in FILES {
        let wrong = |error: toml::de::Error| CatalogueError::new(*name, error.to_string());
        if *name == "sources.toml" {
            sources = toml::from_str(text).map_err(wrong)?;
            continue;
        }
        let table: toml::Table = toml::from_str(text).map_err(wrong)?;
        let mut walk = Walk {
            file: name.trim_end_matches(".toml"),
            sources: &sources,
            minutes_source: text_of(table.get("defaults"), "minutes_source"),
            rows: &mut rows,
        };
        walk.table("", &table, None)?;
    }
    Ok(rows)
}

fn text_of(value: Option<&toml::Value>, key: &str) -> Option<String> {
    Some(value?.get(key)?.as_str()?.to_owned())
}

struct Walk<'a> {
    file: &'static str,
    sources: &'a wire::Sources,
    minutes_source: Option<String>,
    rows: &'a mut Vec<ValueRow>,
}

/// Keys that name a table, the first that it has.
const NAMES: [&str; 7] = ["title", "name", "of", "dimension", "severity", "item", "code"];

/// Keys whose texts are words and no values, whatever they hold.
const WORDS: [&str; 10] = [
    "code", "name", "of", "title", "pass", "fail", "point", "checks", "parts", "kinds",
];

impl Walk<'_> {
    fn table(&mut self, of: &str, table: &toml::Table, around: Option<&str>) -> Result<(), CatalogueError> {
        let text = |key: &str| table.get(key).and_then(toml::Value::as_str);
        let own = NAMES
            .into_iter()
            .find_map(text)
            .map(|name| name.replace('_', " "));
        let of = match (of, own) {
            ("", own) => own.unwrap_or_default(),
            (of, None) => of.to_owned(),
            (of, Some(own)) => format!("{of} · {own}"),
        };
        let source = text("source").or(around).map(str::to_owned);
        for (key, value) in table {
            if key == "defaults"
                || key == "version"
                || key.ends_with("source")
                || WORDS.contains(&key.as_str())
            {
                self.inside(&of, key, value, source.as_deref())?;
                continue;
            }
            // `life_years` is sourced by `life_source`, `severity` by `severity_source`.
            let stem = key.rsplit_once('_').map_or(key.as_str(), |(stem, _)| stem);
            let key_source = [key.as_str(), stem]
                .iter()
                .find_map(|name| text(&format!("{name}_source")))
                .map(str::to_owned);
            let from = match key.as_str() {
                "minutes" => key_source.or_else(|| self.minutes_source.clone()),
                _ => key_source.or_else(|| source.clone()),
            };
            self.value(&of, key, value, from.as_deref())?;
            self.inside(&of, key, value, source.as_deref())?;
        }
        Ok(())
    }

    fn inside(
        &mut self,
        of: &str,
        key: &str,
        value: &toml::Value,
        source: Option<&str>,
    ) -> Result<(), CatalogueError> {
        match value {
            toml::Value::Table(_) if key == "defaults" => Ok(()),
            // A table of the file itself is named by its key.
            toml::Value::Table(table) if of.is_empty() => self.table(&key.replace('_', " "), table, source),
            // A table within one is named by its key too: weights of a severity, an area within it.
            toml::Value::Table(table) => {
                self.table(&format!("{of} · {}", key.replace('_', " ")), table, source)
            }
            toml::Value::Array(items) => items.iter().try_for_each(|item| match item {
                toml::Value::Table(table)
                    if of.is_empty() && NAMES.iter().all(|name| !table.contains_key(*name)) =>
                {
                    self.table(&key.replace('_', " "), table, source)
                }
                toml::Value::Table(table) => self.table(of, table, source),
                other if key == "method" => self.value(of, "method", other, source),
                _ => Ok(()),
            }),
            _ => Ok(()),
        }
    }

    fn value(
        &mut self,
        of: &str,
        key: &str,
        value: &toml::Value,
        source: Option<&str>,
    ) -> Result<(), CatalogueError> {
        let value = match value {
            toml::Value::Integer(number) => number.to_string(),
            toml::Value::Float(number) => number.to_string(),
            toml::Value::Datetime(day) => day.to_string(),
            toml::Value::String(text) if text.chars().any(|c| c.is_ascii_digit()) => text.clone(),
            _ => return Ok(()),
        };
        let found = source
            .and_then(|source| self.sources.get(source))
            .ok_or_else(|| {
                CatalogueError::new(
                    format!("{}.toml, {of}", self.file),
                    format!("{key} {value} has no source; write one beside it"),
                )
            })?;
        self.rows.push(ValueRow {
            file: self.file,
            of: of.to_owned(),
            what: key.replace('_', " "),
            value,
            source: found.phrase(),
        });
        Ok(())
    }
}
