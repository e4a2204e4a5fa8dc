//! How much work was done: evaluations of the costly kernels, counted in the tests of this crate alone.
//!
//! Every iteration here is guarded, so that a bad start, a lost Newton step or a grid too fine still ends at the right digits. It shows
//! in the work alone.

/// One evaluation of a kernel.
#[inline(always)]
pub(crate) fn one() {
    #[cfg(test)]
    tests::SPENT.with(|spent| spent.set(spent.get() + 1));
}

#[cfg(test)]
mod tests;
