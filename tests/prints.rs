//! What a printer makes of the parts, without supports: nothing begins in the air, ceilings are short bridges, and the fit
//! gauge is small and lies on the bed.

use std::path::Path;

use nalgebra::Isometry3;
use serde_json::{Value, json};
use underframe::geometry::{self, Fault, layers};
use underframe::model::Model;
use underframe::output::beds;
use underframe::output::kit::{self, VerifiedMesh};
use underframe::parts::{self, Part, PartKind};
use underframe::{params, plan};

/// Slivers of a layer that are no piece of it, mm2: a dot of the nozzle is ten times that.
const SLIVER: f64 = 0.01;

fn examples() -> Vec<(String, Model)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("params");
    let mut paths: Vec<_> = folder.read_dir().expect("params").map(|e| e.expect("entry").path()).collect();
    paths.sort();
    let model = |path: &Path| plan(&std::fs::read(path).expect("a file")).expect("a good file");
    paths.iter().map(|path| (path.display().to_string(), model(path))).collect()
}

fn printed(model: &Model) -> Vec<VerifiedMesh> {
    kit::mesh_all(parts::all(model).expect("parts"), &|_| ()).unwrap_or_else(|why| panic!("{why}"))
}

fn table(change: &Value) -> Model {
    let mut file = json!({
        "top": { "length": "2000 mm", "width": "1000 mm", "thickness": "40 mm" },
        "height": "740 mm",
        "legs": { "tube": "25 x 2 mm" },
        "loads": [{ "mass": "10 kg" }],
        "printing": { "bed": ["300 mm", "300 mm", "300 mm"] }
    });
    for (key, value) in change.as_object().expect("an object") {
        file[key] = value.clone();
    }
    Model::new(&params::read(&file.to_string()).expect("a good file")).expect("a good model")
}

/// Another way than the gate's: layer by layer.
#[test]
fn every_piece_of_every_layer_of_the_examples_rests_on_the_layer_below() {
    for (name, model) in examples() {
        for p in printed(&model) {
            let mut below: Option<geometry::Layer> = None;
            for layer in layers(&p.mesh, model.params.printing.layer) {
                let under = below.replace(layer.clone());
                let Some(under) = under.filter(|u| !std::sync::Arc::ptr_eq(&u.region, &layer.region)) else { continue };
                for piece in layer.region.pieces().iter().filter(|piece| piece.area() > SLIVER) {
                    let rests = piece.within(&under.region).area();
                    assert!(rests > 0.0, "{name}, {}: {:.2} mm2 at {:.2} mm", p.part.name, piece.area(), layer.middle);
                }
            }
        }
    }
}

/// Webs began half a millimetre above the bed, rail blocks a quarter.
#[test]
fn ties_stand_on_the_bed_with_all_that_begins_there() {
    for (name, model) in examples() {
        let ties: Vec<VerifiedMesh> = printed(&model).into_iter().filter(|p| p.part.kind == PartKind::Tie).collect();
        for (p, design) in ties.iter().zip(model.ties.iter().map(|kind| &kind.design)) {
            let [low, above] = [0.05, design.chamfer + 0.5].map(|z| layers(&p.mesh, 2.0 * z)[0].region.area());
            // Only the mouths' chamfers are narrower there.
            let c = design.chamfer;
            let mouths = design.bores.len() as f64 * std::f64::consts::PI * c * (design.bore + c);
            assert!(low >= above - 1.02 * mouths - 1.0, "{name}, {}: {low:.0} mm2 of {above:.0}", p.part.name);
        }
    }
}

fn a_tie() -> Part {
    let (_, model) =
        examples().into_iter().find(|(_, m)| m.ties.iter().any(|t| t.design.bores.len() > 1)).expect("one");
    let name = &model.ties[0].name;
    parts::all(&model).expect("parts").into_iter().find(|p| p.name == *name).expect("the tie")
}

#[test]
fn a_tie_whose_webs_start_above_the_bed_is_refused() {
    let mut tie = a_tie();
    let bores = tie.bores().count();
    assert!(kit::mesh_all(vec![tie.clone()], &|_| ()).is_ok());
    let raised = |f: &geometry::Feature| f.placed(&Isometry3::translation(0.0, 0.0, 0.5));
    tie.solid.adds =
        tie.solid.adds.iter().enumerate().map(|(i, f)| if i < 1 { f.clone() } else { raised(f) }).collect();
    let unsound = kit::mesh_all(vec![tie], &|_| ()).expect_err("it hangs");
    let hangs = |f: &Fault| matches!(f, Fault::Ceiling { .. } | Fault::InTheAir { .. });
    assert!(bores > 0 && unsound.faults.iter().any(hangs), "{unsound}");
}

/// The recess of a flat foot was bridged from rim to rim.
#[test]
fn a_flat_foot_lies_on_the_bed_under_any_pad() {
    for pad in ["6 mm", "20 mm", "40 mm", "100 mm"] {
        let model = table(&json!({ "foot": { "pad_diameter": pad } }));
        let foot = printed(&model).into_iter().find(|p| p.part.kind == PartKind::Foot).expect("a foot");
        let d = &model.feet[0].design;
        let face = d.length * d.width - (4.0 - std::f64::consts::PI) * d.corner_radius.powi(2);
        let lies = layers(&foot.mesh, 0.2)[0].region.area();
        // Eight marks of 0.8 x 4 mm, the engraved mark, the chord error.
        assert!((face - 60.0..face).contains(&lies), "pad of {pad}: {lies:.0} mm2 of {face:.0}");
    }
}

#[test]
fn nuts_heads_rails_and_levelling_bolts_of_any_size_print() {
    for change in [
        json!({ "bracket": { "hold": ["cross bolt M6"] } }),
        json!({ "bracket": { "gussets": { "count": 6 } } }),
        json!({ "foot": { "kind": "levelling", "bolt": "M6" } }),
        json!({ "foot": { "kind": "levelling", "bolt": "M12" } }),
        json!({ "legs": { "tube": "60 x 3 mm" }, "rails": [{ "run": "along width", "above_floor": "200 mm" }] }),
        json!({ "legs": { "tube": "25 x 2 mm", "splay": "15 deg" }, "rails": [{ "run": "along width", "above_floor": "200 mm" }] }),
    ] {
        assert!(printed(&table(&change)).len() > 3, "{change}");
    }
}

fn prints(change: &Value) {
    let made = kit::mesh_all(parts::all(&table(change)).expect("parts"), &|_| ());
    assert!(made.is_ok(), "{change}: {}", made.err().map(|unsound| unsound.to_string()).unwrap_or_default());
}

#[test]
fn a_boss_or_a_web_stood_out_over_the_rounded_corner_of_its_plate() {
    for change in [
        json!({ "legs": { "tubes": 4, "tube": "30 x 2 mm" }, "bracket": { "boss_wall": "3.25 mm" } }),
        json!({ "legs": { "tubes": 4, "tube": "30 x 2 mm", "splay": "8 deg" }, "foot": { "kind": "levelling" } }),
        json!({ "legs": { "tube": "42.4 x 2.6 mm" }, "bracket": { "corner_radius": "40 mm", "screws": { "count": 5 } } }),
        json!({ "bracket": { "corner_radius": "60 mm", "gussets": { "count": 4 }, "screws": { "count": 6 } } }),
    ] {
        prints(&change);
    }
}

fn two_rails(tubes: [&str; 2], legs: Value, chamfer: &str) -> Value {
    let rail = |run: &str, tube: &str| json!({ "run": run, "above_floor": "215 mm", "tube": tube });
    json!({
        "legs": legs,
        "bracket": { "chamfer": chamfer },
        "rails": [rail("along width", tubes[0]), rail("along length", tubes[1])]
    })
}

/// A crown grew with the mouth's chamfer, and where the rail falls from the leg the chamfer was flatter than 45 degrees.
#[test]
fn the_mouth_of_a_leaning_rails_socket_was_too_wide_a_bridge() {
    for (splay, tube, chamfer) in
        [("4.57 deg", "30 x 2 mm", "1.7 mm"), ("8 deg", "30 x 2 mm", "3 mm"), ("17 deg", "40 x 2 mm", "4 mm")]
    {
        prints(&two_rails([tube, tube], json!({ "splay": splay, "tube": tube }), chamfer));
    }
}

#[test]
fn the_floor_of_a_leaning_rails_socket_broke_into_the_tube_of_the_leg() {
    let rails = json!([{ "run": "along width", "above_floor": "277 mm" }]);
    for splay in ["10 deg", "14.3 deg"] {
        prints(&json!({ "legs": { "tube": "35 x 2 mm", "splay": splay }, "rails": rails }));
    }
}

/// What was left of a block beside a bolt began in the air, and bolts went into rails' sockets and into one another.
#[test]
fn bolts_of_ties_keep_clear_of_rails_and_of_one_another() {
    for change in [
        two_rails(["20 x 1.5 mm", "32 x 2 mm"], json!({ "tube": "30 x 2 mm", "splay": "0.4 deg" }), "1 mm"),
        json!({
            "legs": { "tube": "18 x 1.5 mm", "tubes": 3, "ties": 0 },
            "tie": { "wall": "5.4 mm" },
            "rails": [{ "run": "along width", "above_floor": "286 mm", "tube": "40 x 2 mm" }]
        }),
        json!({
            "legs": { "tube": "25 x 1.5 mm", "tubes": 2, "pitch_circle": "45 mm" },
            "tie": { "wall": "19.5 mm" },
            "rails": [{ "run": "along width", "above_floor": "235 mm" }]
        }),
    ] {
        prints(&change);
    }
}

/// Tubes from 35 mm ended with a gauge larger than the bed.
#[test]
fn the_fit_gauge_of_every_tube_lies_on_the_bed() {
    let mut several = 0;
    for (tube, splay) in (6..=80).step_by(2).flat_map(|tube| [(tube, 0), (tube, 12)]) {
        let tube_text = format!("{tube} x {:.1} mm", 0.5 + f64::from(tube) / 32.0);
        let bed = if tube > 40 { "300 mm" } else { "220 mm" };
        let change = json!({
            "legs": { "tube": tube_text, "splay": format!("{splay} deg") },
            "printing": { "bed": [bed, bed, bed] }
        });
        let model = table(&change);
        let gauge = kit::mesh_all(parts::gauge(&model).expect("parts"), &|_| ()).unwrap_or_else(|why| panic!("{why}"));
        assert_eq!(gauge.iter().map(|p| p.bores.len()).sum::<usize>(), 3, "{change}");
        let laid = beds::beds(&gauge, model.params.printing.bed);
        assert!(laid.is_ok(), "{change}: {laid:?}");
        several += usize::from(gauge.len() > 1);
    }
    assert!(several > 5, "no tube needed a second piece");
}

/// It took 45 to 149 g and up to 11 hours.
#[test]
fn the_fit_gauge_takes_at_most_an_hour_and_20_g_up_to_tubes_of_25_mm() {
    // Ordinary flow of a 0.4 mm nozzle, mm3/s, and half as much again for travel, corners and first layers (common practice, no
    // source).
    let (flow, besides) = (8.0, 1.5);
    for tube in [6, 10, 16, 20, 25] {
        let model = table(&json!({ "legs": { "tube": format!("{tube} x 1.5 mm") } }));
        let gauge = kit::mesh_all(parts::gauge(&model).expect("parts"), &|_| ()).expect("sound");
        // As if solid: with infill it is less.
        let volume: f64 = gauge.iter().map(|p| p.volume).sum();
        let (grams, hours) = (volume * model.params.printing.filament.density * 1e-6, volume / flow * besides / 3600.0);
        assert!(grams <= 20.0 && hours <= 1.0, "{tube} mm: {grams:.1} g, {hours:.2} h");
    }
}

/// Spare holes at every bracket, what is told where they are not there, and the plates.
fn spares(model: &Model) -> (bool, Option<String>, Vec<[f64; 2]>) {
    let all = model.brackets.iter().all(|kind| !kind.design.spare.is_empty());
    let told = model.assumed.iter().find(|a| a.key == "bracket.screws.spare_holes").map(|a| a.why.clone());
    (all, told, model.brackets.iter().map(|kind| [kind.design.length, kind.design.width]).collect())
}

/// The long work table asked for spare holes, got none and was told nothing.
#[test]
fn spare_holes_make_the_plate_grow() {
    let asked = examples().into_iter().filter(|(_, model)| model.params.bracket.screws.spare_holes);
    let found: Vec<_> = asked.map(|(_, model)| spares(&model)).collect();
    assert!(!found.is_empty() && found.iter().all(|(all, told, _)| *all && told.is_none()), "{found:?}");
    let two = json!({ "tube": "20 x 1.5 mm", "tubes": 2 });
    let (_, _, small) = spares(&table(&json!({ "legs": two })));
    let asks = json!({ "screws": { "spare_holes": true } });
    let (all, told, large) = spares(&table(&json!({ "legs": two, "bracket": asks })));
    assert!(all && told.is_none(), "{told:?}");
    assert!(large[0][1] > small[0][1] && large.iter().flatten().all(|side| *side <= 300.0), "{small:?} {large:?}");
}

/// What a hint says, as keys and values: `bracket.length "150 mm", printing.bed ["256 mm", "256 mm", "250 mm"]`.
fn changes(hint: &str) -> Vec<(String, Value)> {
    let (_, told) = hint.split_once("this has: ").unwrap_or_else(|| panic!("{hint}"));
    let mut all: Vec<(String, String)> = Vec::new();
    for word in told.split(", ") {
        match word.split_once(' ').filter(|(key, _)| key.contains('.') && !key.starts_with('"')) {
            Some((key, value)) => all.push((key.into(), value.into())),
            None => all.last_mut().expect("a key").1 += &format!(", {word}"),
        }
    }
    all.into_iter().map(|(key, value)| (key, serde_json::from_str(&value).expect("JSON"))).collect()
}

#[test]
fn a_hint_for_spare_holes_named_no_size() {
    let spare = json!({ "spare_holes": true });
    let two = json!({ "tube": "20 x 1.5 mm", "tubes": 2 });
    let [length, width] = spares(&table(&json!({ "legs": two }))).2[0];
    let written = json!({ "length": format!("{length} mm"), "width": format!("{width} mm"), "screws": spare });
    let narrow = json!({ "width": format!("{width} mm"), "screws": spare });
    let side = format!("{} mm", width / 2.0 + 15.0);
    let beside = json!({ "inset_from_sides": side, "tube": "20 x 1.5 mm", "tubes": 2 });
    let cases = [
        ("bracket.width \"", json!({ "legs": two, "bracket": written })),
        ("bracket.width \"", json!({ "legs": two, "bracket": narrow })),
        ("legs.inset_from_sides \"", json!({ "legs": beside, "bracket": { "screws": spare } })),
        (
            "printing.bed [",
            json!({
                "legs": two,
                "bracket": { "screws": spare },
                "printing": { "bed": ["130 mm", "130 mm", "200 mm"] }
            }),
        ),
    ];
    for (key, change) in cases {
        let (all, told, plates) = spares(&table(&change));
        let told = told.unwrap_or_else(|| panic!("{change}: {plates:?}"));
        assert!(!all && told.contains(key), "{change}: {told}");
        let mut followed = change.clone();
        for (key, value) in changes(&told) {
            let (group, name) = key.split_once('.').expect("a group");
            followed[group][name] = value;
        }
        let (all, again, _) = spares(&table(&followed));
        assert!(all && again.is_none(), "{change}: {told}: {again:?}");
    }
}
