//! The job file: what is read, and what each hostile file is told.

mod bounded;
mod contradictions;
mod defaults;
mod demo;
mod edit;
mod format;
mod geometry;
mod messages;
mod mutated;
mod names;
mod numbers;
mod order;
mod products;
mod whole_file;
mod words;
