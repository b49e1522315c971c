//! Comparing a session with an earlier one of the same fixture.

use crate::cli::arguments::Compare as Options;
use crate::cli::environment::Surroundings;
use crate::cli::failure::Failure;
use crate::cli::{print, sessions};
use crate::session::review as read_session;
use crate::sheet;

/// Carries out `setwright compare EARLIER LATER`: exit 3 when something does not agree or could not be compared.
pub(super) fn compare(options: &Options, here: &Surroundings) -> Result<u8, Failure> {
    let house = here.house()?;
    let (earlier, later) = (sessions::find(&house, &options.earlier)?, sessions::find(&house, &options.later)?);
    if earlier == later {
        return Err(Failure::usage("That is one session twice: name an earlier one and a later one."));
    }
    let comparison = sheet::compare(&read_session(&earlier)?, &read_session(&later)?);
    if options.json {
        print(&format!("{}\n", comparison.to_json()))?;
    } else {
        print(&comparison.to_text())?;
    }
    Ok(if comparison.all_agree() { 0 } else { 3 })
}
