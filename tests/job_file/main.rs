//! The job file: what is read, and what each hostile file is told.

mod smoke;
