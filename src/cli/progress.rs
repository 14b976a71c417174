//! A line on the terminal that says what is being done, once it takes a while.

use std::io::{IsTerminal, stderr};
use std::sync::mpsc::{RecvTimeoutError, Sender, channel};
use std::thread;
use std::time::Duration;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use underframe::Step;

/// What takes no longer goes unmentioned.
const PATIENCE: Duration = Duration::from_secs(1);
/// The line moves so often.
const TICK: Duration = Duration::from_millis(120);

/// A line that appears when the work takes over a second, on a terminal only.
pub struct Line {
    bar: ProgressBar,
    _done: Sender<()>,
}

impl Line {
    /// Begins to wait.
    pub fn new() -> Self {
        let hidden = ProgressDrawTarget::hidden();
        let bar = ProgressBar::with_draw_target(None, hidden).with_style(ProgressStyle::default_spinner());
        let (_done, ended) = channel();
        if stderr().is_terminal() {
            let later = bar.clone();
            thread::spawn(move || {
                if ended.recv_timeout(PATIENCE) == Err(RecvTimeoutError::Timeout) {
                    later.set_draw_target(ProgressDrawTarget::stderr());
                    later.enable_steady_tick(TICK);
                }
            });
        }
        Self { bar, _done }
    }

    /// Says what is being done.
    pub fn say(&self, step: Step) {
        self.bar.set_message(match step {
            Step::Analysing => "analysing brackets as solids".to_owned(),
            Step::Checking => "solving the frame, checking".to_owned(),
            Step::Advising => "looking for what would help".to_owned(),
            Step::Varying => "trying other loads and other tubes".to_owned(),
            Step::Printed(part) => format!("drawn and measured: {part}"),
            Step::Writing => "drawing papers".to_owned(),
        });
    }
}

impl Drop for Line {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}
