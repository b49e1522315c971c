//! What can be planted: slips of typing and faults of machine and fixture. Each goes wrong until it is noticed, and then
//! it is put right.

use crate::shop::whole::Shop;

/// Something that can be made to go wrong.
#[derive(Debug, PartialEq, Eq)]
pub struct Plant {
    /// Its name on the command line.
    pub name: &'static str,
    /// What it is.
    pub says: &'static str,
}

const fn plant(name: &'static str, says: &'static str) -> Plant {
    Plant { name, says }
}

/// Everything that can be planted.
pub static PLANTS: [Plant; 12] = [
    plant("turned-end-for-end", "fault: the top faces the other way than the card says"),
    plant("chip-under-fixture", "fault: a chip of 0.1 mm under one edge of the fixture"),
    plant("fixture-half-round", "fault: the fixture sits turned half round"),
    plant("wrong-piece", "fault: a part 0.2 mm too small is in the ring"),
    plant("diameter-for-radius", "slip: the tip's diameter is typed for its radius"),
    plant("turns-the-other-way", "fault: the rotary turns the other way than the card says"),
    plant("register-in-use", "fault: the claimed register holds somebody else's zero"),
    plant("displayed-for-machine", "slip: the displayed A is typed for the machine A"),
    plant("common-shift-left-in", "fault: 5 mm are left in the shift common to all registers"),
    plant("length-compensation-off", "fault: length compensation is off"),
    plant("wrong-length-called", "fault: the program calls another tool's length"),
    plant("lift-left-in", "slip: the lift of the air pass is left in the register"),
];

impl Plant {
    /// Returns whether it is a slip of typing and not a fault of machine or fixture.
    pub fn is_slip(&self) -> bool {
        self.says.starts_with("slip")
    }

    /// Finds one by its name.
    pub fn named(name: &str) -> Option<&'static Self> {
        PLANTS.iter().find(|plant| plant.name == name)
    }
}

/// Something planted, and what became of it.
#[derive(Debug, Clone)]
pub(super) struct Planted {
    pub(super) plant: &'static Plant,
    /// What caught it: a doubt, or a gate by its id.
    pub(super) caught_by: Option<String>,
    /// Whether it has shown itself in a reading.
    pub(super) shown: bool,
}

impl Planted {
    pub(super) const fn new(plant: &'static Plant) -> Self {
        Self { plant, caught_by: None, shown: false }
    }
}

impl Shop {
    /// Returns whether something is still going wrong.
    pub(super) fn is_planted(&self, name: &str) -> bool {
        self.planted.iter().any(|planted| planted.plant.name == name && planted.caught_by.is_none())
    }

    /// Remembers what caught whatever was going wrong at this ask, and puts it right. Returns whether anything was.
    pub(super) fn caught(&mut self, by: &str) -> bool {
        let mut any = false;
        for planted in &mut self.planted {
            if planted.caught_by.is_none() && planted.shown {
                planted.caught_by = Some(by.to_owned());
                any = true;
            }
        }
        any
    }
}
