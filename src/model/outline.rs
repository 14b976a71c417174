//! The top seen from above.

/// A closed polygon about the top's middle, corners counter-clockwise, world, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline(Vec<[f64; 2]>);

impl Outline {
    /// A rectangle, from its corner at -x -y.
    #[must_use]
    pub fn rectangle(length: f64, width: f64) -> Self {
        let [x, y] = [length / 2.0, width / 2.0];
        Self(vec![[-x, -y], [x, -y], [x, y], [-x, y]])
    }

    /// Enclosed area, mm2.
    #[must_use]
    pub fn area(&self) -> f64 {
        self.edges().map(|[a, b]| a[0] * b[1] - b[0] * a[1]).sum::<f64>() / 2.0
    }

    /// Edges in order, each from corner to corner.
    pub fn edges(&self) -> impl Iterator<Item = [[f64; 2]; 2]> {
        self.0.iter().zip(self.0.iter().cycle().skip(1)).map(|(a, b)| [*a, *b])
    }

    /// Corners and middles of the edges in turn: the places at which a load on the rim tips a table first.
    #[must_use]
    pub fn rim(&self) -> Vec<[f64; 2]> {
        self.edges().flat_map(|[a, b]| [a, [0, 1].map(|k| f64::midpoint(a[k], b[k]))]).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rectangle_has_its_area_and_eight_places_on_its_rim() {
        let top = Outline::rectangle(1500.0, 700.0);
        assert!((top.area() - 1500.0 * 700.0).abs() < 1e-6);
        let rim = top.rim();
        assert_eq!((rim.len(), rim[0], rim[1], rim[3]), (8, [-750.0, -350.0], [0.0, -350.0], [750.0, 0.0]));
    }
}
