//! Printer and filament: [`Printing`] from its keys.

use super::Printing;
use super::accept;
use super::reader::{Group, Reader};
use super::rows::FILAMENTS;

/// The commonest bed and height, mm; the text in the table of keys says the same.
const BED: [f64; 3] = [220.0, 220.0, 250.0];

/// Reads what is to be known of the printer.
pub(super) fn printing(r: &mut Reader, root: &Group<'_>) -> Printing {
    let g = r.group(root, &accept::PRINTING);
    Printing {
        filament: FILAMENTS.read(r, &g, &accept::FILAMENT, accept::FILAMENT.default_text()),
        nozzle: r.quantity(&g, &accept::NOZZLE),
        layer: r.quantity(&g, &accept::LAYER),
        walls: r.count(&g, &accept::WALLS),
        infill: r.quantity(&g, &accept::INFILL),
        bed: bed(r, &g),
        clearance: r.quantity(&g, &accept::CLEARANCE),
        filament_diameter: r.quantity(&g, &accept::FILAMENT_DIAMETER),
        price_per_kg: r.number_if(&g, &accept::PRICE),
    }
}

fn bed(r: &mut Reader, g: &Group<'_>) -> [f64; 3] {
    let Some(bed) = r.quantities_if(g, &accept::BED) else {
        r.assume(g, &accept::BED, accept::BED.default_text());
        return BED;
    };
    bed.try_into().unwrap_or(BED)
}
