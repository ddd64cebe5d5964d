//! Levels as a plan's file has them.

use toml_edit::Value;

use crate::teaching::Levels;

/// Levels as a plan's file has them; all go without saying.
pub(super) fn levels_value(levels: Levels) -> Option<Value> {
    let (least, most) = (levels.least.0, levels.most.0);
    match (levels == Levels::ALL, least == most) {
        (true, _) => None,
        (false, true) => Some(Value::from(i64::from(least))),
        (false, false) => Some(Value::from(format!("{least}-{most}"))),
    }
}
