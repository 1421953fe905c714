//! Growth of semiconductor nanowires in flight: what a line of tube furnaces will grow.
//!
//! Material flows one way, and so do the modules: a job is checked into a line, the line is marched into a harvest, the harvest
//! is judged into a report. No module reaches back.
//!
//! ```text
//! Job ──check──▶ Line ──march──▶ Harvest ──judge──▶ Report
//!                (SI, nothing optional left)        (trade units)
//! ```
//!
//! | in the order of the way | what it answers |
//! | --- | --- |
//! | [`job`], [`fault`], [`check`] | the job file as it is written, what is wrong with it, the line that it describes |
//! | [`kinetics`], [`material`], [`gas`], [`feed`], [`seed`] | data with their sources, and the formulas on them |
//! | [`line`](mod@line) | everything that is marched, in SI and in range |
//! | [`furnace`], [`properties`] | wall temperature along a tube; what depends on T alone, made once a job |
//! | [`section`] | the kernel: one implicit step of one field across the rings of a tube |
//! | [`flow`], [`drift`], [`wall`], [`wire`] | rings and velocity; the way of the seeds; what a wall takes; how a wire grows |
//! | [`stage`], [`march`] | a stage station by station; stages in series, on one grid |
//! | [`harvest`], [`statistics`], [`judge`], [`predict`] | what leaves, means and spreads of it, two grids made one report, all in one call |
//! | [`report`], [`verdict`], [`caution`], [`explain`] | the report, whether the order is met, hazards, where a figure comes from |
//! | [`levers`] | what moves the wires, how sure they are, what brings an order back |
//! | [`units`], [`number`], [`text`] | borders between SI and the trade; numbers and texts as they are read |
//!
//! A prediction is `check(&job)?`, then [`predict::Predictor::predict`]. The model is described in `MODEL.md`, the formats in
//! `JOB-FILE.md` and `REPORT.md`, beside this crate's manifest.
//!
//! # Promises
//! * No allocation, no `unsafe`, no panic, no endless loop: sizes are consts, loops are bounded, errors are values. That no path
//!   ends in a panic is proven by a program that links only if that is so (`tests/panicless`).
//! * Same bits everywhere: only + − × ÷, `sqrt` and the chosen functions of `libm`, in a fixed order, without fused multiply-add or
//!   threads. NaN may come out of inner functions for what a line never holds; its sign and payload are not promised.
//!
//! # Not here
//! Reading text (`demo/read`), showing anything (`demo/line`, the page), clocks, files, threads.

#![no_std]
#![forbid(unsafe_code)]
#![deny(missing_docs)]
#![deny(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::todo,
    clippy::float_cmp,
    clippy::disallowed_methods,
    clippy::too_many_lines,
    clippy::too_many_arguments
)]
#![warn(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::missing_panics_doc,
    clippy::must_use_candidate,
    clippy::needless_pass_by_value
)]
// Kernels walk arrays of const length in loops bounded by the same const, several arrays at one index; that no index fails is
// proven by the linker (`tests/panicless`).
#![allow(clippy::indexing_slicing, clippy::needless_range_loop)]
// A number in brackets is a source, no link.
#![allow(rustdoc::broken_intra_doc_links)]
// Tests ask for the very number.
#![cfg_attr(test, allow(clippy::float_cmp))]

#[cfg(feature = "std")]
extern crate std;

pub mod caution;
pub mod check;
pub mod drift;
pub mod explain;
pub mod fault;
pub mod feed;
pub mod flow;
pub mod furnace;
pub mod gas;
pub mod harvest;
pub mod job;
pub mod judge;
pub mod kinetics;
pub mod levers;
pub mod line;
pub mod march;
pub mod material;
pub mod number;
pub mod predict;
pub mod properties;
mod ranking;
pub mod report;
pub mod root;
pub mod section;
pub mod seed;
pub mod stage;
pub mod statistics;
pub mod text;
pub mod units;
pub mod verdict;
pub mod wall;
pub mod wire;
