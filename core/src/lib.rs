//! Growth of semiconductor nanowires in flight.
#![no_std]
#![forbid(unsafe_code)]

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
pub mod kinetics;
pub mod levers;
pub mod line;
pub mod march;
pub mod material;
pub mod number;
pub mod properties;
mod ranking;
pub mod report;
pub mod section;
pub mod seed;
pub mod stage;
pub mod units;
pub mod verdict;
pub mod wall;
pub mod wire;
pub mod judge;
pub mod predict;
pub mod statistics;
pub mod text;
