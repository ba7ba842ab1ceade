//! How sure each airflow is, and each difference of two.

mod by_hand;
mod coverage;
