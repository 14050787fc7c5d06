//! What others have published for the instances.

/// Densities others have reached on one instance, per cent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Published {
    /// The instance's name.
    pub instance: &'static str,
    /// The highest before 2025.
    pub before: f64,
    /// The average over runs of the best method since.
    pub average: Option<f64>,
    /// The highest of those runs.
    pub best: Option<f64>,
}

/// The highest before 2025 as quoted by, and the average and best of, Gardeyn, Vanden Berghe & Wauters, arXiv 2509.13329
/// (2025), tables 1 to 3. `dighe1` and `dighe2` are jigsaws.
const PUBLISHED: [Published; 11] = [
    since_2025("albano", 89.58, 89.47, 89.82),
    since_2025("dagli", 89.51, 89.26, 90.17),
    jigsaw("dighe1"),
    jigsaw("dighe2"),
    since_2025("fu", 92.41, 92.24, 92.41),
    since_2025("shapes0", 68.79, 68.60, 69.98),
    since_2025("shapes1", 76.73, 75.69, 76.73),
    since_2025("shapes2", 84.84, 84.68, 86.23),
    since_2025("shirts", 88.96, 89.66, 90.92),
    since_2025("swim", 75.94, 78.26, 79.83),
    since_2025("trousers", 91.06, 91.73, 92.62),
];

const fn since_2025(instance: &'static str, before: f64, average: f64, best: f64) -> Published {
    Published { instance, before, average: Some(average), best: Some(best) }
}

const fn jigsaw(instance: &'static str) -> Published {
    Published { instance, before: 100.0, average: None, best: None }
}

/// What is published for an instance.
pub fn published(instance: &str) -> Option<&'static Published> {
    PUBLISHED.iter().find(|published| published.instance == instance)
}

impl Published {
    /// The density that a median of ours is held against: the average where there is one.
    pub fn yardstick(&self) -> f64 {
        self.average.unwrap_or(self.before)
    }
}
