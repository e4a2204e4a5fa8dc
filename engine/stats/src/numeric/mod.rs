//! The numerical ground: roots, integrals and sums, on closures of `f64`.

pub mod quadrature;
pub mod root;
pub mod sum;
