//! Labels beside each other without overlapping.

/// Places for labels that would stand at `wanted`, each at least `apart` from the next, within `low` and `high` where
/// there is room; in the order given.
pub(super) fn spread(wanted: &[f64], apart: f64, low: f64, high: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by(|&a, &b| wanted[a].total_cmp(&wanted[b]));
    let mut placed: Vec<f64> = Vec::with_capacity(order.len());
    for &label in &order {
        let least = placed.last().map_or(low, |last| last + apart);
        placed.push(wanted[label].max(least));
    }
    let mut most = high;
    for place in placed.iter_mut().rev() {
        *place = place.min(most);
        most = *place - apart;
    }
    let mut places = vec![0.0; wanted.len()];
    order.iter().zip(placed).for_each(|(&label, place)| places[label] = place);
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_that_are_apart_stay_and_others_move() {
        assert_eq!(spread(&[10.0, 50.0], 12.0, 0.0, 100.0), [10.0, 50.0]);
        assert_eq!(spread(&[50.0, 50.0, 10.0], 12.0, 0.0, 100.0), [50.0, 62.0, 10.0]);
        assert_eq!(spread(&[99.0, 98.0], 12.0, 0.0, 100.0), [100.0, 88.0]);
    }
}
