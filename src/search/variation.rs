//! How the highest utilisation changes with the loads and with the tube of the legs: found by solving the changed table.

use super::changes::{self, Change};
use super::remedies;
use crate::checks::Check;
use crate::evaluate::Evaluation;
use crate::mechanics::{self, Band, Cache, Detail, PartModels};
use crate::model::Model;
use crate::parallel;
use crate::params::Design;

/// Factors on the loads of the file that are tried, beside 1 (judgement: from half to twice what is said).
const LOADS: [f64; 3] = [0.5, 1.5, 2.0];

/// What happens to the highest utilisation when one thing is varied.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Variation {
    /// Factor on all loads of the file, ascending, and the highest utilisation with it.
    pub by_load: Vec<(f64, f64)>,
    /// Tube as sold, thinnest first, the highest utilisation with it, and whether it is the one of the file. One with
    /// which the parts cannot be laid out is left out.
    pub by_tube: Vec<(String, f64, bool)>,
    /// What the band between soft and stiff joints comes from; none where the file gives their stiffness.
    pub band: Option<Band>,
}

/// One thing to try.
enum Try<'a> {
    Load(f64),
    Tube(&'a Change),
}

/// Tries other loads, with the plate models of the table's own brackets, and other tubes.
#[must_use]
pub fn variation(design: &Design, model: &Model, checks: &[Check], plates: &PartModels, cache: &Cache) -> Variation {
    let now = highest(checks);
    let tubes = changes::tubes_near(design, model);
    let loads = LOADS.iter().filter(|_| !model.params.loads.is_empty()).map(|factor| Try::Load(*factor));
    let tries: Vec<Try> = loads.chain(tubes.iter().filter_map(|t| t.change.as_ref()).map(Try::Tube)).collect();
    let found = parallel::map(&tries, |what| match what {
        Try::Load(factor) => with_loads(model, *factor, plates),
        Try::Tube(change) => remedies::changed(design, &change.edits, Detail::Full, cache)
            .and_then(|found| highest(&found.checked.checks)),
    });
    let mut found = found.into_iter();
    let band = mechanics::band(model, plates).ok().flatten();
    let mut out = Variation { band, ..Variation::default() };
    if !model.params.loads.is_empty() {
        out.by_load =
            LOADS.iter().filter_map(|f| Some((*f, found.next()??))).chain(now.map(|now| (1.0, now))).collect();
        out.by_load.sort_by(|a, b| a.0.total_cmp(&b.0));
    }
    for tube in &tubes {
        let used = if tube.change.is_some() { found.next().flatten() } else { now };
        out.by_tube.extend(used.map(|used| (tube.name.clone(), used, tube.change.is_none())));
    }
    out
}

fn highest(checks: &[Check]) -> Option<f64> {
    checks.iter().map(Check::utilisation).reduce(f64::max)
}

fn with_loads(model: &Model, factor: f64, plates: &PartModels) -> Option<f64> {
    let mut params = model.params.clone();
    for load in &mut params.loads {
        load.force *= factor;
        load.mass *= factor;
        if let Some([moving, _]) = load.shaking.as_mut().and_then(|shaking| shaking.moving.as_mut()) {
            *moving *= factor;
        }
    }
    highest(&Evaluation::on(Model::new(&params).ok()?, plates).ok()?.checked.checks)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evaluate::evaluate;
    use crate::params;

    /// Two ways: the point at factor 1 and the file's own tube are the table itself; twice the load is the file with its
    /// masses doubled by hand.
    #[test]
    fn the_points_are_those_of_the_changed_files() {
        let file = |kg: u32| {
            format!(
                r#"{{"top": {{"length": "1200 mm", "width": "600 mm", "thickness": "30 mm"}}, "height": "740 mm",
                    "legs": {{"tube": "25 x 2 mm"}}, "loads": [{{"mass": "{kg} kg"}}]}}"#
            )
        };
        let table = |text: &str| {
            evaluate(&params::read(text).expect("read"), Detail::Full, &Cache::default()).expect("evaluated")
        };
        let solved = |table: &Evaluation| highest(&table.checked.checks).expect("checked");
        let text = file(40);
        let (design, _) = params::read_design(text.as_bytes()).expect("read");
        let Evaluation { model, checked, .. } = table(&text);
        let cache = Cache::default();
        let plates = PartModels::new(&model, Detail::Full, &cache).expect("plates");
        let found = variation(&design, &model, &checked.checks, &plates, &cache);
        let factors: Vec<f64> = found.by_load.iter().map(|p| p.0).collect();
        assert_eq!(factors, [0.5, 1.0, 1.5, 2.0]);
        assert_eq!(found.by_load[3].1, solved(&table(&file(80))));
        let own: Vec<_> = found.by_tube.iter().filter(|t| t.2).collect();
        assert!(own.len() == 1 && own[0].0 == "25 x 2 mm" && own[0].1 == found.by_load[1].1, "{found:?}");
        assert!(found.by_tube.len() > 2, "{found:?}");
        let other = found.by_tube.iter().find(|t| !t.2).expect("another tube");
        assert_eq!(other.1, solved(&table(&text.replace("25 x 2 mm", &other.0))));
    }
}
