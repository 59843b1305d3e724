//! Mean, standard deviation, median of a list of numbers.

/// Arithmetic mean; `None` of an empty list. The mean of the residuals is added, which takes back the rounding of the sum.
#[must_use]
pub fn mean(values: &[f64]) -> Option<f64> {
    let n = values.len() as f64;
    let first = values.iter().sum::<f64>() / n;
    (!values.is_empty()).then(|| first + values.iter().map(|value| value - first).sum::<f64>() / n)
}

/// Sum of the squared deviations from the mean, s²·(n − 1), in two passes: no digits are lost to a large common part.
#[must_use]
pub fn squared_deviations(values: &[f64]) -> f64 {
    let Some(mean) = mean(values) else { return 0.0 };
    values.iter().map(|value| (value - mean).powi(2)).sum()
}

/// Sample standard deviation s, with n − 1 (JCGM 100:2008, eq. 4); `None` of fewer than two values.
#[must_use]
pub fn standard_deviation(values: &[f64]) -> Option<f64> {
    (values.len() >= 2).then(|| (squared_deviations(values) / (values.len() - 1) as f64).sqrt())
}

/// The middle value, or the mean of the two middle ones; `None` of an empty list.
#[must_use]
pub fn median(values: &[f64]) -> Option<f64> {
    // A handful of values: each goes to its place (a general sort costs the shipped program kilobytes).
    let mut sorted = Vec::with_capacity(values.len());
    for value in values {
        sorted.insert(sorted.partition_point(|lower: &f64| lower.total_cmp(value).is_le()), *value);
    }
    let middle = sorted.len() / 2;
    let upper = *sorted.get(middle)?;
    Some(if sorted.len() % 2 == 1 { upper } else { sorted[middle - 1].midpoint(upper) })
}
