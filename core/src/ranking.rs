//! Short lists of fixed size, kept in order.

use heapless::Vec;

/// Puts an entry into an ordered list, behind those that are as good; where the list is full its last one gives way, or the
/// entry itself.
///
/// * `worse` — whether the first comes behind the second
pub(crate) fn rank<T, const N: usize>(list: &mut Vec<T, N>, entry: T, worse: impl Fn(&T, &T) -> bool) {
    if list.is_full() && list.last().is_some_and(|last| worse(last, &entry)) {
        list.pop();
    }
    if list.push(entry).is_err() {
        return;
    }
    for place in (1..list.len()).rev() {
        match list.get_mut(place - 1..) {
            Some([before, last, ..]) if worse(before, last) => core::mem::swap(before, last),
            _ => break,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_best_stay_in_the_order_in_which_they_came() {
        let mut list: Vec<(u8, char), 3> = Vec::new();
        for entry in [(5, 'a'), (3, 'b'), (5, 'c'), (3, 'd'), (9, 'e'), (5, 'f'), (1, 'g')] {
            rank(&mut list, entry, |a, b| a.0 > b.0);
        }
        assert_eq!(list, [(1, 'g'), (3, 'b'), (3, 'd')]);
    }
}
