//! Brackets that were made, by what they are made of.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

use super::Detail;
use super::bracket_shape::{BadShape, BracketShape};
use super::joint::Bracket;
use crate::fem::Orders;

/// Most brackets kept of each [`Detail`]: a table has up to four unlike ones.
const KEPT: usize = 6;

/// Brackets ready for questions. One that is asked for again is not made again; what it answers never depends on that.
#[derive(Default)]
pub struct Cache {
    kept: Mutex<VecDeque<Kept>>,
    /// Orders in which frames are eliminated: those of one top divided alike have the same.
    pub(super) orders: Arc<Orders>,
}

struct Kept {
    shape: BracketShape,
    detail: Detail,
    bracket: Arc<Bracket>,
}

impl Cache {
    /// The bracket of a shape.
    ///
    /// # Errors
    /// As [`Bracket::new`].
    pub(super) fn bracket(&self, shape: &BracketShape, detail: Detail) -> Result<Arc<Bracket>, BadShape> {
        if let Some(found) = self.found(shape, detail) {
            return Ok(found);
        }
        // Made outside the lock, so that no thread waits for one that has work for it.
        let bracket = Arc::new(Bracket::detailed(shape, detail)?);
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        // Another thread may have made it meanwhile: what that one works out serves both.
        if let Some(made) = kept.iter().find(|k| k.detail == detail && k.shape == *shape) {
            return Ok(Arc::clone(&made.bracket));
        }
        kept.push_back(Kept { shape: shape.clone(), detail, bracket: Arc::clone(&bracket) });
        if kept.iter().filter(|k| k.detail == detail).count() > KEPT
            && let Some(oldest) = kept.iter().position(|k| k.detail == detail)
        {
            kept.remove(oldest);
        }
        drop(kept);
        Ok(bracket)
    }

    /// Moves what it finds behind all others, so that what is used stays.
    fn found(&self, shape: &BracketShape, detail: Detail) -> Option<Arc<Bracket>> {
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        let at = kept.iter().position(|k| k.detail == detail && k.shape == *shape)?;
        let found = kept.remove(at)?;
        let bracket = Arc::clone(&found.bracket);
        kept.push_back(found);
        Some(bracket)
    }
}
