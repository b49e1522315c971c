//! Practising a whole setup on the simulated shop.

use std::io::{self, BufReader};

use crate::cli::arguments::Rehearse;
use crate::cli::environment::Surroundings;
use crate::cli::failure::Failure;
use crate::cli::sessions::practice;
use crate::cli::{cards, complain, print};
use crate::plain;
use crate::session::{Session, is_initials};
use crate::shop::{PLANTS, Plant, Shop, rehearsal_card};

/// Initials of a rehearsal when nobody gives others.
const NOBODY: &str = "REH";

/// Carries out `setwright rehearse`.
pub(super) fn rehearse(options: &Rehearse, here: &Surroundings) -> Result<u8, Failure> {
    if options.plants {
        let rows: String = PLANTS.iter().map(|plant| format!("{:<24} {}\n", plant.name, plant.says)).collect();
        return print(&rows).map(|()| 0);
    }
    let plants = options.plant.iter().map(|name| wanted(name, options.auto)).collect::<Result<Vec<_>, _>>()?;
    let by = options.by.as_deref().unwrap_or(NOBODY);
    if !is_initials(by) {
        return Err(Failure::usage(format!("--by {by}: initials are one to twelve letters, digits, dots or dashes.")));
    }
    let card = match &options.card {
        Some(name) => cards::find(name)?,
        None => practice()?,
    };
    let card = rehearsal_card(&card).map_err(|why| Failure::bad_data(format!("No rehearsal of this card: {why}")))?;
    let house = here.house()?.for_rehearsals();
    let mut shop = Shop::open(&card, options.seed, &plants);
    let mut session = Session::start(house.surroundings(), &house.sessions, card, by)?;
    let (stdin, mut stdout) = (io::stdin(), io::stdout());
    plain::rehearse(&mut session, &mut shop, options.auto, &mut BufReader::new(stdin.lock()), &mut stdout)?;
    complain(&format!("The log of this rehearsal: {}", session.log().path().display()));
    Ok(0)
}

fn wanted(name: &str, alone: bool) -> Result<&'static Plant, Failure> {
    let plant = Plant::named(name)
        .ok_or_else(|| Failure::usage(format!("`{name}` cannot be planted. What can: setwright rehearse --plants")))?;
    if plant.is_slip() && !alone {
        return Err(Failure::usage(format!(
            "`{name}` is a slip of typing: yours to make. It is planted with --auto only."
        )));
    }
    Ok(plant)
}
