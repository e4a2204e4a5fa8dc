//! The command line of Fullshift.
