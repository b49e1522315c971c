//! The card of a rehearsal: marked in its title and its name, so that no sheet, list or log of it can pass for a setup.

use serde_json::Value;

use crate::job::{self, JobCard};

/// Marks a card as that of a rehearsal, in the text that the log embeds as well.
///
/// # Errors
/// Says why the marked card is no card any more.
pub fn rehearsal_card(card: &JobCard) -> Result<JobCard, String> {
    let mut value: Value = serde_json::from_str(&card.text).map_err(|error| error.to_string())?;
    if let Some(fields) = value.as_object_mut() {
        fields.insert("title".to_owned(), Value::String(format!("REHEARSAL {}", card.title)));
        fields.insert("id".to_owned(), Value::String(format!("rehearsal-{}", card.id)));
    }
    job::read(&value.to_string()).map_err(|faults| faults.to_string())
}
