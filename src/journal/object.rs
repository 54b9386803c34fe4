//! One JSON object on a line, with the place of every value, so that a message can name its column.

use std::fmt;

use serde::de::{Deserialize, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use serde_json::value::RawValue;

/// A value of an object, as it is written, with its key.
#[derive(Clone, Debug)]
pub(super) struct Field<'t> {
    /// The key.
    pub(super) key: String,
    /// The value as it is written.
    pub(super) text: &'t str,
    /// The byte of the line at which the value begins.
    pub(super) at: usize,
}

/// Why a text is no object.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct NotAnObject {
    /// The byte of the line at which that shows.
    pub(super) at: usize,
    /// What the parser says.
    pub(super) why: String,
}

/// The values of the object that a part of a line is; `at` is the byte at which the part begins.
pub(super) fn object(text: &str, at: usize) -> Result<Vec<Field<'_>>, NotAnObject> {
    let Pairs(pairs) = parsed(text, at)?;
    let fields = pairs.into_iter().map(|(key, value)| Field {
        key,
        text: value.get(),
        at: at + within(text, value.get()),
    });
    Ok(fields.collect())
}

/// The items of the list that a part of a line is, each with its byte.
pub(super) fn list(text: &str, at: usize) -> Result<Vec<(&str, usize)>, NotAnObject> {
    let Items(items) = parsed(text, at)?;
    let items = items.into_iter().map(RawValue::get);
    Ok(items.map(|item| (item, at + within(text, item))).collect())
}

fn parsed<'t, T: Deserialize<'t>>(text: &'t str, at: usize) -> Result<T, NotAnObject> {
    serde_json::from_str(text).map_err(|error| {
        let message = error.to_string();
        let place = message.rfind(" at line ").unwrap_or(message.len());
        NotAnObject {
            at: at + error.column().saturating_sub(1),
            why: message.get(..place).unwrap_or_default().to_owned(),
        }
    })
}

/// How many bytes into a text a part of it begins.
fn within(text: &str, part: &str) -> usize {
    part.as_ptr().addr().saturating_sub(text.as_ptr().addr())
}

/// The pairs of an object in their order, keys that occur twice included.
struct Pairs<'t>(Vec<(String, &'t RawValue)>);

impl<'de> Deserialize<'de> for Pairs<'de> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Reads;
        impl<'de> Visitor<'de> for Reads {
            type Value = Pairs<'de>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("an object")
            }
            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
                let mut pairs = Vec::new();
                while let Some(pair) = map.next_entry()? {
                    pairs.push(pair);
                    if pairs.len() > MOST {
                        return Err(A::Error::custom("more than 64 keys"));
                    }
                }
                Ok(Pairs(pairs))
            }
        }
        deserializer.deserialize_map(Reads)
    }
}

/// More keys or items than any event has.
const MOST: usize = 64;

struct Items<'t>(Vec<&'t RawValue>);

impl<'de> Deserialize<'de> for Items<'de> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Reads;
        impl<'de> Visitor<'de> for Reads {
            type Value = Items<'de>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a list")
            }
            fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Self::Value, A::Error> {
                let mut items = Vec::new();
                while let Some(item) = seq.next_element()? {
                    items.push(item);
                    if items.len() > MOST {
                        return Err(A::Error::custom("more than 64 items"));
                    }
                }
                Ok(Items(items))
            }
        }
        deserializer.deserialize_seq(Reads)
    }
}

#[cfg(test)]
mod tests {
    use super::{list, object};

    #[test]
    fn every_value_has_its_place_and_a_key_may_occur_twice() {
        let text = r#"{"a": "x", "b":[ {"c":1}, 2 ],"a":null}"#;
        let fields = object(text, 100).expect("an object");
        let found: Vec<_> = fields
            .iter()
            .map(|it| (it.key.as_str(), it.text, it.at))
            .collect();
        assert_eq!(
            found,
            [
                ("a", "\"x\"", 106),
                ("b", "[ {\"c\":1}, 2 ]", 115),
                ("a", "null", 134)
            ]
        );
        let items = list("[ {\"c\":1}, 2 ]", 15).expect("a list");
        assert_eq!(items, [("{\"c\":1}", 17), ("2", 26)]);
    }

    #[test]
    fn what_is_no_object_says_where() {
        for (text, at) in [
            ("", 0),
            ("{\"a\":}", 5),
            ("[1]", 0),
            ("{\"a\":1} x", 8),
            ("{\"a\":1", 5),
        ] {
            let error = object(text, 0).expect_err(text);
            assert!(error.at.abs_diff(at) <= 1, "{text}: {error:?}");
            assert!(!error.why.contains("line"), "{error:?}");
        }
        let deep = "[".repeat(100_000);
        assert!(object(&format!("{{\"a\":{deep}"), 0).is_err());
    }
}
