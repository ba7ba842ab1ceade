//! What a person decided, read and typed, and what one value of it can be meant as; nothing that follows from it.

pub mod accuracy;
pub mod air;
pub mod air_path;
pub mod airflow_read;
pub mod blower;
pub mod caution;
pub mod change;
pub mod drop_data;
pub mod duct;
pub mod element_kind;
pub mod holdable;
pub mod job;
pub mod job_check;
pub mod job_number;
pub mod limits;
pub mod number;
pub mod numbers;
pub mod plain_text;
pub mod read_ports;
pub mod readings;
pub mod refusal;
pub mod severity;
pub mod standing;
pub mod table_check;
pub mod target;
pub mod told;
