//! What can happen between two readings.

/// Something that happened and may have made earlier results void (job map, 1D).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Happening {
    /// The power failed.
    PowerCut,
    /// The emergency stop was pressed.
    EmergencyStop,
    /// The machine was homed again.
    ReHome,
    /// Something was bumped or crashed.
    Bump,
    /// The rotary was moved on the table.
    RotaryMoved,
    /// The fixture came off its jaws.
    FixtureOff,
    /// Another piece was put in.
    PieceChanged,
    /// The same piece was taken out and put in again.
    PieceReloaded,
    /// The part slipped in the ring.
    PartSlipped,
    /// A tool was changed or touched.
    ToolTouched,
    /// A drill broke in the hole.
    DrillBroken,
    /// Part or room changed by 3 K or more.
    TemperatureChanged,
    /// Another indicator was taken.
    IndicatorSwapped,
    /// A register was edited by hand.
    RegisterEdited,
    /// The program was edited.
    ProgramEdited,
    /// Somebody else took over.
    ShiftHandover,
    /// A long pause.
    LongPause,
}

impl Happening {
    /// Every happening, in the order of the wire's table.
    pub const ALL: [Self; 17] = [
        Self::PowerCut,
        Self::EmergencyStop,
        Self::ReHome,
        Self::Bump,
        Self::RotaryMoved,
        Self::FixtureOff,
        Self::PieceChanged,
        Self::PieceReloaded,
        Self::PartSlipped,
        Self::ToolTouched,
        Self::DrillBroken,
        Self::TemperatureChanged,
        Self::IndicatorSwapped,
        Self::RegisterEdited,
        Self::ProgramEdited,
        Self::ShiftHandover,
        Self::LongPause,
    ];

    /// Returns the permanent word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::PowerCut => "power-cut",
            Self::EmergencyStop => "emergency-stop",
            Self::ReHome => "re-home",
            Self::Bump => "bump",
            Self::RotaryMoved => "rotary-moved",
            Self::FixtureOff => "fixture-off",
            Self::PieceChanged => "piece-changed",
            Self::PieceReloaded => "piece-reloaded",
            Self::PartSlipped => "part-slipped",
            Self::ToolTouched => "tool-touched",
            Self::DrillBroken => "drill-broken",
            Self::TemperatureChanged => "temperature-changed",
            Self::IndicatorSwapped => "indicator-swapped",
            Self::RegisterEdited => "register-edited",
            Self::ProgramEdited => "program-edited",
            Self::ShiftHandover => "shift-handover",
            Self::LongPause => "long-pause",
        }
    }

    /// Finds a happening by its word.
    pub fn named(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|happening| happening.word() == word)
    }

    /// Says what is void and what a check touch can save, for a person (job map, 1D; shop-sense 18).
    pub const fn voids(self) -> &'static str {
        match self {
            Self::PowerCut | Self::EmergencyStop | Self::ReHome => {
                "Void: the captured A, the modes, the tool in the spindle, the brake. X, Y, Z stand if a check touch agrees."
            }
            Self::Bump => "Void: X Y Z A, the seat, the tool length and run-out.",
            Self::RotaryMoved => "Void: Y and Z of the centreline, the axis slope, A and the swing check.",
            Self::FixtureOff => "Void: X, the off-centre, A and the seat. Y and Z stand if a check touch agrees.",
            Self::PieceChanged => "Void: A and the ring gap.",
            Self::PieceReloaded | Self::PartSlipped => "Void: A, the ring gap and the clocking of this piece.",
            Self::ToolTouched => "Void: the tool length and the feed floor.",
            Self::DrillBroken => "The piece is set aside until it has been looked at; the tool length is void.",
            Self::TemperatureChanged | Self::LongPause => "A check touch is due on X and Y.",
            Self::IndicatorSwapped => "The gain check of the tram must be made again.",
            Self::RegisterEdited => "Void: the coordinate identity and the register read-back.",
            Self::ProgramEdited => "Void: the whole first run.",
            Self::ShiftHandover => "Every register, tool and mode is read back; a check touch is due on X and Y.",
        }
    }

    /// Says what still stands, for a person.
    pub const fn leaves(self) -> &'static str {
        match self {
            Self::PowerCut | Self::EmergencyStop | Self::ReHome => {
                "Still standing: fit, seat, swing and off-centre; X, Y and Z once their check touches agree."
            }
            Self::Bump => {
                "Still standing: brief, jaw and slot widths, centre height. Everything else is measured again."
            }
            Self::RotaryMoved => {
                "Still standing: jaw and slot widths, the seat on the jaws, centre height, tool lengths."
            }
            Self::FixtureOff => {
                "Still standing: jaw and slot widths, the turning sense, tool lengths; Y and Z if a check touch agrees."
            }
            Self::PieceChanged | Self::PieceReloaded | Self::PartSlipped => {
                "Still standing: X, Y, Z, the off-centre, the seat, tools and registers but for A."
            }
            Self::ToolTouched | Self::DrillBroken => "Still standing: X, Y, Z, A and every register.",
            Self::TemperatureChanged | Self::LongPause => "Still standing: everything, once the check touches agree.",
            Self::IndicatorSwapped => "Still standing: what was read and closed with the other indicator.",
            Self::RegisterEdited => {
                "Still standing: what was picked up and levelled; only what was written is read again."
            }
            Self::ProgramEdited => "Still standing: fit, pickup, tram and registers.",
            Self::ShiftHandover => "Still standing: what was signed, once it is read back.",
        }
    }
}
