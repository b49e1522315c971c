//! Best fits by least squares with a fixed number of columns.

use nalgebra::{SMatrix, SVector};

/// What is left of a column after its best fit by the others must be at least this share of its own length.
const TOLD_APART: f64 = 1e-9;

/// A best fit: value ≈ Σ coefficient × column.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Fit<const N: usize> {
    /// One coefficient for each column.
    pub coefficients: [f64; N],
    /// Value minus fit, in the order of the rows.
    pub residuals: Vec<f64>,
    /// Diagonal of the inverse of the normal matrix: times the variance of a reading it is that of a coefficient.
    pub variance_factors: [f64; N],
}

impl<const N: usize> Fit<N> {
    /// Returns the standard deviation of the residuals with (rows − columns) degrees of freedom, or none without any.
    pub(super) fn residual_deviation(&self) -> Option<f64> {
        let spare = self.residuals.len().checked_sub(N).filter(|spare| *spare > 0)?;
        #[expect(clippy::cast_precision_loss, reason = "no list has 2^53 entries")]
        Some(length(&self.residuals) / (spare as f64).sqrt())
    }

    /// Returns the largest absolute residual.
    pub(super) fn largest_residual(&self) -> f64 {
        self.residuals.iter().fold(0.0, |largest: f64, residual| largest.max(residual.abs()))
    }
}

/// The columns cannot be told apart: one is (nearly) a mixture of the others, or there are too few rows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct NotToldApart {
    /// The column, counted from 0.
    pub column: usize,
}

/// Fits `values` by the columns of `rows`.
///
/// The columns are made perpendicular one after the other, each of them twice, which keeps full accuracy even when they
/// are nearly alike. A column of which less than 1e-9 of its own length is left after its best fit by the others is
/// refused.
pub(super) fn fit<const N: usize>(rows: &[[f64; N]], values: &[f64]) -> Result<Fit<N>, NotToldApart> {
    let mut directions: Vec<Vec<f64>> = Vec::with_capacity(N);
    let mut lengths = SVector::<f64, N>::zeros();
    let mut made_of = SMatrix::<f64, N, N>::zeros();
    for (column, own) in lengths.iter_mut().enumerate() {
        let entries: Vec<f64> = rows.iter().filter_map(|row| row.get(column).copied()).collect();
        *own = length(&entries);
        let mut left = divided(&entries, *own);
        let mut parts = take_off(&mut left, &directions);
        let remaining = length(&left);
        parts.push(remaining);
        made_of.column_mut(column).iter_mut().zip(parts).for_each(|(entry, part)| *entry = part);
        directions.push(divided(&left, remaining));
        if remaining.is_nan() || remaining <= TOLD_APART / 10.0 {
            return Err(NotToldApart { column });
        }
    }
    let inverse = made_of.solve_upper_triangular(&SMatrix::identity()).ok_or(NotToldApart { column: 0 })?;
    let inverse_lengths = SVector::<f64, N>::from_iterator(inverse.row_iter().map(|row| row.norm()));
    if let Some(column) = inverse_lengths.iter().position(|row| row.is_nan() || *row >= 1.0 / TOLD_APART) {
        return Err(NotToldApart { column });
    }
    let mut residuals = values.to_vec();
    let parts = SVector::<f64, N>::from_iterator(take_off(&mut residuals, &directions));
    let spreads = inverse_lengths.component_div(&lengths);
    Ok(Fit {
        coefficients: (inverse * parts).component_div(&lengths).into(),
        residuals,
        variance_factors: spreads.component_mul(&spreads).into(),
    })
}

/// Fits `values` by a constant, which is the first column of `rows` and all ones, and by the other columns.
///
/// It is reckoned from the middle of each column, so that places close together but far from zero cost no digits; whether
/// columns can be told apart is judged by the columns as they stand.
pub(super) fn fit_with_constant<const N: usize>(rows: &[[f64; N]], values: &[f64]) -> Result<Fit<N>, NotToldApart> {
    let as_they_stand = fit(rows, values)?;
    #[expect(clippy::cast_precision_loss, reason = "no list has 2^53 entries")]
    let count = rows.len() as f64;
    let mut middle = [0.0; N];
    for (column, mean) in middle.iter_mut().enumerate().skip(1) {
        *mean = rows.iter().filter_map(|row| row.get(column)).map(|entry| entry / count).sum();
    }
    let from_middle = |row: &[f64; N]| SVector::from(*row) - SVector::from(middle);
    let shifted: Vec<[f64; N]> = rows.iter().map(|row| from_middle(row).into()).collect();
    let mut fit = fit(&shifted, values)?;
    let at_middle: f64 = fit.coefficients.iter().zip(middle).map(|(coefficient, mean)| coefficient * mean).sum();
    if let ([constant, ..], [factor, ..], [wide, ..]) =
        (&mut fit.coefficients[..], &mut fit.variance_factors[..], &as_they_stand.variance_factors[..])
    {
        (*constant, *factor) = (*constant - at_middle, *wide);
    }
    Ok(fit)
}

fn divided(entries: &[f64], divisor: f64) -> Vec<f64> {
    entries.iter().map(|entry| entry / divisor).collect()
}

/// Takes the parts along perpendicular directions off a vector, twice, and returns how long they were.
fn take_off(vector: &mut [f64], directions: &[Vec<f64>]) -> Vec<f64> {
    let mut parts = vec![0.0; directions.len()];
    for _ in 0..2 {
        for (direction, part) in directions.iter().zip(&mut parts) {
            let along: f64 = direction.iter().zip(vector.iter()).map(|(a, b)| a * b).sum();
            direction.iter().zip(vector.iter_mut()).for_each(|(a, b)| *b -= along * a);
            *part += along;
        }
    }
    parts
}

/// Returns the length of a vector without overflow on the way.
fn length(vector: &[f64]) -> f64 {
    let largest = vector.iter().fold(0.0, |largest: f64, entry| largest.max(entry.abs()));
    if largest <= 0.0 {
        return 0.0;
    }
    vector.iter().map(|entry| (entry / largest) * (entry / largest)).sum::<f64>().sqrt() * largest
}

#[cfg(test)]
mod tests {
    use super::*;

    // Algebra: values made from known coefficients give them back, whatever the offsets.
    #[test]
    fn exact_values_give_back_their_coefficients() {
        let rows: Vec<[f64; 3]> = (0..12).map(f64::from).map(|x| [1.0, x + 1000.0, (x + 1000.0).powi(2)]).collect();
        let values: Vec<f64> = rows.iter().map(|[one, x, square]| 5.0 * one - 0.25 * x + 0.5 * square).collect();
        let fit = fit(&rows, &values).unwrap();
        for (found, wanted) in fit.coefficients.iter().zip([5.0, -0.25, 0.5]) {
            assert!((found - wanted).abs() < 1e-3, "{found} {wanted}");
        }
        assert!(fit.largest_residual() < 1e-9);
    }

    // Textbook: the variance factor of a mean is 1/n, that of a slope 1/sum((x - mean)^2).
    #[test]
    fn variance_factors_are_those_of_a_straight_line() {
        let rows: Vec<[f64; 2]> = [-3.0, -1.0, 1.0, 3.0].map(|x| [1.0, x]).to_vec();
        let fit = fit(&rows, &[0.0, 1.0, 0.0, 1.0]).unwrap();
        assert!((fit.variance_factors[0] - 0.25).abs() < 1e-15 && (fit.variance_factors[1] - 0.05).abs() < 1e-15);
        assert!((fit.coefficients[0] - 0.5).abs() < 1e-15 && (fit.coefficients[1] - 0.1).abs() < 1e-15);
        assert!((fit.residual_deviation().unwrap() - 0.4_f64.sqrt()).abs() < 1e-15);
    }

    // Algebra: a line through places a kilometre away and a hundredth of a millimetre apart; doubles hold all of these.
    #[test]
    fn places_far_from_zero_cost_no_digits() {
        let places = [0.0, 1.0, 3.0, 4.0].map(|step| 1_048_576.0 + step / 128.0);
        let rows = places.map(|x| [1.0, x]);
        let values = [0.0, 1.0, 3.0, 4.0].map(|step| 0.5 + step);
        let fit = fit_with_constant(&rows, &values).unwrap();
        assert!((fit.coefficients[1] / 128.0 - 1.0).abs() < 1e-15, "{}", fit.coefficients[1]);
        assert!((fit.coefficients[0] / (0.5 - 128.0 * 1_048_576.0) - 1.0).abs() < 1e-15, "{}", fit.coefficients[0]);
        assert!(fit.largest_residual() < 1e-15);
        let squares = 10.0 / 128.0_f64.powi(2);
        assert!((fit.variance_factors[1] * squares - 1.0).abs() < 1e-14);
        let of_constant = 0.25 + (1_048_576.0_f64 + 2.0 / 128.0).powi(2) / squares;
        assert!((fit.variance_factors[0] / of_constant - 1.0).abs() < 1e-6);
    }

    // Rule 11 of the catalogue judges the columns as they stand, far from zero or not.
    #[test]
    fn places_too_close_together_for_their_distance_are_refused() {
        let line = |places: [f64; 3]| fit_with_constant(&places.map(|x| [1.0, x]), &[1.0, 2.0, 3.0]);
        assert!(line([1e6, 1e6 + 1e-4, 1e6 + 2e-4]).is_err());
        assert!(line([1e6, 1e6 + 1e-2, 1e6 + 2e-2]).is_ok());
    }

    #[test]
    fn columns_that_cannot_be_told_apart_are_refused() {
        assert!(fit(&[[1.0, 2.0], [1.0, 2.0], [1.0, 2.0]], &[1.0, 2.0, 3.0]).is_err());
        assert!(fit(&[[1.0, 0.0], [1.0, 0.0]], &[1.0, 2.0]).is_err());
        assert!(fit(&[[1.0, 2.0]], &[1.0]).is_err());
        assert!(fit::<2>(&[], &[]).is_err());
        let almost = |difference: f64| fit(&[[1.0, 1.0], [1.0, 1.0], [1.0, 1.0 + difference]], &[1.0, 2.0, 3.0]);
        assert!(almost(1e-10).is_err());
        assert!(almost(1e-6).is_ok());
    }
}
