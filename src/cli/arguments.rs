//! The arguments.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;

use crate::sheet::Rows;

/// Walks one person through a fixture setup on a milling machine with a rotary axis.
///
/// Asks for each reading, computes the next move with its uncertainty, catches the slip before it scraps a part, and
/// keeps every session as an auditable log. It does sums and asks questions; it does not move the machine.
#[derive(Debug, Parser)]
#[command(
    name = "setwright",
    version,
    after_help = "Exit codes: 0 done, 1 failed, 2 usage, 3 audited, proved or compared: not all within, 4 audited: a recomputation differs, 65 damaged or bad data, 66 no such input, 69 made by a newer version, 75 locked by another terminal, 129 130 143 ended by a signal."
)]
pub(super) struct Arguments {
    #[command(subcommand)]
    pub(super) task: Option<Task>,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub(super) enum Task {
    /// Start a session; without a card, the practice job
    Follow(Follow),
    /// Go on with an unfinished session
    Resume(Resume),
    /// Level a part now, without a job card: span, A, rear, front, and the move
    Level(Level),
    /// Practise a whole setup on a simulated shop
    Rehearse(Rehearse),
    /// Read a session without touching it
    Review(Review),
    /// List the sessions
    Sessions {
        /// As JSON
        #[arg(long)]
        json: bool,
    },
    /// Check the chain of a log and make every calculation again
    Audit(Audit),
    /// Compare what carries over between two sessions of one fixture: does it still hold?
    Compare(Compare),
    /// Write the setup sheet, the evidence, a blank checklist or the record of a session
    Sheet(Sheet),
    /// Read a program and walk it against a setup before it runs
    Prove(Prove),
    /// Make one calculation: JSON in, JSON out
    Reckon(Reckon),
    /// Make and check job cards
    Card {
        /// What to do with a card
        #[command(subcommand)]
        task: CardTask,
    },
    /// Show where everything is kept
    Places,
    /// Print a completion script
    Completions {
        /// For which shell
        shell: Shell,
    },
    /// Print the manual page
    Man,
}

/// How a session is shown.
#[derive(Debug, Clone, Args)]
pub(super) struct Face {
    /// Initials of who is at the machine
    #[arg(long, value_name = "INITIALS")]
    pub(super) by: Option<String>,
    /// Line by line, for screen readers, plain terminals and pipes
    #[arg(long, conflicts_with = "wire")]
    pub(super) plain: bool,
    /// JSON Lines both ways, for a rig
    #[arg(long)]
    pub(super) wire: bool,
    /// Sync every event twice, as on removable media
    #[arg(long)]
    pub(super) paranoid: bool,
    /// Draw with plain ASCII only
    #[arg(long)]
    pub(super) ascii: bool,
}

/// Start a session.
#[derive(Debug, Args)]
pub(super) struct Follow {
    /// Job card file, or the name of a practice card
    pub(super) card: Option<String>,
    /// Start from the card of an old session
    #[arg(long, value_name = "SESSION", conflicts_with = "card")]
    pub(super) from: Option<String>,
    /// List every question that can be asked, with its permanent id, and stop
    #[arg(long)]
    pub(super) asks: bool,
    /// With --asks: as JSON
    #[arg(long, requires = "asks")]
    pub(super) json: bool,
    #[command(flatten)]
    pub(super) face: Face,
}

/// Go on with a session.
#[derive(Debug, Args)]
pub(super) struct Resume {
    /// Name, part of a name, or file; without it, the newest unfinished one
    pub(super) session: Option<String>,
    /// Set a finished but wrong last line aside in a file of its own and go on before it
    #[arg(long)]
    pub(super) set_aside_tail: bool,
    #[command(flatten)]
    pub(super) face: Face,
}

/// Level a part now.
#[derive(Debug, Args)]
pub(super) struct Level {
    /// Bare numbers are inches
    #[arg(long)]
    pub(super) inch: bool,
    /// The machine's name, under which its turning sense is remembered
    #[arg(long, value_name = "NAME")]
    pub(super) machine: Option<String>,
    /// Find the run-out of the part in place of its level
    #[arg(long)]
    pub(super) run_out: bool,
    /// Print a pocket table for this span and stop: for a machine without a screen beside it
    #[arg(long, value_name = "SPAN", conflicts_with_all = ["run_out", "plain", "wire"])]
    pub(super) table: Option<String>,
    /// With --table: how far rear and front may differ
    #[arg(long, value_name = "LENGTH", requires = "table")]
    pub(super) within: Option<String>,
    /// With --table: one division of the indicator
    #[arg(long, value_name = "LENGTH", requires = "table")]
    pub(super) division: Option<String>,
    /// With --table: standard deviation of one reading of the indicator
    #[arg(long, value_name = "LENGTH", requires = "table")]
    pub(super) repeatability: Option<String>,
    #[command(flatten)]
    pub(super) face: Face,
}

/// Practise on the simulated shop.
#[derive(Debug, Args)]
pub(super) struct Rehearse {
    /// Job card file, or the name of a practice card
    pub(super) card: Option<String>,
    /// Let the shop play the whole setup by itself
    #[arg(long)]
    pub(super) auto: bool,
    /// The same number gives the same shop
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    pub(super) seed: u64,
    /// Let something go wrong; may be given several times
    #[arg(long, value_name = "NAME")]
    pub(super) plant: Vec<String>,
    /// List what can be planted, and stop
    #[arg(long)]
    pub(super) plants: bool,
    /// Initials of who practises
    #[arg(long, value_name = "INITIALS")]
    pub(super) by: Option<String>,
}

/// Read a session.
#[derive(Debug, Args)]
pub(super) struct Review {
    /// Name, part of a name, or file; without it, the newest one
    pub(super) session: Option<String>,
    /// Go on showing what another terminal writes
    #[arg(long)]
    pub(super) follow: bool,
    /// As JSON
    #[arg(long)]
    pub(super) json: bool,
    /// As text, line by line
    #[arg(long)]
    pub(super) plain: bool,
    /// Draw with plain ASCII only
    #[arg(long)]
    pub(super) ascii: bool,
}

/// Check logs.
#[derive(Debug, Args)]
pub(super) struct Audit {
    /// Names, parts of names, or files
    #[arg(required = true)]
    pub(super) sessions: Vec<String>,
    /// The head that was written down elsewhere, 64 digits, blanks allowed
    #[arg(long, value_name = "HEAD")]
    pub(super) expect: Option<String>,
    /// As JSON
    #[arg(long)]
    pub(super) json: bool,
}

/// Compare two sessions.
#[derive(Debug, Args)]
pub(super) struct Compare {
    /// Name, part of a name, or file of the earlier session
    pub(super) earlier: String,
    /// The same of the later one
    pub(super) later: String,
    /// As JSON
    #[arg(long)]
    pub(super) json: bool,
}

/// Write what leaves the laptop.
#[derive(Debug, Args)]
pub(super) struct Sheet {
    /// Name, part of a name, or file of the session
    pub(super) session: Option<String>,
    /// The whole record: every reading, every number with its formula, inputs and source
    #[arg(long, conflicts_with = "blank")]
    pub(super) evidence: bool,
    /// The page of one piece for the next operation, by its serial
    #[arg(long, value_name = "SERIAL", requires = "session", conflicts_with_all = ["evidence", "blank"])]
    pub(super) serial: Option<String>,
    /// The checklist on paper, for when the laptop dies
    #[arg(long)]
    pub(super) blank: bool,
    /// With --blank: of a job card instead of a session
    #[arg(long, value_name = "CARD", requires = "blank", conflicts_with = "session")]
    pub(super) card: Option<String>,
    /// In which form
    #[arg(long = "as", value_name = "FORM", value_enum, default_value_t = Form::Html)]
    pub(super) form: Form,
    /// With --as csv: a row for each of what
    #[arg(long, value_enum)]
    pub(super) rows: Option<RowsOf>,
    /// Where to write; - for standard output; without it, a file named after the session in this folder
    #[arg(long, value_name = "FILE")]
    pub(super) out: Option<PathBuf>,
}

/// The form of what is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Form {
    /// One HTML file that prints
    Html,
    /// Markdown
    Markdown,
    /// Comma-separated rows (RFC 4180)
    Csv,
    /// JSON
    Json,
}

impl Form {
    /// Returns how its files end.
    pub(super) const fn ending(self) -> &'static str {
        match self {
            Self::Html => "html",
            Self::Markdown => "md",
            Self::Csv => "csv",
            Self::Json => "json",
        }
    }
}

/// What a row is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum RowsOf {
    /// One a reading
    Readings,
    /// One a finding
    Findings,
    /// One a piece
    Pieces,
}

impl From<RowsOf> for Rows {
    fn from(rows: RowsOf) -> Self {
        match rows {
            RowsOf::Readings => Self::Readings,
            RowsOf::Findings => Self::Findings,
            RowsOf::Pieces => Self::Pieces,
        }
    }
}

/// Prove a program.
#[derive(Debug, Args)]
pub(super) struct Prove {
    /// The RS-274 program, or - for standard input
    pub(super) program: String,
    /// Against what a session has found at the machine
    #[arg(long, value_name = "SESSION", conflicts_with = "card")]
    pub(super) session: Option<String>,
    /// Against a job card alone: a file, or the name of a practice card
    #[arg(long, value_name = "CARD", required_unless_present = "session")]
    pub(super) card: Option<String>,
    /// As JSON
    #[arg(long)]
    pub(super) json: bool,
}

/// Make calculations.
#[derive(Debug, Args)]
pub(super) struct Reckon {
    /// Name of the calculation
    pub(super) name: Option<String>,
    /// Question, formula, units, limits, source, example
    #[arg(long, requires = "name")]
    pub(super) about: bool,
    /// List every calculation
    #[arg(long, conflicts_with_all = ["name", "lines"])]
    pub(super) list: bool,
    /// JSON Lines: {"name": ..., "inputs": {...}} in, one answer a line out
    #[arg(long, conflicts_with = "name")]
    pub(super) lines: bool,
}

/// Job cards.
#[derive(Debug, Subcommand)]
pub(super) enum CardTask {
    /// Write a card to start from (a practice card); never writes over a file
    New {
        /// Where; without it, to standard output
        file: Option<PathBuf>,
        /// Start from the inch card
        #[arg(long)]
        inch: bool,
    },
    /// Check a card and name every fault with its path and a hint
    Check {
        /// The card
        file: PathBuf,
    },
    /// Print the schema of a card (JSON Schema)
    Schema,
}
