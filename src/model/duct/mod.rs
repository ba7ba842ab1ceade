//! Ducts.
