use super::*;

/// A mesh that owns its lists.
struct Mesh(Vec<Space>, Vec<[usize; 3]>);

impl Mesh {
    fn body(&self) -> Body<'_> {
        Body { points: &self.0, triangles: &self.1 }
    }

    fn quad(&mut self, [a, b, c, d]: [usize; 4]) {
        self.1.extend([[a, b, c], [a, c, d]]);
    }
}

fn block(low: Space, high: Space) -> Mesh {
    let corner = |i: usize| [[low[0], high[0]][i & 1], [low[1], high[1]][i >> 1 & 1], [low[2], high[2]][i >> 2]];
    let mut mesh = Mesh((0..8).map(corner).collect(), Vec::new());
    for quad in [[0, 2, 3, 1], [4, 5, 7, 6], [0, 1, 5, 4], [2, 6, 7, 3], [0, 4, 6, 2], [1, 3, 7, 5]] {
        mesh.quad(quad);
    }
    mesh
}

/// A square plate, 40 x 40 x `t`, with a bore of 10 mm radius in its middle, of `n` sides; `n` is 4 more than a multiple
/// of 8, so that one point of the outline lies in each corner.
fn bored_plate(t: f64, n: usize) -> Mesh {
    let mut mesh = Mesh(Vec::new(), Vec::new());
    for z in [0.0, t] {
        for radius in [10.0, 20.0] {
            for i in 0..n {
                let (s, c) = ((i as f64 + 0.5) / n as f64 * std::f64::consts::TAU).sin_cos();
                let k = if radius > 15.0 { 20.0 / s.abs().max(c.abs()) } else { radius };
                mesh.0.push([k * c, k * s, z]);
            }
        }
    }
    for i in 0..n {
        let j = (i + 1) % n;
        let [inner, outer, top_in, top_out] = [0, n, 2 * n, 3 * n];
        mesh.quad([top_in + i, top_out + i, top_out + j, top_in + j]);
        mesh.quad([inner + j, outer + j, outer + i, inner + i]);
        mesh.quad([outer + i, outer + j, top_out + j, top_out + i]);
        mesh.quad([inner + j, inner + i, top_in + i, top_in + j]);
    }
    mesh
}

fn lines(d: &Drawing, pen: Pen) -> Vec<(&[Point], bool)> {
    let of_pen = d.items.iter().filter_map(|i| match i {
        Item::Line { points, closed, pen: p } if *p == pen => Some((&points[..], *closed)),
        _ => None,
    });
    of_pen.collect()
}

fn drawn(d: &Drawing) -> f64 {
    let both = [Pen::Thick, Pen::Thin].into_iter().flat_map(|p| lines(d, p));
    both.map(|(points, closed)| length(&Chain { points: points.to_vec(), closed })).sum()
}

/// Of the twelve edges of a cube three are hidden; six are its outline. Isometric length: sqrt(2/3) of the true one.
#[test]
fn a_cube_shows_nine_edges() {
    let cube = block([0.0; 3], [30.0; 3]);
    let d = picture("cube", &[cube.body()], View::Isometric, 1.0, false);
    assert_eq!((lines(&d, Pen::Thick).len(), lines(&d, Pen::Thin).len()), (6, 3));
    assert!((drawn(&d) - 9.0 * 30.0 * (2.0_f64 / 3.0).sqrt()).abs() < 1e-6);
}

#[test]
fn a_block_seen_along_an_axis_is_a_rectangle() {
    let b = block([0.0; 3], [30.0, 20.0, 10.0]);
    for (view, around) in [(View::Top, 100.0), (View::Front, 80.0), (View::Side, 60.0)] {
        let d = picture("block", &[b.body()], view, 1.0, false);
        assert_eq!(d.items.len(), 4, "{view:?}");
        assert!((drawn(&d) - around).abs() < 1e-6, "{view:?}");
    }
}

/// From above: four sides and one ring of radius 10; the lower rim is hidden behind the upper one.
#[test]
fn a_bored_plate_from_above_has_one_ring() {
    let d = picture("plate", &[bored_plate(8.0, 60).body()], View::Top, 1.0, false);
    let thick = lines(&d, Pen::Thick);
    let rings: Vec<_> = thick.iter().filter(|l| l.1).collect();
    assert_eq!((thick.len(), rings.len(), lines(&d, Pen::Thin).len()), (5, 1, 0));
    let centre = Frame::new(&[bored_plate(8.0, 60).body()], View::Top, 1.0).at([0.0; 3]);
    assert!(rings[0].0.iter().all(|p| ((p[0] - centre[0]).hypot(p[1] - centre[1]) - 10.0).abs() < 1e-9));
}

/// Isometric: nine edges of the plate, the upper rim, and the part of the lower rim that shows through the bore.
#[test]
fn a_bored_plate_shows_the_far_rim_through_the_bore() {
    let thin_plate = picture("plate", &[bored_plate(4.0, 124).body()], View::Isometric, 1.0, false);
    let thick_plate = picture("plate", &[bored_plate(40.0, 124).body()], View::Isometric, 1.0, false);
    let plate_edges = |t: f64| (6.0 * 40.0 + 3.0 * t) * (2.0_f64 / 3.0).sqrt();
    // An ellipse with half axes 10 and 10/sqrt(3): perimeter by Ramanujan's second formula, good to 1e-5 here.
    let (a, b) = (10.0, 10.0 / 3.0_f64.sqrt());
    let h = ((a - b) / (a + b)) * ((a - b) / (a + b));
    let rim = std::f64::consts::PI * (a + b) * (1.0 + 3.0 * h / (10.0 + (4.0 - 3.0 * h).sqrt()));
    assert!((drawn(&thick_plate) - plate_edges(40.0) - rim).abs() < 0.1, "far rim out of sight");
    // The lower rim is the upper one moved down by 4 sqrt(2/3); what lies inside the upper ellipse shows. The two cross
    // at half the move above the lower one's middle, at the angle asin(2 sqrt(2/3) / b) on either side.
    let crossing = (2.0 * (2.0_f64 / 3.0).sqrt() / b).asin();
    let n = 100_000;
    let arc: f64 = (0..n)
        .map(|i| {
            let t = crossing + (std::f64::consts::PI - 2.0 * crossing) * (f64::from(i) + 0.5) / f64::from(n);
            (a * t.sin()).hypot(b * t.cos()) * (std::f64::consts::PI - 2.0 * crossing) / f64::from(n)
        })
        .sum();
    let found = drawn(&thin_plate) - plate_edges(4.0) - rim;
    assert!((found - arc).abs() < 0.2, "{found} for {arc}");
    assert!(thin_plate.items.len() <= 13, "{}", thin_plate.items.len());
}

/// A block behind another is hidden; beside it, it is seen.
#[test]
fn bodies_hide_each_other() {
    let (near, far) = (block([0.0; 3], [30.0; 3]), block([5.0, 50.0, 5.0], [25.0, 60.0, 25.0]));
    let both = picture("two", &[near.body(), far.body()], View::Front, 1.0, false);
    assert_eq!(both.items.len(), 4);
    let half = block([20.0, 50.0, 5.0], [45.0, 60.0, 25.0]);
    let both = picture("two", &[near.body(), half.body()], View::Front, 1.0, false);
    assert!((drawn(&both) - 120.0 - 20.0 - 2.0 * 15.0).abs() < 0.01, "one end and two sides from x = 30 on");
}

/// A round body of many facets is drawn by its outline and rims only, in few lines.
#[test]
fn facets_of_a_round_do_not_show() {
    let plate = bored_plate(8.0, 404);
    let d = picture("plate", &[plate.body()], View::Isometric, 1.0, true);
    let count = lines(&d, Pen::Thick).len() + lines(&d, Pen::Thin).len();
    assert!(count <= 13, "{count}");
    assert!(d.items.iter().any(|i| matches!(i, Item::Fill { .. })));
}

#[test]
fn an_empty_picture_is_empty() {
    let d = picture("none", &[], View::Top, 1.0, true);
    assert!(d.items.is_empty() && d.width.is_finite());
    let broken = Mesh(vec![[0.0; 3]], vec![[0, 1, 2]]);
    assert!(picture("none", &[broken.body()], View::Top, 1.0, true).items.is_empty());
}
