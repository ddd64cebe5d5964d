//! How forms name the entries of a plan.

use clap::ValueEnum as _;

use crate::desk::{ExerciseName, Nth, Spot};
use crate::plan::GameSource;
use crate::teaching::ExerciseKind;

/// What a form can name.
pub(super) trait FormName: Sized {
    /// What stands in a form.
    fn told(&self) -> String;
    /// What is meant by it.
    fn read(text: &str) -> Option<Self>;
}

impl FormName for String {
    fn told(&self) -> String {
        self.clone()
    }

    fn read(text: &str) -> Option<String> {
        Some(text.to_owned())
    }
}

impl FormName for GameSource {
    fn told(&self) -> String {
        match self {
            GameSource::Hit(id) => format!("hit:{id}"),
            GameSource::File(path, number) => format!("file:{number}:{}", path.display()),
        }
    }

    fn read(text: &str) -> Option<GameSource> {
        if let Some(id) = text.strip_prefix("hit:") {
            return Some(GameSource::Hit(id.to_owned()));
        }
        let (number, path) = text.strip_prefix("file:")?.split_once(':')?;
        Some(GameSource::File(path.into(), number.parse().ok()?))
    }
}

impl FormName for ExerciseName {
    fn told(&self) -> String {
        match self {
            ExerciseName::One(kind, id) => format!("one:{}:{id}", kind.word()),
            ExerciseName::Some(kind, count, levels) => {
                format!("some:{}:{count}:{}-{}", kind.word(), levels.least.0, levels.most.0)
            }
        }
    }

    fn read(text: &str) -> Option<ExerciseName> {
        let (form, rest) = text.split_once(':')?;
        let (kind, rest) = rest.split_once(':')?;
        let kind = ExerciseKind::from_str(kind, false).ok()?;
        if form == "one" {
            return Some(ExerciseName::One(kind, rest.to_owned()));
        }
        let (count, levels) = rest.split_once(':').filter(|_| form == "some")?;
        Some(ExerciseName::Some(kind, count.parse().ok()?, levels.parse().ok()?))
    }
}

/// An entry as a form names it: `0:hit:...`.
pub(super) fn nth_told<K: FormName>(one: &Nth<K>) -> String {
    format!("{}:{}", one.nth, one.name.told())
}

/// The entry that a form names.
pub(super) fn nth_read<K: FormName>(text: &str) -> Option<Nth<K>> {
    let (nth, name) = text.split_once(':')?;
    Some(Nth { name: K::read(name)?, nth: nth.parse().ok()? })
}

/// A place as a form names it: `first`, `last`, or the entry before it.
pub(super) fn spot_read<K: FormName>(text: &str) -> Option<Spot<K>> {
    match text {
        "first" => Some(Spot::First),
        "last" => Some(Spot::Last),
        after => nth_read(after).map(Spot::After),
    }
}

/// Names of a list, each with the number of those before it that are the same.
pub(super) fn numbered<K: PartialEq + Clone>(names: &[K]) -> Vec<Nth<K>> {
    let nth = |(index, name): (usize, &K)| {
        let nth = names[..index].iter().filter(|known| *known == name).count();
        Nth { name: name.clone(), nth }
    };
    names.iter().enumerate().map(nth).collect()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that can't go on has failed")]
mod tests {
    use super::*;

    #[test]
    fn entries_are_known_again() {
        let games = [GameSource::Hit("a:1:b".to_owned()), GameSource::File("x:y.pgn".into(), 3)];
        for one in numbered(&[games[0].clone(), games[1].clone(), games[0].clone()]) {
            assert_eq!(nth_read::<GameSource>(&nth_told(&one)), Some(one));
        }
        let some = ExerciseName::Some(ExerciseKind::Find, 4, "2-3".parse().unwrap());
        for name in [ExerciseName::One(ExerciseKind::Judge, "a:1:b".to_owned()), some] {
            assert_eq!(ExerciseName::read(&name.told()), Some(name));
        }
        assert_eq!(spot_read::<String>("first"), Some(Spot::First));
        assert_eq!(spot_read::<String>("nonsense"), None);
    }
}
