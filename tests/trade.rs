//! Facts of the trade as check values. Each is common practice, no source: what people who build tables by hand expect.

use serde_json::{Value, json};
use underframe::model::Model;
use underframe::output::assembly;
use underframe::params;

/// An inch, mm.
const INCH: f64 = 25.4;

fn laid_out(change: impl FnOnce(&mut Value)) -> Model {
    let mut file = json!({
        "top": { "length": "60 in", "width": "28 in", "thickness": "2 in", "wood": "western redcedar" },
        "height": "30 in",
        "legs": { "tubes": 3, "tube": "1/2 EMT" },
        "loads": [{ "name": "plants", "mass": "80 lb", "lasts": "years" }]
    });
    change(&mut file);
    let params = params::read(&file.to_string()).unwrap_or_else(|list| panic!("{list:#?}"));
    Model::new(&params).unwrap_or_else(|list| panic!("{list:#?}"))
}

/// Common practice, no source: half an inch of wood stays above the holes of a two-inch top of soft wood.
#[test]
fn half_an_inch_stays_above_the_holes_of_a_soft_top() {
    for wood in ["western redcedar", "eastern white pine", "Douglas-fir"] {
        let model = laid_out(|file| file["top"]["wood"] = wood.into());
        let holes = model.holes();
        assert!(holes.len() >= 4 * 4, "{wood}");
        for hole in holes {
            let above = 2.0 * INCH - hole.depth;
            assert!(above >= INCH / 2.0 && hole.left_above_tip >= INCH / 2.0, "{wood}: {above} mm");
        }
    }
}

/// Height of the show face over each leg, mm, when its tubes are cut to the list instead of exactly.
fn show_face(model: &Model) -> Vec<f64> {
    let listed = model.cut_tubes();
    let heights = model.legs.iter().map(|leg| {
        let cut = listed.iter().find(|c| c.name == "leg tube" && c.legs.contains(&leg.number)).expect("it is listed");
        let upright = (leg.tubes[0][1] - leg.tubes[0][0]).normalize().z.abs();
        leg.bracket.pose.translation.z + leg.thickness + (cut.length - leg.tube_length) * upright
    });
    heights.collect()
}

/// Common practice, no source: a top made by hand counts as flat within 1/32 in along and 1/16 in across.
#[test]
fn the_show_face_is_flat_over_tubes_cut_to_the_list() {
    for splay in ["0 deg", "5.6 deg"] {
        let model = laid_out(|file| {
            file["top"]["thickness_at_legs"] = json!(["49.37 mm", "51.84 mm", "50.06 mm", "52.13 mm"]);
            file["legs"]["splay"] = splay.into();
        });
        let heights = show_face(&model);
        for (a, i) in model.legs.iter().zip(&heights) {
            for (b, k) in model.legs.iter().zip(&heights) {
                let along = (a.bracket.pose.translation.y - b.bracket.pose.translation.y).abs() < 1.0;
                let flat = if along { INCH / 32.0 } else { INCH / 16.0 };
                assert!((i - k).abs() <= flat, "legs {} and {}: {i} and {k} mm, {splay}", a.number, b.number);
            }
            assert!((i - 30.0 * INCH).abs() <= INCH / 32.0, "leg {}: {i} mm", a.number);
        }
    }
}

/// Common practice, no source: nine screws hold a leg.
#[test]
fn nine_screws_fit_the_bracket_of_a_leg() {
    let model = laid_out(|file| file["bracket"] = json!({ "screws": { "count": 9 } }));
    for leg in &model.legs {
        let screws = &model.brackets[leg.bracket.kind].design.screws;
        assert_eq!(screws.len(), 9, "leg {}", leg.number);
    }
}

/// Common practice, no source: glue is left for a day before it is loaded.
#[test]
fn glue_is_left_for_a_day() {
    let says = |hold: &str| {
        let model = laid_out(|file| file["bracket"] = json!({ "hold": hold }));
        assembly::steps(&model)
            .iter()
            .any(|step| step.text.contains("epoxy") && step.text.contains("leave it for a day"))
    };
    assert!(says("bonded"));
    assert!(!says("none"));
}
