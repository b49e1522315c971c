//! A document before it has a form: headings, words, tables and pictures. HTML and Markdown are written from it.

use crate::scene::{Plot, Scene};

/// A whole document.
#[derive(Debug, Clone, PartialEq)]
pub struct Document {
    /// Its title, once at the top.
    pub title: String,
    /// What kind of document it is, and of which session.
    pub subtitle: String,
    /// What a reader must know before anything else, each as a short mark that every section and printed page repeats
    /// and a sentence in red words at the top.
    pub alarms: Vec<Alarm>,
    /// Its sections in order.
    pub sections: Vec<Section>,
}

/// Something that a reader must know before anything else.
#[derive(Debug, Clone, PartialEq)]
pub struct Alarm {
    /// A word or two of ours in capitals, never a text from outside.
    pub mark: &'static str,
    /// The sentence.
    pub says: String,
}

/// A section with its heading.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// The heading.
    pub heading: String,
    /// What stands in it.
    pub blocks: Vec<Block>,
}

/// One thing in a section.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A paragraph.
    Words(String),
    /// A list of points.
    Points(Vec<String>),
    /// Cautions, set off from the rest.
    Cautions(Vec<String>),
    /// Names and what they stand for.
    Facts(Vec<(String, String)>),
    /// A table.
    Table(Table),
    /// A picture to scale.
    Picture {
        /// What is drawn.
        scene: Scene,
        /// The line under it, which says in words what is drawn.
        caption: String,
    },
    /// What was read against what was set.
    Plot {
        /// What is drawn.
        plot: Plot,
        /// The line under it.
        caption: String,
    },
    /// A text as a code that a camera reads, with the text beside it.
    Code {
        /// What the code holds.
        text: String,
        /// What it is, in words.
        caption: String,
    },
    /// Words as a computer prints them.
    Verbatim(String),
}

/// A table.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// What it shows.
    pub caption: String,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows; each has as many cells as there are columns.
    pub rows: Vec<Row>,
}

/// A column of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Its heading.
    pub title: String,
    /// Whether it holds numbers, which are set to the right.
    pub numbers: bool,
}

/// A row of a table.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Row {
    /// Its cells.
    pub cells: Vec<String>,
    /// Whether it has been crossed out: it stays readable and is drawn through.
    pub struck: bool,
}

impl Section {
    /// Begins a section.
    pub fn new(heading: impl Into<String>) -> Self {
        Self { heading: heading.into(), blocks: Vec::new() }
    }

    /// Adds a block.
    #[must_use]
    pub fn with(mut self, block: Block) -> Self {
        self.blocks.push(block);
        self
    }

    /// Adds a paragraph.
    #[must_use]
    pub fn words(self, words: impl Into<String>) -> Self {
        self.with(Block::Words(words.into()))
    }

    /// Adds a table, or a sentence where there is nothing to put into it.
    #[must_use]
    pub fn table_or(self, table: Table, when_empty: &str) -> Self {
        if table.rows.is_empty() { self.words(when_empty) } else { self.with(Block::Table(table)) }
    }
}

impl Table {
    /// Begins a table; a title that starts with `#` heads a column of numbers.
    pub fn new(caption: impl Into<String>, titles: &[&str]) -> Self {
        let columns = titles.iter().map(|title| Column::titled(title)).collect();
        Self { caption: caption.into(), columns, rows: Vec::new() }
    }

    /// Adds a row.
    pub fn row(&mut self, cells: Vec<String>) {
        self.rows.push(Row { cells, struck: false });
    }
}

impl Column {
    fn titled(title: &str) -> Self {
        match title.strip_prefix('#') {
            Some(rest) => Self { title: rest.to_owned(), numbers: true },
            None => Self { title: title.to_owned(), numbers: false },
        }
    }
}
