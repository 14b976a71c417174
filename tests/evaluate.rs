//! The pipeline is a pure function of its values: the same bits whatever was asked before and on however many threads.

#[path = "common/dice.rs"]
mod dice;

use dice::Dice;
use underframe::evaluate::{Evaluation, evaluate};
use underframe::mechanics::{Cache, Detail};
use underframe::params::{self, Params};
use underframe::{Failure, parallel};

/// Small tables that differ in what their brackets are made of; some are refused.
fn random(dice: &mut Dice) -> Params {
    loop {
        let tubes = dice.of_list(&[1, 1, 2, 3]);
        let text = format!(
            r#"{{ "top": {{ "length": "{:.0} mm", "width": "{:.0} mm", "thickness": "{:.0} mm", "wood": "{}" }},
                 "height": "{:.0} mm",
                 "legs": {{ "tubes": {tubes}, "splay": "{:.1} deg", "tube": "{} x 1.5 mm" }},
                 "bracket": {{ "hold": "{}" }},
                 "printing": {{ "filament": "{}", "infill": "{:.0} %" }},
                 "loads": [{{ "mass": "{:.0} kg" }}, {{ "force": "{:.0} N", "at": ["30 %", "0 %"], "lasts": "minutes" }}] }}"#,
            dice.between(700.0, 1500.0),
            dice.between(450.0, 800.0),
            dice.between(26.0, 45.0),
            dice.of_list(&["Scots pine", "European oak", "American beech"]),
            dice.between(450.0, 900.0),
            dice.between(0.0, 8.0),
            dice.of_list(&[16, 20, 25]),
            dice.of_list(&["ribs", "bonded", "none"]),
            dice.of_list(&["PETG", "PLA"]),
            dice.between(10.0, 90.0),
            dice.between(5.0, 60.0),
            dice.between(50.0, 400.0),
        );
        if let Ok(params) = params::read(&text)
            && underframe::model::Model::new(&params).is_ok()
        {
            return params;
        }
    }
}

/// Every figure with all its digits.
fn bits(found: &Result<Evaluation, Failure>) -> String {
    match found {
        Ok(Evaluation { forces, checked, .. }) => format!("{forces:?} {:?} {:?}", checked.checks, checked.cautions),
        Err(why) => format!("{why:?}"),
    }
}

#[test]
fn the_same_values_give_the_same_bits_in_any_order_on_one_thread_and_on_two() {
    let mut dice = Dice::of(20_261);
    let designs: Vec<(Params, Detail)> =
        (0..12).map(|_| (random(&mut dice), if dice.chance(0.3) { Detail::Full } else { Detail::Sketch })).collect();
    let alone: Vec<String> =
        designs.iter().map(|(params, detail)| bits(&evaluate(params, *detail, &Cache::default()))).collect();
    assert!(alone.iter().any(|text| text.contains("Check")), "some can be evaluated");
    let forward: Vec<usize> = (0..designs.len()).chain(0..designs.len()).collect();
    let back: Vec<usize> = forward.iter().rev().copied().collect();
    for (threads, order) in [(1, forward.clone()), (1, back.clone()), (2, forward), (2, back)] {
        let cache = Cache::default();
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads");
        let again = pool.install(|| parallel::map(&order, |i| bits(&evaluate(&designs[*i].0, designs[*i].1, &cache))));
        for (i, text) in order.iter().zip(again) {
            assert!(text == alone[*i], "design {i} on {threads} threads differs");
        }
    }
}
