//! Equations of a working: the formula as its clause writes it, what is put in, the result.

/// What is put into a formula.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// As the formula names it.
    pub name: &'static str,
    /// In `unit`.
    pub value: f64,
    /// Empty where it has none.
    pub unit: &'static str,
}

/// One equation of a working.
#[derive(Clone, Debug, PartialEq)]
pub struct Equation {
    /// `sigma = 6 m / t^2`: left of the sign what is worked out; on the right names, numbers, `pi`, `+ - / ^`, brackets,
    /// `sqrt`, `sin`, `cos`, `atan`, angles in degrees. Factors stand beside each other with a blank between them.
    pub formula: &'static str,
    /// Every name of the formula's right side.
    pub with: Vec<Quantity>,
    /// In `unit`.
    pub result: f64,
    /// Empty where it has none.
    pub unit: &'static str,
}

/// An equation with its quantities as name, value, unit, and its result.
#[must_use]
pub fn equation<const N: usize>(
    formula: &'static str,
    with: [(&'static str, f64, &'static str); N],
    result: f64,
    unit: &'static str,
) -> Equation {
    let with = with.map(|(name, value, unit)| Quantity { name, value, unit });
    Equation { formula, with: with.to_vec(), result, unit }
}
