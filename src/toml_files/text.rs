//! The text of a file that somebody wrote.

use super::Problem;

/// The text of a file; `is_not` says what an empty one is not, such as `no query`.
///
/// # Errors
///
/// If it can't be read, is not in UTF-8, or is empty.
pub fn read_text(path: &str, is_not: &str) -> Result<String, Problem> {
    let problem = |message: String| Problem::new(0..0, message);
    let bytes =
        std::fs::read(path).map_err(|error| problem(format!("can't read `{path}`: {error}")))?;
    let text = String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to() + 1;
        let message = format!("`{path}` is not text in UTF-8: byte {at} is wrong");
        problem(message).with_hint("save it as UTF-8")
    })?;
    match text.trim().is_empty() {
        true => Err(problem(format!("`{path}` is empty, and {is_not}"))),
        false => Ok(text),
    }
}
