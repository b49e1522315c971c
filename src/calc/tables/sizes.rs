//! Tables by ranges of size: over … up to and including ….

use super::Table;

/// Numbers for ranges of size, one column for each of them.
#[derive(Debug)]
pub(in crate::calc) struct SizeTable {
    columns: Vec<&'static str>,
    ranges: Vec<SizeRange>,
}

/// One range of size and its numbers.
#[derive(Debug)]
pub(in crate::calc) struct SizeRange {
    /// Lower end in mm, not included.
    pub over: f64,
    /// Upper end in mm, included.
    pub to: f64,
    numbers: Vec<f64>,
}

impl SizeTable {
    /// Reads a table whose first two columns are the ends of the range and whose cells are all numbers.
    pub(in crate::calc) fn read(text: &'static str) -> Option<Self> {
        let table = Table::read(text)?;
        let columns = table.columns.get(2..)?.to_vec();
        let ranges = table.rows.iter().map(|row| SizeRange::read(row)).collect::<Option<Vec<_>>>()?;
        Some(Self { columns, ranges })
    }

    /// Finds the range of a size; a size on a boundary belongs to the lower range.
    pub(in crate::calc) fn range(&self, size: f64) -> Option<&SizeRange> {
        self.ranges.iter().find(|range| size > range.over && size <= range.to)
    }

    /// Finds the number of a size in a column.
    pub(in crate::calc) fn number(&self, size: f64, column: &str) -> Option<f64> {
        let place = self.columns.iter().position(|name| *name == column)?;
        self.range(size)?.numbers.get(place).copied()
    }
}

impl SizeRange {
    fn read(row: &[&str]) -> Option<Self> {
        let numbers = row.iter().map(|cell| cell.parse().ok()).collect::<Option<Vec<f64>>>()?;
        let (&[over, to], rest) = numbers.split_first_chunk::<2>()?;
        Some(Self { over, to, numbers: rest.to_vec() })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_boundary_belongs_to_the_lower_range() {
        let table = SizeTable::read("# test\nover,to,a,b\n0,3,1,-2\n3,6,10,0.5\n").unwrap();
        for (size, a, b) in [(0.001, 1.0, -2.0), (3.0, 1.0, -2.0), (3.000_000_000_000_001, 10.0, 0.5), (6.0, 10.0, 0.5)]
        {
            assert!((table.number(size, "a").unwrap() - a).abs() < 1e-15, "{size}");
            assert!((table.number(size, "b").unwrap() - b).abs() < 1e-15, "{size}");
        }
        for size in [0.0, -1.0, 6.000_000_000_000_001, f64::NAN] {
            assert!(table.range(size).is_none(), "{size}");
        }
        assert!(table.number(1.0, "c").is_none());
    }

    #[test]
    fn cells_that_are_no_numbers_are_not_read() {
        assert!(SizeTable::read("over,to,a\n0,3,x\n").is_none());
        assert!(SizeTable::read("over\n0\n").is_none());
    }
}
