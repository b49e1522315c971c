//! What the process is surrounded by: variables, folders, terminal. Read here and nowhere else.
#![expect(clippy::disallowed_methods, reason = "the one place where the environment is read")]

use std::path::PathBuf;

use directories::ProjectDirs;

use crate::cli::failure::Failure;
use crate::session::House;
use crate::session_log::FixedClock;
use crate::workbook::Options;

/// What the environment says.
pub(super) struct Surroundings {
    home: Option<PathBuf>,
    test_clock: Option<String>,
    test_ids: Option<String>,
    no_color: bool,
    dumb: bool,
    plain_letters: bool,
    test_panic: bool,
    interactive: bool,
}

/// Looks round once.
pub(super) fn look() -> Surroundings {
    let text = |name: &str| std::env::var(name).ok().filter(|value| !value.is_empty());
    Surroundings {
        home: std::env::var_os("SETWRIGHT_HOME")
            .filter(|value| !value.is_empty())
            .map(PathBuf::from)
            .or_else(platform_home),
        test_clock: text("SETWRIGHT_TEST_CLOCK"),
        test_ids: text("SETWRIGHT_TEST_IDS"),
        no_color: text("NO_COLOR").is_some(),
        dumb: text("TERM").is_some_and(|terminal| terminal == "dumb"),
        plain_letters: plain_letters(),
        test_panic: text("SETWRIGHT_TEST_PANIC").is_some(),
        interactive: super::both_ends_are_terminals(),
    }
}

/// The locale says whether more than ASCII can be drawn.
fn plain_letters() -> bool {
    let set = ["LC_ALL", "LC_CTYPE", "LANG"]
        .iter()
        .find_map(|name| std::env::var(name).ok().filter(|value| !value.is_empty()));
    set.is_some_and(|locale| locale == "C" || locale == "POSIX")
}

/// XDG variables win where they are set, also on systems whose own rule is another.
fn platform_home() -> Option<PathBuf> {
    let set = std::env::var_os("XDG_DATA_HOME").map(PathBuf::from).filter(|path| path.is_absolute());
    set.map(|path| path.join("setwright"))
        .or_else(|| ProjectDirs::from("", "", "setwright").map(|places| places.data_local_dir().to_owned()))
}

impl Surroundings {
    /// Returns whether a person sits at both ends and the terminal can draw.
    pub(super) const fn is_interactive(&self) -> bool {
        self.interactive && !self.dumb
    }

    /// Returns whether a person sits at both ends, whatever the terminal.
    pub(super) const fn has_person(&self) -> bool {
        self.interactive
    }

    /// Returns how the screen is to look.
    pub(super) fn screen(&self, by: Option<&str>, ascii: bool) -> Options {
        Options {
            by: by.map(str::to_owned),
            colour: !self.no_color,
            ascii: ascii || self.plain_letters,
            test_panic: self.test_panic,
        }
    }

    /// Returns the folders of this program, with the fixed clock and ids of a test.
    pub(super) fn house(&self) -> Result<House, Failure> {
        let home = self
            .home
            .as_ref()
            .ok_or_else(|| Failure::failed("No folder for sessions is known here: set SETWRIGHT_HOME to one."))?;
        let mut house = House::under(home);
        if let Some(start) = &self.test_clock {
            let clock =
                FixedClock::parse(start).map_err(|why| Failure::usage(format!("SETWRIGHT_TEST_CLOCK: {why}")))?;
            house.test_clock = Some(clock);
        }
        house.test_ids.clone_from(&self.test_ids);
        Ok(house)
    }
}
