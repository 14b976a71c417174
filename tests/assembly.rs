//! The whole table put together from the meshes: every example's parts stand where the model says and fit one another.
//!
//! Bores and floors are measured in the written meshes with rods and rays, independent of the features they came from.

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::OnceLock;

use nalgebra::{Isometry3, Point3, Vector3};
use underframe::geometry::{Axis, Mesh, bore_diameter};
use underframe::model::{Model, face_height};
use underframe::output::{VerifiedMesh, kit};
use underframe::parts::{self, Bore};
use underframe::{params, units};

/// How far an axis or a floor may be off, mm (the brief of a printed fit: a tenth of the smallest clearance).
const OFF: f64 = 0.01;
/// Shank of a straight driver, mm.
const DRIVER: f64 = 10.0;

fn examples() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("params");
    let mut all: Vec<_> = folder
        .read_dir()
        .expect("params")
        .map(|entry| entry.expect("entry").path())
        .map(|path| {
            let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
            (name, std::fs::read_to_string(&path).expect("text"))
        })
        .collect();
    all.sort();
    assert!(all.len() >= 6);
    all
}

fn model(text: &str) -> Model {
    let params = params::read(text).unwrap_or_else(|p| panic!("{p:?}"));
    Model::new(&params).unwrap_or_else(|p| panic!("{p:?}"))
}

fn printed(model: &Model) -> Vec<VerifiedMesh> {
    kit::mesh_all(parts::all(model).expect("parts"), &|_| ()).unwrap_or_else(|u| panic!("{u}"))
}

type Example = (String, Model, Vec<VerifiedMesh>);

/// Each example with its meshes, made once for all tests.
fn each(check: impl Fn(&str, &Model, &[VerifiedMesh])) {
    static ALL: OnceLock<Vec<Example>> = OnceLock::new();
    let made = |(name, text): (String, String)| {
        let model = model(&text);
        let printed = printed(&model);
        (name, model, printed)
    };
    let all = ALL.get_or_init(|| examples().into_iter().map(made).collect());
    all.iter().for_each(|(name, model, printed)| check(name, model, printed));
}

fn kind<'a>(all: &'a [VerifiedMesh], mark: &str) -> &'a VerifiedMesh {
    all.iter().find(|p| p.part.mark == mark).expect("a part with this mark")
}

/// A line of the world in the frame of a placed part, from the point nearest to where the bore counts from, along it.
fn seen_from(pose: &Isometry3<f64>, line: &[Vector3<f64>; 2], bore: &Bore) -> Axis {
    let [a, b] = line.map(|p| pose.inverse() * Point3::from(p));
    let along = (b - a).normalize();
    let along = if along.dot(&bore.axis.dir) < 0.0 { -along } else { along };
    let foot = a + along * (bore.axis.point - a).dot(&along);
    Axis { point: foot, dir: nalgebra::Unit::new_normalize(along) }
}

/// The bore that a line passes through, and the line in its frame.
fn bore_on<'a>(p: &'a VerifiedMesh, pose: &Isometry3<f64>, line: &[Vector3<f64>; 2]) -> (&'a Bore, Axis) {
    let far = |bore: &Bore| {
        let axis = seen_from(pose, line, bore);
        (axis.point - bore.axis.point).norm() + 100.0 * (axis.dir.into_inner() - bore.axis.dir.into_inner()).norm()
    };
    let best = p.part.bores().min_by(|a, b| far(a).total_cmp(&far(b))).expect("a bore");
    assert!(far(best) < OFF, "the {} has no bore on this tube: {} mm", p.part.name, far(best));
    (best, seen_from(pose, line, best))
}

/// A rod of the bore's size about the tube's own axis passes, but for `OFF`.
fn fits(p: &VerifiedMesh, pose: &Isometry3<f64>, line: &[Vector3<f64>; 2]) {
    let (bore, axis) = bore_on(p, pose, line);
    let free = bore_diameter(&p.mesh, &axis, bore.stretch[0], bore.stretch[1]);
    let name = &p.part.name;
    assert!((free - bore.diameter).abs() < 2.0 * OFF, "{name}: {free} in a bore of {}", bore.diameter);
}

/// Where the tube's axis meets the bottom of its blind bore in the mesh, world.
fn floor_on(p: &VerifiedMesh, pose: &Isometry3<f64>, line: &[Vector3<f64>; 2]) -> Vector3<f64> {
    let (bore, axis) = bore_on(p, pose, line);
    let from = axis.at(bore.stretch[1]);
    let down = -axis.dir.into_inner();
    let hits = p.mesh.triangles.iter().filter_map(|t| hit(&p.mesh, t, from, down));
    let nearest = hits.filter(|t| *t > 0.0).fold(f64::INFINITY, f64::min);
    (pose * (from + down * nearest)).coords
}

/// Distance along a ray to a triangle (Moeller and Trumbore 1997, from memory).
fn hit(mesh: &Mesh, t: &[u32; 3], from: Point3<f64>, along: Vector3<f64>) -> Option<f64> {
    let [a, b, c] = mesh.corners(t);
    let (e, f) = (b - a, c - a);
    let p = along.cross(&f);
    let det = e.dot(&p);
    if det.abs() < 1e-14 {
        return None;
    }
    let s = from - a;
    let u = s.dot(&p) / det;
    let q = s.cross(&e);
    let v = along.dot(&q) / det;
    (u >= -1e-9 && v >= -1e-9 && u + v <= 1.0 + 1e-9).then(|| f.dot(&q) / det)
}

#[test]
fn feet_lie_flat_in_one_plane() {
    each(|name, model, all| {
        let height = face_height(&model.params);
        for leg in &model.legs {
            let foot = kind(all, &model.feet[leg.foot.kind].mark);
            let up = leg.foot.pose * Vector3::z();
            assert!((up - Vector3::z()).norm() < 1e-12, "{name} leg {}: {up}", leg.number);
            let placed = foot.mesh.transformed(&leg.foot.pose);
            let low = placed.points.iter().map(|p| p[2]).fold(f64::INFINITY, f64::min);
            assert!((low - height).abs() < OFF / 2.0, "{name} leg {}: {low} not {height}", leg.number);
            let on_floor = placed.triangles.iter().filter(|t| placed.corners(t).iter().all(|p| p.z < low + 1e-4));
            assert!(on_floor.count() > 3, "{name}: the lowest face is flat");
        }
    });
}

#[test]
fn tubes_pass_through_brackets_ties_and_feet() {
    each(|_, model, all| {
        for leg in &model.legs {
            for tube in &leg.tubes {
                fits(kind(all, &model.brackets[leg.bracket.kind].mark), &leg.bracket.pose, tube);
                fits(kind(all, &model.feet[leg.foot.kind].mark), &leg.foot.pose, tube);
                for tie in &leg.ties {
                    fits(kind(all, &model.ties[tie.part.kind].mark), &tie.part.pose, tube);
                }
            }
        }
    });
}

#[test]
fn tubes_are_as_long_as_their_sockets_are_apart_less_the_end_play() {
    each(|name, model, all| {
        for leg in &model.legs {
            for tube in &leg.tubes {
                let above = floor_on(kind(all, &model.brackets[leg.bracket.kind].mark), &leg.bracket.pose, tube);
                let below = floor_on(kind(all, &model.feet[leg.foot.kind].mark), &leg.foot.pose, tube);
                let room = (above - below).norm() - model.params.cutting.end_play;
                assert!((room - leg.tube_length).abs() < OFF, "{name}: {room} for {}", leg.tube_length);
            }
            let cut = model.cut_tubes().iter().any(|c| {
                c.legs.contains(&leg.number) && c.name == "leg tube" && (c.length - leg.tube_length).abs() <= 0.05
            });
            assert!(cut, "{name}: leg {} is in the cut list", leg.number);
        }
    });
}

#[test]
fn rails_fit_between_their_ties() {
    let mut seen = 0;
    each(|name, model, all| {
        for rail in &model.rails {
            let floors = [0, 1].map(|end| {
                let tie = &model.legs[rail.legs[end]].ties[rail.ties[end]].part;
                let part = kind(all, &model.ties[tie.kind].mark);
                fits(part, &tie.pose, &rail.ends);
                floor_on(part, &tie.pose, &rail.ends)
            });
            let room = (floors[1] - floors[0]).norm() - model.params.cutting.end_play;
            assert!((room - rail.length).abs() < OFF, "{name}: {room} for {}", rail.length);
            let level = rail.ends.iter().all(|e| (e.z - rail.height).abs() < 1e-9);
            assert!(level, "{name}: rails are level at their height");
        }
    });
    seen += examples().iter().filter(|(_, text)| !model(text).rails.is_empty()).count();
    assert!(seen >= 2, "examples with rails");
}

#[test]
fn the_show_face_is_level() {
    each(|name, model, _| {
        for leg in &model.legs {
            let top = leg.frame.head.z + leg.thickness;
            assert!((top - model.params.height).abs() < 1e-9, "{name} leg {}: {top}", leg.number);
        }
    });
}

#[test]
fn screw_holes_are_where_the_model_says() {
    each(|name, model, all| {
        for bracket in &model.brackets {
            let (d, mesh) = (&bracket.design, &kind(all, &bracket.mark).mesh);
            let stretch = [d.hole.relief + 0.2, d.plate - d.hole.sink - 0.2];
            for hole in d.screws.iter().chain(&d.spare) {
                let along = if hole.along_x { [1.0, 0.0] } else { [0.0, 1.0] };
                for s in [-0.5, 0.0, 0.5].map(|s| s * hole.slot) {
                    let axis = Axis::upright(hole.at[0] + s * along[0], hole.at[1] + s * along[1]);
                    let free = bore_diameter(mesh, &axis, stretch[0], stretch[1]);
                    assert!((free - d.hole.clear).abs() < 2.0 * OFF, "{name} {:?}: {free}", hole.at);
                }
            }
        }
        let placed: usize = model
            .legs
            .iter()
            .map(|leg| &model.brackets[leg.bracket.kind].design)
            .map(|d| d.screws.len() + d.spare.len())
            .sum();
        assert_eq!(model.holes().len(), placed, "{name}");
    });
}

#[test]
fn drill_guides_have_the_brackets_holes() {
    each(|name, model, all| {
        for bracket in &model.brackets {
            let guide = model.guides.iter().find(|g| bracket.legs.iter().all(|leg| g.legs.contains(leg)));
            let guide = guide.expect("a guide for every bracket");
            let (d, mesh) = (&bracket.design, &kind(all, &guide.mark).mesh);
            let holes: Vec<_> = d.screws.iter().chain(&d.spare).map(|h| h.at).collect();
            assert_eq!(holes, guide.design.bores, "{name}");
            for at in holes {
                let free = bore_diameter(mesh, &Axis::upright(at[0], at[1]), 0.1, guide.design.height - 0.1);
                assert!((free - guide.design.bore).abs() < 2.0 * OFF, "{name} {at:?}: {free}");
            }
            let top = mesh.aabb().max[2];
            assert!((top - guide.design.height).abs() < OFF, "{name}: the stop is {top} mm high");
            assert!((guide.design.stick_out - top - model.penetration()).abs() < OFF, "{name}: drills to depth");
        }
    });
}

#[test]
fn a_straight_driver_reaches_every_screw() {
    each(|name, model, all| {
        for bracket in &model.brackets {
            let (d, mesh) = (&bracket.design, &kind(all, &bracket.mark).mesh);
            for hole in d.screws.iter().chain(&d.spare) {
                let axis = Axis::upright(hole.at[0], hole.at[1]);
                let free = bore_diameter(mesh, &axis, d.plate + 0.05, 500.0);
                assert!(free > DRIVER.max(d.hole.head), "{name} {:?}: {free}", hole.at);
            }
        }
    });
}

#[test]
fn holes_keep_from_edges_and_bosses_from_each_other() {
    each(|name, model, _| {
        for d in model.brackets.iter().map(|b| &b.design) {
            for hole in d.screws.iter().chain(&d.spare) {
                let side = (d.length / 2.0 - hole.at[0].abs()).min(d.width / 2.0 - hole.at[1].abs());
                let wall = side - d.hole.head / 2.0 - hole.slot / 2.0;
                assert!(wall > 1.0, "{name} {:?}: {wall} mm to the edge", hole.at);
            }
            for (i, a) in d.sockets.iter().enumerate() {
                for b in &d.sockets[..i] {
                    let v = Vector3::new(a.base[0] - b.base[0], a.base[1] - b.base[1], 0.0);
                    let apart = v.cross(&a.direction()).norm() - a.outer;
                    assert!(apart > 0.5, "{name}: bosses {apart} mm apart");
                }
            }
        }
    });
}

#[test]
fn gauge_labels_tell_the_clearance_of_the_bore_beside_them() {
    each(|name, model, all| {
        let gauge = kind(all, &model.gauges[0].mark);
        let labels: Vec<_> = gauge.part.labels.iter().filter_map(|(text, bore)| Some((text, (*bore)?))).collect();
        assert_eq!(labels.len(), gauge.bores.len(), "{name}");
        let engraved: Vec<_> = gauge.part.solid.cuts.iter().filter(|f| f.kind == "label").map(|f| f.aabb()).collect();
        for (k, (text, i)) in labels.into_iter().enumerate() {
            let told: f64 = text.parse().expect("a number");
            let clearance = gauge.bores[i] - model.params.legs.tube.measured;
            assert!((told - clearance).abs() < 2.0 * OFF, "{name}: {told} on {clearance}");
            let b = &engraved[k];
            let middle = [(b.min[0] + b.max[0]) / 2.0, (b.min[1] + b.max[1]) / 2.0];
            let far = |bore: &Bore| (bore.axis.point.x - middle[0]).hypot(bore.axis.point.y - middle[1]);
            let nearest = gauge.part.bores().enumerate().min_by(|a, b| far(a.1).total_cmp(&far(b.1)));
            assert_eq!(nearest.map(|(i, _)| i), Some(i), "{name}: {text} stands beside its bore");
        }
    });
}

#[test]
fn parts_are_counted_once_and_marked_apart() {
    each(|name, model, all| {
        let marks: BTreeSet<_> = all.iter().map(|p| &p.part.mark).collect();
        let names: BTreeSet<_> = all.iter().map(|p| &p.part.name).collect();
        assert_eq!((marks.len(), names.len()), (all.len(), all.len()), "{name}");
        for p in all.iter().filter(|p| !p.part.places.is_empty()) {
            assert_eq!(p.part.places.len(), p.part.count, "{name} {}", p.part.name);
        }
        let count = |what: &str| all.iter().filter(|p| p.part.name.starts_with(what)).map(|p| p.part.count).sum();
        let ties: usize = model.legs.iter().map(|l| l.ties.len()).sum();
        assert_eq!(
            (count("bracket"), count("foot"), count("tie")),
            (model.legs.len(), model.legs.len(), ties),
            "{name}"
        );
        let bed = model.params.printing.bed;
        for p in all {
            let fits = |a: f64, b: f64| a <= bed[0] && b <= bed[1];
            let [x, y, z] = p.size;
            assert!((fits(x, y) || fits(y, x)) && z <= bed[2], "{name}: the {} fits the bed", p.part.name);
            assert!(p.mesh.aabb().min[2].abs() < 1e-6, "{name}: the {} stands on the bed", p.part.name);
        }
    });
}

#[test]
fn alike_ties_of_leaning_legs_are_one_part() {
    let text =
        params::built_in().replace("\"rails\": [{ \"run\": \"along width\", \"above_floor\": \"180 mm\" }],", "");
    let model = model(&text);
    assert!(model.rails.is_empty());
    assert_eq!(model.ties.len(), 1, "{:?}", model.ties.iter().map(|t| &t.name).collect::<Vec<_>>());
    assert_eq!(model.ties[0].count, 8);
}

#[test]
fn another_measurement_of_the_tube_changes_bores_only() {
    let before = model(params::built_in());
    let text = params::built_in().replace("15.96 mm", "15.93 mm");
    assert_ne!(text, params::built_in());
    let after = model(&text);
    assert_eq!(before.holes(), after.holes());
    let guides = |m: &Model| m.guides.iter().map(|g| (g.design.clone(), g.mark.clone())).collect::<Vec<_>>();
    assert_eq!(guides(&before), guides(&after));
    assert_eq!(before.cut_tubes(), after.cut_tubes());
    for (a, b) in before.brackets.iter().zip(&after.brackets) {
        assert_eq!((&a.design.screws, a.design.length), (&b.design.screws, b.design.length));
        assert_ne!(a.mark, b.mark, "the bracket has another bore");
        assert!((a.design.sockets[0].bore - b.design.sockets[0].bore - 0.03).abs() < 1e-9);
    }
}

#[test]
fn what_the_layout_chose_is_told() {
    each(|name, model, _| {
        let told: BTreeSet<_> = model.assumed.iter().map(|a| a.key.as_str()).collect();
        assert_eq!(told.len(), model.assumed.len(), "{name}: each key once");
        for key in ["legs.pitch_circle", "bracket.length", "bracket.boss_wall", "bracket.gussets.count", "foot.plate"] {
            let single = key == "legs.pitch_circle" && model.params.legs.tubes == 1;
            assert!(told.contains(key) || single || model.params.places.contains_key(key), "{name}: {key}");
        }
        for a in model.assumed.iter().filter(|a| a.key == "bracket.length") {
            let told: Vec<f64> = a
                .value
                .split(", ")
                .map(|one| units::read(units::Kind::Length, one).expect("as in a file").value)
                .collect();
            for bracket in &model.brackets {
                let own = bracket.design.length;
                assert!(told.iter().any(|length| (length - own).abs() < 0.01), "{name}: {own} is not in {told:?}");
            }
        }
    });
}
