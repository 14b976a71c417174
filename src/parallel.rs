//! Work side by side on as many threads as the machine has cores; the order of the answers never depends on the clock.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

/// Threads that the machine runs at once.
#[must_use]
pub fn cores() -> usize {
    std::thread::available_parallelism().map_or(1, usize::from)
}

/// The answer for every item, in the order of the items, on at most `cores` threads. A thread takes the next item as soon
/// as it is free. A panic in `work` is passed on.
pub fn map<T: Sync, R: Send>(items: &[T], cores: usize, work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    until(items, cores, work, |_| false)
}

/// The answers for the first items, as few as are `enough`, else for all; in their order, as [`map`] does. What was begun
/// beyond them by then is dropped.
pub fn until<T: Sync, R: Send>(
    items: &[T],
    cores: usize,
    work: impl Fn(&T) -> R + Sync,
    enough: impl Fn(&[R]) -> bool + Sync,
) -> Vec<R> {
    let queue = Mutex::new(Queue { next: 0, early: BTreeMap::new(), answers: Vec::new(), ended: false });
    let run = || {
        while let Some((i, item)) = take(&queue, items) {
            let answer = work(item);
            give(&queue, i, answer, &enough);
        }
    };
    std::thread::scope(|scope| {
        (1..cores.min(items.len())).for_each(|_| {
            scope.spawn(run);
        });
        run();
    });
    queue.into_inner().unwrap_or_else(PoisonError::into_inner).answers
}

struct Queue<R> {
    next: usize,
    /// Answers that wait for one before them.
    early: BTreeMap<usize, R>,
    answers: Vec<R>,
    ended: bool,
}

fn take<'a, T, R>(queue: &Mutex<Queue<R>>, items: &'a [T]) -> Option<(usize, &'a T)> {
    let mut queue = queue.lock().unwrap_or_else(PoisonError::into_inner);
    let item = items.get(queue.next).filter(|_| !queue.ended)?;
    queue.next += 1;
    Some((queue.next - 1, item))
}

fn give<R>(queue: &Mutex<Queue<R>>, i: usize, answer: R, enough: impl Fn(&[R]) -> bool) {
    let mut queue = queue.lock().unwrap_or_else(PoisonError::into_inner);
    queue.early.insert(i, answer);
    while !queue.ended {
        let place = queue.answers.len();
        let Some(answer) = queue.early.remove(&place) else { break };
        queue.answers.push(answer);
        queue.ended = enough(&queue.answers);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn answers_keep_the_order_of_the_items() {
        let items: Vec<u64> = (0..100).collect();
        for cores in [1, 2, 7, 200] {
            let got = map(&items, cores, |i| {
                std::thread::sleep(std::time::Duration::from_micros((100 - i) % 7));
                i * i
            });
            assert_eq!(got, items.iter().map(|i| i * i).collect::<Vec<_>>());
        }
        assert!(map(&[] as &[u64], 2, |i| *i).is_empty());
    }

    #[test]
    fn no_more_answers_than_are_enough() {
        let items: Vec<u64> = (0..100).collect();
        for cores in [1, 2, 7] {
            let slow = |i: &u64| {
                std::thread::sleep(std::time::Duration::from_micros((100 - i) % 7));
                *i
            };
            assert_eq!(until(&items, cores, slow, |found| found.iter().sum::<u64>() >= 10), [0, 1, 2, 3, 4]);
            assert_eq!(until(&items, cores, slow, |found| found.len() > 200).len(), 100);
        }
    }
}
