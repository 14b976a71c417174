//! Bending and shear stiffness of an element from what stands on it.

use super::grid::{Grid, SAMPLES};
use super::{CalibratedCompliances, Plate, Rib};

/// Shear correction of a plate.
const SHEAR: f64 = 5.0 / 6.0;
/// A stiff element is at most this much stiffer than the plate.
const STIFFEST: f64 = 1e3;
/// Most gain of a rib where it meets a boss within an element.
const RIB_GAIN: f64 = 30.0;

/// Bending and shear stiffness of one element.
#[derive(Clone, Copy, Default)]
pub(super) struct Section {
    pub(super) bending: [[f64; 3]; 3],
    pub(super) shear: [[f64; 2]; 2],
}

impl Section {
    fn is_empty(&self) -> bool {
        self.bending[0][0] == 0.0 && self.bending[1][1] == 0.0
    }
}

impl Plate {
    pub(super) fn in_boss(&self, [x, y]: [f64; 2], radius: f64) -> bool {
        self.bosses.iter().any(|b| (x - b[0]).hypot(y - b[1]) < radius)
    }

    fn shear_modulus(&self) -> f64 {
        self.modulus / 2.0 / (1.0 + self.poisson)
    }

    pub(super) fn bending_modulus(&self) -> f64 {
        self.modulus * self.fill.bending(self.thickness)
    }

    /// Stiffness of the plastic pressed between wood and screw head, N/mm3, and what a head's ring of walls makes of it.
    pub(super) fn pressed(&self) -> [f64; 2] {
        let solid = self.modulus / self.thickness;
        [solid * self.fill.through(self.thickness), solid * self.fill.round_hole(self.thickness, self.head / 2.0)]
    }

    /// Modulus of a boss's wall, MPa.
    pub(super) fn wall_modulus(&self) -> f64 {
        self.modulus * self.fill.upright((self.boss - self.bore) / 2.0)
    }

    /// Plain plate, made stiff where a boss stands.
    pub(super) fn base_section(&self, boss_share: f64) -> Section {
        let gain = (1.0 / (1.0 - boss_share).max(1.0 / STIFFEST)).min(STIFFEST);
        let nu = self.poisson;
        let d = gain * self.bending_modulus() * self.thickness.powi(3) / 12.0 / (1.0 - nu * nu);
        let s = gain * SHEAR * self.fill.shear(self.thickness) * self.shear_modulus() * self.thickness;
        Section {
            bending: [[d, nu * d, 0.0], [nu * d, d, 0.0], [0.0, 0.0, (1.0 - nu) / 2.0 * d]],
            shear: [[s, 0.0], [0.0, s]],
        }
    }

    pub(super) fn boss_share(&self, grid: &Grid, cell: [usize; 2], soft: &CalibratedCompliances) -> f64 {
        let radius = self.boss / 2.0 - soft.boss_edge;
        if !self.in_boss(grid.middle(cell), radius + grid.half_diagonal()) {
            return 0.0;
        }
        grid.samples(cell).filter(|(p, _)| self.in_boss(*p, radius)).count() as f64 / (SAMPLES * SAMPLES) as f64
    }

    /// Where a boss stands in a part of an element, the ribs bridge the rest in full.
    fn rib_section(&self, grid: &Grid, cell: [usize; 2], rib: &Rib, soft: &CalibratedCompliances) -> Section {
        let mut section = Section::default();
        if !rib.reaches(grid.middle(cell), grid.half_diagonal()) {
            return section;
        }
        let radius = self.boss / 2.0 - soft.boss_edge;
        let gain = (1.0 / (1.0 - self.boss_share(grid, cell, soft))).min(RIB_GAIN).powi(2);
        let part = gain / (SAMPLES * SAMPLES) as f64;
        for (p, _) in grid.samples(cell).filter(|(p, _)| !self.in_boss(*p, radius)) {
            self.add_rib(&mut section, rib, p, soft, part);
        }
        section
    }

    /// Ribs and their sections on an element.
    pub(super) fn ribs_on(&self, grid: &Grid, cell: [usize; 2], soft: &CalibratedCompliances) -> Vec<(usize, Section)> {
        let sections = self.ribs.iter().map(|rib| self.rib_section(grid, cell, rib, soft)).enumerate();
        sections.filter(|(_, section)| !section.is_empty()).collect()
    }

    fn add_rib(&self, section: &mut Section, rib: &Rib, p: [f64; 2], soft: &CalibratedCompliances, part: f64) {
        let Some(h) = rib.height_at(p) else { return };
        let (t, w) = (self.thickness, rib.thickness);
        let (upright, level) = (self.fill.upright(w), self.fill.level(t));
        let g = upright * self.shear_modulus();
        let (stem, flange) = (upright * h * w, level * (w + soft.flange * rib.length) * t);
        let lever = f64::midpoint(h, t);
        let inertia = upright * w * h.powi(3) / 12.0 + stem * flange / (stem + flange) * lever * lever;
        let along = part * self.modulus * inertia / w;
        let twist = part * g * h.min(w).powi(3) * h.max(w) / 12.0 / w;
        let shear = part * soft.rib_shear * SHEAR * g * h;
        let (s, c) = rib.angle.sin_cos();
        let (bend, turn, dir) = ([c * c, s * s, c * s], [-2.0 * c * s, 2.0 * c * s, c * c - s * s], [c, s]);
        for i in 0..3 {
            for j in 0..3 {
                section.bending[i][j] += along * bend[i] * bend[j] + twist * turn[i] * turn[j];
            }
        }
        for i in 0..2 {
            for j in 0..2 {
                section.shear[i][j] += shear * dir[i] * dir[j];
            }
        }
    }
}

impl Rib {
    /// May stand within a distance of a place.
    fn reaches(&self, [x, y]: [f64; 2], distance: f64) -> bool {
        let (s, c) = self.angle.sin_cos();
        let (dx, dy) = (x - self.from[0], y - self.from[1]);
        let (u, v) = (dx * c + dy * s, dy * c - dx * s);
        u > -distance && u < self.length + distance && v.abs() < self.thickness / 2.0 + distance
    }

    fn height_at(&self, [x, y]: [f64; 2]) -> Option<f64> {
        let (s, c) = self.angle.sin_cos();
        let (dx, dy) = (x - self.from[0], y - self.from[1]);
        let (u, v) = (dx * c + dy * s, dy * c - dx * s);
        let inside = u > 0.0 && u < self.length && v.abs() < self.thickness / 2.0;
        inside.then(|| self.height[0] + (self.height[1] - self.height[0]) * u / self.length)
    }
}
