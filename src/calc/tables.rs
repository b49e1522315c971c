//! Tables of constants: text files in `assets/tables` with their source in comment lines, read once.
//!
//! A table is comma-separated text: lines that begin with `#` say where the numbers come from, the first other line
//! names the columns, every further line is a row. No cell holds a comma.

use std::sync::LazyLock;

use super::contract::Calculation;

mod sizes;

pub(super) use sizes::{SizeRange, SizeTable};

/// A table of constants with what its file says about their source.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// Comment lines: first what the table holds, then where it comes from.
    pub remarks: Vec<&'static str>,
    /// Names of the columns; a unit stands in the name.
    pub columns: Vec<&'static str>,
    /// Cells of each row, as many as there are columns.
    pub rows: Vec<Vec<&'static str>>,
}

impl Table {
    /// Reads a table; none when it has no columns or a row is longer or shorter than they are.
    fn read(text: &'static str) -> Option<Self> {
        let (remarks, lines): (Vec<_>, Vec<_>) =
            text.lines().filter(|line| !line.is_empty()).partition(|line| line.starts_with('#'));
        let remarks = remarks.iter().map(|line| line.trim_start_matches('#').trim_start()).collect();
        let mut rows: Vec<Vec<&str>> = lines.iter().map(|line| line.split(',').collect()).collect();
        let columns = if rows.is_empty() { return None } else { rows.remove(0) };
        rows.iter().all(|row| row.len() == columns.len()).then_some(Self { remarks, columns, rows })
    }

    /// Tells whether an input's value is chosen from this table: its remark "Inputs:" names how such keys end.
    pub fn serves(&self, key: &str) -> bool {
        let ends = self.remarks.iter().find_map(|remark| remark.strip_prefix("Inputs: ")).unwrap_or_default();
        ends.split(", ").any(|end| !end.is_empty() && key.ends_with(end))
    }
}

/// Returns the tables from which inputs of a calculation are chosen: those whose file names the end of such an input's key.
pub fn tables_for(calculation: &Calculation) -> impl Iterator<Item = &'static Table> {
    material_tables().iter().filter(|table| calculation.inputs.iter().any(|input| table.serves(input.key)))
}

/// Returns the constants of materials to choose inputs from: thermal expansion, elastic modulus, specific cutting force.
///
/// Each row names its source, how far the figure spreads, and in the column `known` whether it was found in print or is
/// from memory; whoever shows a figure shows that too.
pub fn material_tables() -> &'static [Table] {
    static TABLES: LazyLock<Vec<Table>> = LazyLock::new(|| {
        let files = [
            include_str!("../../assets/tables/thermal_expansion.csv"),
            include_str!("../../assets/tables/elastic_modulus.csv"),
            include_str!("../../assets/tables/specific_cutting_force.csv"),
        ];
        files.into_iter().filter_map(Table::read).collect()
    });
    &TABLES
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cell(table: &Table, material: &str, column: &str) -> &'static str {
        let row = table.rows.iter().find(|row| row[0] == material).unwrap();
        row[table.columns.iter().position(|name| *name == column).unwrap()]
    }

    #[test]
    fn every_material_table_is_read_and_names_its_sources() {
        let tables = material_tables();
        assert_eq!(tables.len(), 3);
        for table in tables {
            assert!(table.remarks.iter().any(|remark| remark.starts_with("Source")), "{:?}", table.remarks);
            assert_eq!(table.columns[0], "material");
            for row in &table.rows {
                assert!(row.iter().all(|cell| !cell.trim().is_empty()), "{row:?}");
                let known = cell(table, row[0], "known");
                assert!(["found in print", "found in a program", "from memory"].contains(&known), "{row:?}");
            }
        }
    }

    // Callister and Rethwisch, Fundamentals of Materials Science and Engineering, 3rd edition, table B.6 (p. 815 and 816);
    // it prints both scales, so the figure per degree Fahrenheit is an independent check: 6.5, 9.6, 13.1, 11.4.
    #[test]
    fn expansion_agrees_with_the_printed_fahrenheit_column() {
        let table = &material_tables()[0];
        for (material, per_fahrenheit) in [
            ("steel 1020", 6.5),
            ("stainless steel 304", 9.6),
            ("aluminium 6061", 13.1),
            ("free-cutting brass C36000", 11.4),
        ] {
            let figure: f64 = cell(table, material, "expansion um/(m K)").parse().unwrap();
            assert!((figure / 1.8 - per_fahrenheit).abs() < 0.06, "{material}");
        }
    }

    // The same book, table B.2: 207 GPa is printed beside 30 Mpsi, 193 beside 28, 69 beside 10.
    #[test]
    fn moduli_agree_with_the_printed_psi_column() {
        let table = &material_tables()[1];
        for (material, million_psi) in [
            ("plain carbon and low alloy steel", 30.0),
            ("stainless steel 304 and 316", 28.0),
            ("aluminium 6061", 10.0),
        ] {
            let figure: f64 = cell(table, material, "modulus GPa").parse().unwrap();
            assert!((figure / 6.894_757_293 - million_psi).abs() < 0.05, "{material}");
        }
    }

    #[test]
    fn cutting_forces_from_memory_are_marked() {
        let table = &material_tables()[2];
        let remembered = table.rows.iter().filter(|row| cell(table, row[0], "known") == "from memory").count();
        assert_eq!((remembered, table.rows.len()), (7, 9));
        assert_eq!(cell(table, "X5CrNi18-10 (304)", "spread"), "2000 to 2600");
    }

    #[test]
    fn a_calculation_finds_the_tables_of_its_inputs() {
        let tables = |id: &str| {
            let calculation = crate::calc::calculation(id).unwrap();
            tables_for(calculation).map(|table| table.columns[1]).collect::<Vec<_>>()
        };
        assert_eq!(tables("drill-loads"), ["specific cutting force MPa"]);
        assert_eq!(tables("press-fit-pressure"), ["modulus GPa"]);
        assert_eq!(tables("thermal-length"), ["expansion um/(m K)"]);
        assert!(tables("z-register").is_empty());
        assert!(
            material_tables().iter().all(|table| crate::calc::all().any(|one| tables_for(one).any(|t| t == table)))
        );
    }

    #[test]
    fn ragged_and_empty_tables_are_not_read() {
        assert_eq!(Table::read("# nothing\n"), None);
        assert_eq!(Table::read("a,b\n1,2\n1\n"), None);
        let table = Table::read("# What it is\n\n#Source: none\na,b\n1,2\n").unwrap();
        assert_eq!((table.remarks, table.columns), (vec!["What it is", "Source: none"], vec!["a", "b"]));
        assert_eq!(table.rows, vec![vec!["1", "2"]]);
    }
}
