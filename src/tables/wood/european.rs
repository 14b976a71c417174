//! European species by DIN 68364.

use super::form::{European, european};
use super::sources::{JANKA_READ, SWELLING};
use super::{Kind, Wood};

/// Sorted by name.
#[rustfmt::skip]
pub(super) const ROWS: &[Wood] = &[
    european(Kind::Hardwood, European { name: "European ash", density: 700.0, e: 13_000.0, bending: 105.0, shear: 13.0,
        compression: 8.1, tension: 5.5, side: 1_480.0 })
        .moving(0.002_1, 0.003_8, SWELLING),
    european(Kind::Hardwood, European { name: "European beech", density: 710.0, e: 14_000.0, bending: 120.0,
        shear: 10.0, compression: 8.3, tension: 5.6, side: 1_450.0 })
        .moving(0.002_0, 0.004_1, SWELLING),
    european(Kind::Hardwood, European { name: "European birch", density: 650.0, e: 14_000.0, bending: 120.0,
        shear: 12.0, compression: 6.9, tension: 5.0, side: 1_210.0 })
        .moving(0.002_9, 0.004_1, SWELLING),
    european(Kind::Softwood, European { name: "European larch", density: 600.0, e: 12_000.0, bending: 99.0, shear: 9.0,
        compression: 6.2, tension: 3.0, side: 760.0 })
        .moving(0.001_4, 0.003_0, SWELLING),
    european(Kind::Hardwood, European { name: "European oak", density: 710.0, e: 13_000.0, bending: 95.0, shear: 11.0,
        compression: 8.3, tension: 5.6, side: 1_120.0 })
        .moving(0.001_8, 0.003_4, SWELLING),
    european(Kind::Softwood, European { name: "Norway spruce", density: 460.0, e: 11_000.0, bending: 80.0, shear: 8.0,
        compression: 4.1, tension: 2.2, side: 380.0 })
        .moving(0.001_9, 0.003_9, SWELLING).hardness_from(JANKA_READ),
    european(Kind::Softwood, European { name: "Scots pine", density: 520.0, e: 11_000.0, bending: 85.0, shear: 10.0,
        compression: 4.9, tension: 2.6, side: 540.0 })
        .moving(0.001_9, 0.003_6, SWELLING),
    european(Kind::Hardwood, European { name: "sycamore maple", density: 630.0, e: 9_400.0, bending: 95.0, shear: 9.0,
        compression: 6.5, tension: 4.8, side: 1_050.0 })
        .moving(0.001_5, 0.002_6, SWELLING),
];
