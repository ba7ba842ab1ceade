//! Which of several opinions, the table's among them, agree with each other.

use super::Opinion;
use crate::model::facts::airflow_read::OpinionKind;

/// The table, or another opinion.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Voice {
    /// The table with the static that was read.
    Table,
    /// An opinion besides.
    Opinion(OpinionKind),
}

/// Three voices or more.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Together {
    /// The most of them that all agree with each other; none where no two do, or as many do in another way.
    pub agreeing: Vec<Voice>,
    /// The others.
    pub apart: Vec<Voice>,
}

/// What the table and the opinions say together; nothing where they are fewer than three.
pub fn together(opinions: &[Opinion]) -> Option<Together> {
    if opinions.len() < 2 {
        return None;
    }
    let voices: Vec<Voice> =
        std::iter::once(Voice::Table).chain(opinions.iter().map(|opinion| Voice::Opinion(opinion.kind))).collect();
    let agree = |one: usize, other: usize| match (one.checked_sub(1), other.checked_sub(1)) {
        (Some(one), Some(other)) => opinions[one].agrees_with(&opinions[other]),
        (Some(only), None) | (None, Some(only)) => opinions[only].agrees,
        (None, None) => true,
    };
    // At most six voices: every set of them is looked at.
    let sets = (1_u32..1 << voices.len()).map(|set| (0..voices.len()).filter(|index| set >> index & 1 == 1).collect());
    let all_agree = |set: &Vec<usize>| set.iter().all(|one| set.iter().all(|other| agree(*one, *other)));
    let agreeing: Vec<Vec<usize>> = sets.filter(all_agree).collect();
    let most = agreeing.iter().map(Vec::len).max().unwrap_or_default();
    let mut largest = agreeing.into_iter().filter(|set| set.len() == most);
    let first = largest.next().filter(|_| most > 1 && largest.next().is_none()).unwrap_or_default();
    let (agreeing, apart) = (0..voices.len()).partition::<Vec<usize>, _>(|index| first.contains(index));
    let named = |set: Vec<usize>| set.into_iter().map(|index| voices[index]).collect();
    Some(Together { agreeing: named(agreeing), apart: named(apart) })
}
