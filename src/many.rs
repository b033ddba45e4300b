//! The same work for each of many items: results in the order of the items, on one thread or,
//! with the feature `parallel`, on several.
//!
//! ```text
//!  calling thread   takes an item, works, takes the next …    and calls the callback
//!  other threads    the same; at each step they ask whether the callback has cancelled
//! ```
//!
//! Which thread works on an item depends on chance; what it answers does not, as items share
//! nothing. So the results are the same for any number of threads. The callback is only
//! ever called on the calling thread: it need not be `Send`.

use crate::progress::{Progress, Step};

/// Applies `work` to every item. The callback sees `phase` with the number of items done.
///
/// After a cancellation `work` is still called for the remaining items and told so at its first step:
/// it answers with what stands for an item that was not done. With the feature `parallel` as many
/// threads work as the current pool of `rayon` has; `work` must not use that pool itself.
pub(crate) fn each<T: Sync, R: Send>(
    items: &[T],
    phase: &'static str,
    progress: &mut Progress<'_>,
    work: impl Fn(&T, &mut Progress<'_>) -> R + Sync,
) -> Vec<R> {
    #[cfg(feature = "parallel")]
    {
        let threads = rayon::current_num_threads().min(items.len());
        if threads > 1 {
            return several::each(items, threads, phase, progress, work);
        }
    }
    let of = items.len() as u64;
    let mut results = Vec::with_capacity(items.len());
    for (done, item) in items.iter().enumerate() {
        let mut step = |_: Step| progress.step(phase, done as u64, of);
        results.push(work(item, &mut Progress::every(&mut step)));
    }
    if of > 0 {
        progress.step(phase, of, of);
    }
    results
}

#[cfg(feature = "parallel")]
mod several {
    use crate::progress::{Go, Progress, Step};
    use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
    use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};

    /// What the threads share.
    struct Shared<R> {
        /// The next item that nobody has taken.
        next: AtomicUsize,
        cancelled: AtomicBool,
        results: Mutex<Results<R>>,
        /// A step was made, or an item finished.
        news: Condvar,
    }

    struct Results<R> {
        all: Vec<Option<R>>,
        finished: usize,
    }

    /// Counts an item as finished, also where the work on it panics: nobody waits for it then.
    struct Taken<'s, R> {
        shared: &'s Shared<R>,
        at: usize,
        result: Option<R>,
    }

    impl<R> Drop for Taken<'_, R> {
        fn drop(&mut self) {
            let mut results = self.shared.lock();
            results.all[self.at] = self.result.take();
            results.finished += 1;
            self.shared.news.notify_one();
        }
    }

    impl<R> Shared<R> {
        fn lock(&self) -> MutexGuard<'_, Results<R>> {
            // Nothing that is done under the lock can leave it half done.
            self.results.lock().unwrap_or_else(PoisonError::into_inner)
        }

        /// Works on items until none is left; `ask` says whether to go on.
        fn run<T>(
            &self,
            items: &[T],
            work: &impl Fn(&T, &mut Progress<'_>) -> R,
            ask: &mut dyn FnMut(&Self) -> Go,
        ) {
            loop {
                let at = self.next.fetch_add(1, Ordering::Relaxed);
                let Some(item) = items.get(at) else { break };
                let mut taken = Taken {
                    shared: self,
                    at,
                    result: None,
                };
                let mut step = |_: Step| ask(self);
                taken.result = Some(work(item, &mut Progress::every(&mut step)));
            }
        }

        /// On another thread than the caller's.
        fn help<T>(&self, items: &[T], work: &impl Fn(&T, &mut Progress<'_>) -> R) {
            self.run(items, work, &mut |shared| {
                shared.news.notify_one();
                if shared.cancelled.load(Ordering::Relaxed) {
                    Go::Cancel
                } else {
                    Go::On
                }
            });
        }

        /// Calls the callback, and passes on what it says.
        fn tell(&self, phase: &'static str, progress: &mut Progress<'_>, of: usize) -> Go {
            let finished = self.lock().finished;
            let go = progress.step(phase, finished as u64, of as u64);
            if go == Go::Cancel {
                self.cancelled.store(true, Ordering::Relaxed);
            }
            go
        }
    }

    pub(super) fn each<T: Sync, R: Send>(
        items: &[T],
        threads: usize,
        phase: &'static str,
        progress: &mut Progress<'_>,
        work: impl Fn(&T, &mut Progress<'_>) -> R + Sync,
    ) -> Vec<R> {
        let of = items.len();
        let shared = Shared {
            next: AtomicUsize::new(0),
            cancelled: AtomicBool::new(false),
            results: Mutex::new(Results {
                all: (0..of).map(|_| None).collect(),
                finished: 0,
            }),
            news: Condvar::new(),
        };
        rayon::in_place_scope(|scope| {
            for _ in 1..threads {
                scope.spawn(|_| shared.help(items, &work));
            }
            shared.run(items, &work, &mut |shared| shared.tell(phase, progress, of));
            // Every item is taken: those not finished are being worked on by running threads.
            let mut results = shared.lock();
            while results.finished < of {
                results = shared
                    .news
                    .wait(results)
                    .unwrap_or_else(PoisonError::into_inner);
                drop(results);
                shared.tell(phase, progress, of);
                results = shared.lock();
            }
        });
        progress.step(phase, of as u64, of as u64);
        let results = shared
            .results
            .into_inner()
            .unwrap_or_else(PoisonError::into_inner);
        // A panic of `work` has been passed on by the scope: every item has its result.
        results.all.into_iter().flatten().collect()
    }
}

#[cfg(test)]
mod tests {
    use super::each;
    use crate::progress::{Go, Progress, Step};

    fn squares(count: u64, progress: &mut Progress<'_>) -> Vec<Option<u64>> {
        let items: Vec<u64> = (0..count).collect();
        each(&items, "squares", progress, |n, progress| {
            (progress.step("one", 0, 1) == Go::On).then_some(n * n)
        })
    }

    #[test]
    fn results_stand_in_the_order_of_the_items() {
        for count in [0, 1, 2, 7, 300] {
            let expected: Vec<_> = (0..count).map(|n| Some(n * n)).collect();
            assert_eq!(squares(count, &mut Progress::silent()), expected);
        }
    }

    #[test]
    fn the_callback_sees_one_phase_that_never_goes_back() {
        let mut seen: Vec<u64> = Vec::new();
        let mut callback = |step: Step| {
            assert_eq!((step.phase, step.of), ("squares", 40));
            seen.push(step.done);
            Go::On
        };
        squares(40, &mut Progress::new(&mut callback));
        assert!(seen.is_sorted() && seen.last() <= Some(&40), "{seen:?}");
    }

    #[test]
    fn a_cancelled_callback_stops_what_has_not_finished() {
        let mut callback = |step: Step| if step.done >= 5 { Go::Cancel } else { Go::On };
        let mut progress = Progress::new(&mut callback);
        let items: Vec<u64> = (0..200).collect();
        // The last item never finishes by itself, on whichever thread it is.
        let results = each(&items, "squares", &mut progress, |n, progress| {
            while progress.step("one", 0, 1) == Go::On {
                if *n < 199 {
                    return Some(n * n);
                }
            }
            None
        });
        assert!(progress.is_cancelled());
        assert_eq!(results.len(), 200);
        assert_eq!(results[199], None);
        assert!(results.iter().flatten().count() >= 5);
        for (n, result) in results.iter().enumerate() {
            assert!(result.is_none_or(|r| r == (n * n) as u64));
        }
    }

    #[cfg(feature = "parallel")]
    #[test]
    fn any_number_of_threads_gives_the_same() {
        let one = squares(500, &mut Progress::silent());
        for threads in [1, 2, 5] {
            let pool = rayon::ThreadPoolBuilder::new()
                .num_threads(threads)
                .build()
                .expect("a pool");
            let inside = pool.install(|| squares(500, &mut Progress::silent()));
            assert_eq!(inside, one);
        }
    }
}
