//! How a function of this crate fails.

use std::fmt;

/// The result of a function of this crate.
pub type Result<T> = std::result::Result<T, Error>;

/// Why a figure could not be computed.
#[derive(Debug, Clone, PartialEq)]
pub enum Error {
    /// The caller asked outside the domain of the function.
    OutsideDomain {
        /// The argument, in words.
        what: &'static str,
        /// Its value; for a slice, the first value at fault.
        value: f64,
        /// What would have been allowed, in words.
        allowed: &'static str,
    },
    /// An iteration of ours did not settle.
    NoConvergence {
        /// The computation, in words.
        what: &'static str,
    },
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Error::OutsideDomain { what, value, allowed } => {
                write!(f, "{what} is {value}; it must be {allowed}")
            }
            Error::NoConvergence { what } => write!(f, "{what} did not converge"),
        }
    }
}

impl std::error::Error for Error {}
