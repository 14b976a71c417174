//! Work side by side on as many threads as the machine has cores; the order of the answers never depends on the clock.

use rayon::prelude::*;

/// The answer for every item, in the order of the items. A panic in `work` is passed on.
pub fn map<T: Sync, R: Send>(items: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    // One item at a time: items are few and of unlike cost, so a thread that is free takes the next.
    items.par_iter().with_max_len(1).map(&work).collect()
}

/// Two things side by side.
pub fn both<A: Send, B: Send>(a: impl FnOnce() -> A + Send, b: impl FnOnce() -> B + Send) -> (A, B) {
    rayon::join(a, b)
}

/// The answers for the first items, as few as are `enough`, else for all; in their order, as [`map`] does. As many are begun
/// at once as there are threads; what was begun beyond the last that counts is dropped.
pub fn until<T: Sync, R: Send>(items: &[T], work: impl Fn(&T) -> R + Sync, enough: impl Fn(&[R]) -> bool) -> Vec<R> {
    let mut answers = Vec::new();
    for block in items.chunks(rayon::current_num_threads()) {
        for answer in map(block, &work) {
            answers.push(answer);
            if enough(&answers) {
                return answers;
            }
        }
    }
    answers
}

#[cfg(test)]
mod tests {
    use super::*;

    const THREADS: [usize; 3] = [1, 2, 7];

    fn with_threads<R: Send>(threads: usize, work: impl FnOnce() -> R + Send) -> R {
        rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap().install(work)
    }

    fn slow(i: &u64) -> u64 {
        std::thread::sleep(std::time::Duration::from_micros((100 - i) % 7));
        *i
    }

    #[test]
    fn answers_keep_the_order_of_the_items() {
        let items: Vec<u64> = (0..100).collect();
        for threads in THREADS {
            assert_eq!(with_threads(threads, || map(&items, slow)), items);
        }
        assert!(map(&[] as &[u64], slow).is_empty());
    }

    #[test]
    fn no_more_answers_than_are_enough() {
        let items: Vec<u64> = (0..100).collect();
        for threads in THREADS {
            let sum = |found: &[u64]| found.iter().sum::<u64>() >= 10;
            assert_eq!(with_threads(threads, || until(&items, slow, sum)), [0, 1, 2, 3, 4]);
            assert_eq!(with_threads(threads, || until(&items, slow, |found| found.len() > 200)).len(), 100);
        }
    }
}
