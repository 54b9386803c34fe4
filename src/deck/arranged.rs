//! Planes through sets of conditions, each a linear equation: where a sum of parts that are linear between such conditions is
//! least, one of these planes is.

/// Most unknowns of a plane and of one figure beside it.
pub(super) const MOST: usize = 4;

/// A condition: the factors of the unknowns, and what they add up to.
#[derive(Clone, Copy, Debug)]
pub(super) struct Condition {
    pub(super) factors: [f64; MOST],
    pub(super) sum: f64,
}

/// Every solution of so many conditions at once that has one.
pub(super) fn solutions(
    conditions: &[Condition],
    unknowns: usize,
    mut each: impl FnMut([f64; MOST]),
) {
    let mut chosen: Vec<usize> = (0..unknowns).collect();
    if unknowns == 0 || unknowns > conditions.len() {
        return;
    }
    loop {
        let of: Vec<Condition> = chosen
            .iter()
            .filter_map(|at| conditions.get(*at).copied())
            .collect();
        if let Some(solution) = solved(&of) {
            each(solution);
        }
        // The next choice in order.
        let last = conditions.len() - unknowns;
        let mut places = chosen.iter().enumerate().rev();
        let Some((place, at)) = places
            .find(|(place, at)| **at < last + place)
            .map(|(place, at)| (place, *at))
        else {
            return;
        };
        for (more, it) in chosen.iter_mut().skip(place).enumerate() {
            *it = at + 1 + more;
        }
    }
}

/// Solves as many conditions as unknowns, by elimination with the largest factor first; `None` where they do not say enough.
fn solved(conditions: &[Condition]) -> Option<[f64; MOST]> {
    let count = conditions.len();
    let mut rows: Vec<Condition> = conditions.to_vec();
    for column in 0..count {
        let factor = |row: &Condition| row.factors.get(column).copied().unwrap_or_default();
        let (pivot, _) = rows
            .iter()
            .enumerate()
            .skip(column)
            .max_by(|one, other| factor(one.1).abs().total_cmp(&factor(other.1).abs()))?;
        rows.swap(column, pivot);
        let head = *rows.get(column)?;
        if factor(&head).abs() < 1e-9 {
            return None;
        }
        for (at, row) in rows.iter_mut().enumerate() {
            if at == column {
                continue;
            }
            let times = factor(row) / factor(&head);
            for (own, from) in row.factors.iter_mut().zip(&head.factors) {
                *own -= times * from;
            }
            row.sum -= times * head.sum;
        }
    }
    let mut solution = [0.0; MOST];
    for (column, (value, row)) in solution.iter_mut().zip(&rows).enumerate() {
        *value = row.sum / row.factors.get(column)?;
    }
    Some(solution)
}
