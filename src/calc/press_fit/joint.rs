//! The thick-ring joint of a pin in a hub (Lamé): what the diameters, moduli and Poisson ratios make of a pressure.

use crate::calc::{Given, Refused};

/// A pin pressed into a hub. The keys it reads are declared by both calculations of press-fit strength.
#[derive(Debug, Clone, Copy)]
pub(super) struct Joint {
    /// Common diameter of pin and bore in mm.
    pub fit_diameter: f64,
    hub_outside_diameter: f64,
    pin_inside_diameter: f64,
    hub_modulus: f64,
    pin_modulus: f64,
    /// Hoop stress at the bore of the hub for each unit of pressure.
    pub hoop_ratio: f64,
    /// Interference on diameter for each unit of pressure, in mm/MPa.
    pub interference_per_pressure: f64,
}

impl Joint {
    /// Reads the joint; refuses a hub that is not larger than the fit and a pin bore that is not smaller.
    pub(super) fn given(given: &Given) -> Result<Self, Refused> {
        let fit_diameter = given.number("fit_diameter")?;
        let hub_outside_diameter = given.number("hub_outside_diameter")?;
        let pin_inside_diameter = given.number("pin_inside_diameter")?;
        if hub_outside_diameter <= fit_diameter {
            let reason = "hub_outside_diameter must be greater than fit_diameter: there is no wall around the bore.";
            return Err(Refused::new("hub_outside_diameter", reason));
        }
        if pin_inside_diameter >= fit_diameter {
            let reason = "pin_inside_diameter must be less than fit_diameter: there is no wall left in the pin.";
            return Err(Refused::new("pin_inside_diameter", reason));
        }
        let (hub_modulus, pin_modulus) = (given.number("hub_modulus")?, given.number("pin_modulus")?);
        let hoop_ratio = stress_ratio(fit_diameter, hub_outside_diameter);
        let hub_give = (hoop_ratio + given.number("hub_poisson")?) / hub_modulus;
        let pin_ratio = stress_ratio(pin_inside_diameter, fit_diameter);
        let pin_give = (pin_ratio - given.number("pin_poisson")?) / pin_modulus;
        let interference_per_pressure = fit_diameter * (hub_give + pin_give);
        Ok(Self {
            fit_diameter,
            hub_outside_diameter,
            pin_inside_diameter,
            hub_modulus,
            pin_modulus,
            hoop_ratio,
            interference_per_pressure,
        })
    }

    /// Returns the equivalent stress after von Mises at the bore of the hub for each unit of pressure: hoop stress in
    /// tension, radial stress in compression.
    pub(super) fn von_mises_ratio(&self) -> f64 {
        (self.hoop_ratio * self.hoop_ratio + self.hoop_ratio + 1.0).sqrt()
    }

    /// Returns how much the outside diameter of the hub grows under a pressure in `MPa`, in mm.
    pub(super) fn hub_growth(&self, pressure: f64) -> f64 {
        let (inside, outside) = (self.fit_diameter, self.hub_outside_diameter);
        2.0 * (pressure / self.hub_modulus) * outside * (inside / outside).powi(2) / wall(inside, outside)
    }

    /// Returns how much the bore of the pin closes under a pressure in `MPa`, in mm on diameter; 0 for a solid pin.
    pub(super) fn pin_bore_closing(&self, pressure: f64) -> f64 {
        let (inside, outside) = (self.pin_inside_diameter, self.fit_diameter);
        2.0 * (pressure / self.pin_modulus) * inside / wall(inside, outside)
    }
}

/// Returns (outside² + inside²)/(outside² − inside²).
fn stress_ratio(inside: f64, outside: f64) -> f64 {
    (1.0 + (inside / outside).powi(2)) / wall(inside, outside)
}

/// Returns (outside² − inside²)/outside² without losing a thin wall to rounding.
fn wall(inside: f64, outside: f64) -> f64 {
    ((outside - inside) / outside) * (1.0 + inside / outside)
}
