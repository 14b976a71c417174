//! Work side by side on as many threads as the machine has cores; the order of the answers never depends on the clock.

use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Threads that the machine runs at once.
#[must_use]
pub fn cores() -> usize {
    std::thread::available_parallelism().map_or(1, usize::from)
}

/// The answer for every item, in the order of the items, on at most `cores` threads. A thread takes the next item as soon
/// as it is free. A panic in `work` is passed on.
pub fn map<T: Sync, R: Send>(items: &[T], cores: usize, work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let next = AtomicUsize::new(0);
    let slots: Vec<Mutex<Option<R>>> = items.iter().map(|_| Mutex::new(None)).collect();
    let run = || {
        while let Some((item, slot)) = {
            let i = next.fetch_add(1, Ordering::Relaxed);
            items.get(i).zip(slots.get(i))
        } {
            let answer = work(item);
            if let Ok(mut slot) = slot.lock() {
                *slot = Some(answer);
            }
        }
    };
    std::thread::scope(|scope| {
        (1..cores.min(items.len())).for_each(|_| {
            scope.spawn(run);
        });
        run();
    });
    slots.into_iter().filter_map(|slot| slot.into_inner().ok().flatten()).collect()
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
}
