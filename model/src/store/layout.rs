//! How JSON is laid out so that two versions of a plan differ in few lines.
//!
//! The outermost object has one key a line, each list of things one thing a line. What would be longer than
//! a line is broken at its own commas, and so on inwards. Order is kept as given.

use serde_json::Value;

/// Lines are broken where they would be longer than this many characters.
const WIDTH: usize = 160;

/// The whole text, with a line end at its end.
pub(super) fn lay_out(value: &Value) -> String {
    let mut text = String::new();
    write_value(value, 0, &mut text);
    text.push('\n');
    text
}

fn write_value(value: &Value, depth: usize, text: &mut String) {
    let always_broken = match value {
        Value::Object(fields) => depth == 0 && !fields.is_empty(),
        Value::Array(items) => depth == 1 && !items.is_empty(),
        _ => false,
    };
    if !always_broken {
        let before = text.len();
        write_compact(value, text);
        let fits = text.len() - before + 2 * depth <= WIDTH;
        if fits || !(value.is_object() || value.is_array()) {
            return;
        }
        text.truncate(before);
    }
    match value {
        Value::Object(fields) => {
            write_broken(('{', '}'), fields.iter(), depth, text, |(key, field), text| {
                write_key(key, text);
                write_value(field, depth + 1, text);
            });
        }
        Value::Array(items) => {
            write_broken(('[', ']'), items.iter(), depth, text, |item, text| {
                write_value(item, depth + 1, text);
            });
        }
        _ => write_compact(value, text),
    }
}

fn write_broken<T>(
    (open, close): (char, char),
    items: impl ExactSizeIterator<Item = T>,
    depth: usize,
    text: &mut String,
    write_item: impl Fn(T, &mut String),
) {
    let count = items.len();
    text.push(open);
    for (index, item) in items.enumerate() {
        new_line(depth + 1, text);
        write_item(item, text);
        if index + 1 < count {
            text.push(',');
        }
    }
    new_line(depth, text);
    text.push(close);
}

fn write_compact(value: &Value, text: &mut String) {
    match value {
        Value::Object(fields) => {
            text.push('{');
            for (index, (key, field)) in fields.iter().enumerate() {
                text.push_str(if index > 0 { ", " } else { "" });
                write_key(key, text);
                write_compact(field, text);
            }
            text.push('}');
        }
        Value::Array(items) => {
            text.push('[');
            for (index, item) in items.iter().enumerate() {
                text.push_str(if index > 0 { ", " } else { "" });
                write_compact(item, text);
            }
            text.push(']');
        }
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {
            text.push_str(&value.to_string());
        }
    }
}

fn write_key(key: &str, text: &mut String) {
    text.push_str(&Value::from(key).to_string());
    text.push_str(": ");
}

fn new_line(depth: usize, text: &mut String) {
    text.push('\n');
    for _ in 0..depth {
        text.push_str("  ");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn things_stand_one_a_line_in_the_order_given() {
        let plan =
            json!({"z": 1, "walls": [{"id": 1, "at": [0, 0.5]}, {"id": 2, "at": [1, 2]}], "rules": []});
        assert_eq!(
            lay_out(&plan),
            "{\n  \"z\": 1,\n  \"walls\": [\n    {\"id\": 1, \"at\": [0, 0.5]},\n    {\"id\": 2, \"at\": [1, 2]}\n  \
             ],\n  \"rules\": []\n}\n"
        );
    }

    #[test]
    fn what_is_too_long_is_broken_at_its_commas() {
        let long = "x".repeat(120);
        let text = lay_out(&json!({"rules": [{"id": 1, "a": long, "b": long, "c": [1, 2]}]}));
        assert_eq!(text.lines().count(), 10);
        assert!(text.contains("\n      \"c\": [1, 2]\n"));
        assert_eq!(serde_json::from_str::<Value>(&text).unwrap()["rules"][0]["c"][1], 2);
    }
}
