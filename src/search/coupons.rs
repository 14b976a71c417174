//! Whether torn coupons would do: the strength across the layers that lets what fails pass, proved by checking anew.

use std::collections::BTreeSet;

use crate::checks::{self, ADEQUATE, Check, CheckId, Kind, Tear, Verdict, of_equal_coupons};
use crate::mechanics::Forces;
use crate::model::Model;

/// Checks that rest on the strength across the layers.
const ACROSS: [CheckId; 5] =
    [CheckId::BossRoot, CheckId::GussetToe, CheckId::HeadPullThrough, CheckId::TubePulledOut, CheckId::TieBolt];

/// What coupons would have to give, and what would pass by it; none where coupons were torn, nothing fails across the layers,
/// or no coupons would do.
#[must_use]
pub(super) fn tear(model: &Model, forces: &Forces, found: &[Check]) -> Option<Tear> {
    let printing = &model.params.printing;
    let worst = found.iter().map(Check::verdict).max()?;
    let limit = if worst == Verdict::NotAdequate { 1.0 } else { ADEQUATE };
    let above = |checks: &[Check]| -> BTreeSet<CheckId> {
        checks.iter().filter(|c| c.utilisation() > limit).map(|c| c.id).collect()
    };
    let failing: Vec<CheckId> = above(found).into_iter().filter(|id| ACROSS.contains(id)).collect();
    if !printing.coupons.is_empty() || failing.is_empty() {
        return None;
    }
    let taken = checks::characteristic(model, Kind::AcrossLayers).value;
    let short = found.iter().filter(|c| failing.contains(&c.id)).map(Check::utilisation).fold(0.0, f64::max) / limit;
    // A tenth of a MPa more than the proportion, so that rounding does not lose it.
    let wanted = ((taken * short * 10.0).ceil() / 10.0).min(printing.filament.coupon_cap);
    [wanted, printing.filament.coupon_cap].into_iter().find_map(|strength| {
        let mut torn = model.clone();
        torn.params.printing.coupons = of_equal_coupons(strength);
        let left = above(&checks::all(&torn, forces).ok()?);
        let cured: Vec<CheckId> = failing.iter().copied().filter(|id| !left.contains(id)).collect();
        let all = cured.len() == failing.len() || strength >= printing.filament.coupon_cap;
        (all && !cured.is_empty()).then_some(Tear { strength, cured })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evaluate::evaluate;
    use crate::mechanics::{Cache, Detail};
    use crate::params;

    /// A bracket that fails across its layers without coupons; followed, the advice works, and less would not do.
    #[test]
    fn coupons_that_are_asked_for_are_enough_and_no_fewer() {
        let text = r#"{"top": {"length": "900 mm", "width": "600 mm", "thickness": "30 mm"}, "height": "400 mm",
            "legs": {"tube": "25 x 2 mm"}, "loads": [{"mass": "20 kg"}], "use": "light",
            "bracket": {"boss_wall": "12 mm"}, "printing": {"infill": "100 %"}}"#;
        let solved = |text: &str| {
            let params = params::read(text).expect("read");
            evaluate(&params, Detail::Full, &Cache::default()).expect("solved")
        };
        let found = solved(text);
        let told = tear(&found.model, &found.forces, &found.checked.checks).expect("coupons would do");
        let with = |strength: f64| {
            let each = (strength / (1.0 - 2.33 * 0.10) * 1000.0).ceil() / 1000.0;
            let list = vec![format!("\"{each} MPa\""); 5].join(", ");
            let after = solved(&text.replace("\"infill\"", &format!("\"coupons\": [{list}], \"infill\"")));
            let above = |id: &CheckId| after.checked.checks.iter().any(|c| c.id == *id && c.utilisation() > 1.0);
            told.cured.iter().filter(|id| above(id)).count()
        };
        assert_eq!(with(told.strength), 0, "{told:?}");
        assert!(told.strength > 10.0 && with(0.93 * told.strength) > 0, "{told:?}");
        let torn = solved(&text.replace("\"infill\"", "\"coupons\": [\"9 MPa\", \"9 MPa\", \"9 MPa\"], \"infill\""));
        assert_eq!(tear(&torn.model, &torn.forces, &torn.checked.checks), None);
    }
}
