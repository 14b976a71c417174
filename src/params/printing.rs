//! Printer and filament: [`Printing`] from its keys.

use super::accept;
use super::reader::{Group, Reader};
use super::rows::FILAMENTS;
use super::value::Value;
use super::{Coupons, Printing};
use crate::units::Kind;

/// The commonest bed and height, mm; the text in the table of keys says the same.
const BED: [f64; 3] = [220.0, 220.0, 250.0];

/// Reads what is to be known of the printer.
pub(super) fn printing(r: &mut Reader, root: &Group<'_>) -> Printing {
    let g = r.group(root, &accept::PRINTING);
    let filament = FILAMENTS.read(r, &g, &accept::FILAMENT, accept::FILAMENT.default_text());
    let (nozzle, layer) = (r.quantity(&g, &accept::NOZZLE), r.quantity(&g, &accept::LAYER));
    let walls = r.count(&g, &accept::WALLS);
    Printing {
        filament,
        coupons: coupons(r, &g),
        nozzle,
        layer,
        walls,
        solid_layers: solid_layers(r, &g, walls as f64 * nozzle / layer),
        infill: r.quantity(&g, &accept::INFILL),
        bed: bed(r, &g),
        clearance: r.quantity(&g, &accept::CLEARANCE),
        filament_diameter: r.quantity(&g, &accept::FILAMENT_DIAMETER),
        price_per_kg: r.number_if(&g, &accept::PRICE),
    }
}

/// Loads or strengths of the coupons that were torn.
fn coupons(r: &mut Reader, g: &Group<'_>) -> Coupons {
    let Some(found) = r.value(g, &accept::COUPONS) else { return Coupons::Strengths(Vec::new()) };
    match found.value {
        Value::Quantities(Kind::Force, all) => Coupons::Loads(all.clone()),
        Value::Quantities(_, all) => Coupons::Strengths(all.clone()),
        _ => Coupons::Strengths(Vec::new()),
    }
}

/// Fewest solid layers that are chosen (judgement: the first ones sag into the infill).
const FEWEST_SOLID: usize = 4;
/// Most that are chosen: as many as the file may say.
const MOST_SOLID: usize = 500;
/// What rounding may add to a whole number of layers.
const ROUNDING: f64 = 1e-6;

/// The file's own number, or as many layers as are as thick as the walls.
fn solid_layers(r: &mut Reader, g: &Group<'_>, of_walls: f64) -> usize {
    r.count_if(g, &accept::SOLID_LAYERS).unwrap_or_else(|| {
        let layers = ((of_walls - ROUNDING).ceil() as usize).clamp(FEWEST_SOLID, MOST_SOLID);
        r.assume(g, &accept::SOLID_LAYERS, layers.to_string());
        layers
    })
}

fn bed(r: &mut Reader, g: &Group<'_>) -> [f64; 3] {
    let Some(bed) = r.quantities_if(g, &accept::BED) else {
        r.assume(g, &accept::BED, accept::BED.default_text());
        return BED;
    };
    bed.try_into().unwrap_or(BED)
}
