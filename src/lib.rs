//! Walks one person through a fixture setup on a milling machine with a rotary axis: asks for each reading, computes
//! the next move with its uncertainty, catches the slip before it scraps a part, and keeps an auditable log.
//!
//! Rooms, lowest floor first; imports point down only:
//! `quantity`, `calc`, `scene`, `job`, `program`, `checklist`, `steps`, `session_log`, `session`, `sheet`, `shop`,
//! `plain` / `wire` / `workbook`, `cli`. DEVELOPERS.md has the map.

pub mod calc;
pub mod checklist;
pub mod cli;
pub mod job;
pub mod plain;
pub mod program;
pub mod quantity;
pub mod scene;
pub mod session;
pub mod session_log;
pub mod sheet;
pub mod shop;
pub mod steps;
pub mod wire;
pub mod workbook;
