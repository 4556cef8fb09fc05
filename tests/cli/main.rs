//! The program as its users meet it: standard output, standard error and exit code together.

mod accepting;
mod bad_input;
mod checking;
mod comparing;
mod listing;
mod measuring;
mod music;
mod other_pages;
mod outlines;
mod outputs;
mod parts;
mod printed_pages;
mod program;
mod proofing;
mod writing_breaks;
mod writing_parts;
