//! Which words may come, and in what order.

/// Roles are numbered from 1 to this; 0 is the edge of an utterance.
pub const MOST_ROLES: usize = 31;
/// Most words that are listened for at once.
pub const MOST: usize = 48;

/// Words to listen for at one place, with a simple order: each word has a role, and a role says what may come behind it.
#[derive(Clone, Debug, PartialEq)]
pub struct Vocabulary {
    /// Labels; those that nobody taught are not heard.
    pub labels: Vec<String>,
    /// The role of each label.
    pub roles: Vec<u8>,
    /// For each role, from the edge (0) on, a bit for each role that may follow it; bit 0 is the end.
    pub follows: Vec<u32>,
}

impl Vocabulary {
    /// Any of the words after any other.
    pub fn any(labels: &[&str]) -> Self {
        Self::new(labels.iter().map(|&label| label.to_owned()).collect(), Vec::new(), Vec::new())
    }

    /// Words with their order; without roles any may follow any. What is too much or out of range is left out.
    pub fn new(mut labels: Vec<String>, mut roles: Vec<u8>, mut follows: Vec<u32>) -> Self {
        labels.truncate(MOST);
        if roles.is_empty() {
            roles = vec![1; labels.len()];
            follows = vec![0b10, 0b11];
        }
        labels.truncate(roles.len());
        roles.truncate(labels.len());
        for role in &mut roles {
            *role = (*role).clamp(1, MOST_ROLES as u8);
        }
        follows.resize(MOST_ROLES + 1, 0);
        Self { labels, roles, follows }
    }

    /// Whether a word of role `next` (0: the end) may follow one of role `before` (0: the beginning).
    pub fn may_follow(&self, before: usize, next: usize) -> bool {
        self.follows.get(before).is_some_and(|bits| bits >> next & 1 == 1)
    }
}
