//! End-to-end tests, a module a topic.
