//! Parts to judged meshes: every file is read back and measured before it counts.

use std::sync::OnceLock;

use crate::formats::stl;
use crate::geometry::brep::{self, Brep};
use crate::geometry::{self, Fault, Judgement, LABEL_DEPTH, Label, Mesh, Solid};
use crate::parallel;
use crate::parts::{CHORD, Part};

/// How much larger than named a bore may be in the written mesh, mm.
pub const BORE_OVER: f64 = 0.02;

/// Steps by which features are nudged apart, mm: far above the rounding of the file, below what any printer shows.
const NUDGES: [f64; 3] = [0.001, 0.002, 0.003];

/// A part with its judged mesh.
#[derive(Clone, Debug)]
pub struct VerifiedMesh {
    /// The part.
    pub part: Part,
    /// The mesh as read back from the written bytes.
    pub mesh: Mesh,
    /// Binary STL.
    pub stl: Vec<u8>,
    /// The exact solid, where the part can be glued; its engraving is left out.
    pub exact: Option<Brep>,
    /// Enclosed volume, mm3.
    pub volume: f64,
    /// Size of the box round it, mm.
    pub size: [f64; 3],
    /// Measured diameter of each bore, mm, in the order of [`Part::bores`].
    pub bores: Vec<f64>,
    /// Plastic that infill leaves out, mm3, once it was asked; kept since several papers ask.
    pub hollow: OnceLock<f64>,
}

/// A part that is not sound, and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Unsound {
    /// Name of the part.
    pub part: String,
    /// What is wrong with it.
    pub faults: Vec<Fault>,
    /// Bores that came out wrong: wanted and measured, mm.
    pub bores: Vec<[f64; 2]>,
}

impl std::fmt::Display for Unsound {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "the {} is not sound:", self.part)?;
        self.faults.iter().try_for_each(|fault| write!(f, " {fault};"))?;
        self.bores.iter().try_for_each(|[want, got]| write!(f, " a bore measures {got:.3} mm, not {want:.3} mm;"))
    }
}

/// Meshes, writes, reads back and judges every part, on as many cores as there are; `done` hears of each.
///
/// # Errors
/// The first part, in list order, that is not sound.
pub fn mesh_all(parts: Vec<Part>, done: &(dyn Fn(&str) + Sync)) -> Result<Vec<VerifiedMesh>, Unsound> {
    let made = |part: &Part| {
        let made = one(part);
        done(&part.name);
        made
    };
    parallel::map(&parts, made).into_iter().collect()
}

/// The mesh as written and read back; where features nearly fall together and spoil it, once more with them nudged apart.
fn judged(part: &Part) -> Result<(Vec<u8>, Judgement), Vec<Fault>> {
    let attempt = |solid: &Solid| {
        let (mesh, filled) = solid.mesh_and_pockets().map_err(|fault| vec![fault])?;
        let stl = stl::write(&mesh);
        let judged = geometry::judge(&stl)?;
        let mut faults = geometry::disagreements(&judged.mesh, solid, CHORD, filled);
        faults.extend(geometry::hanging(&judged.mesh));
        if faults.is_empty() { Ok((stl, judged)) } else { Err(faults) }
    };
    attempt(&part.solid).or_else(|first| {
        let adds = NUDGES.iter().map(|step| part.solid.nudged(*step));
        let all = NUDGES.iter().map(|step| part.solid.nudged_throughout(*step));
        adds.chain(all).find_map(|nudged| attempt(&nudged).ok()).ok_or(first)
    })
}

fn one(part: &Part) -> Result<VerifiedMesh, Unsound> {
    let unsound = |faults: Vec<Fault>| Unsound { part: part.name.clone(), faults, bores: Vec::new() };
    let (stl, judged) = judged(part).map_err(unsound)?;
    let bores: Vec<f64> =
        part.bores().map(|b| geometry::bore_diameter(&judged.mesh, &b.axis, b.stretch[0], b.stretch[1])).collect();
    let wrong: Vec<[f64; 2]> = part
        .bores()
        .zip(&bores)
        .filter(|(b, got)| !(b.diameter - 1e-4..=b.diameter + BORE_OVER).contains(*got))
        .map(|(b, got)| [b.diameter, *got])
        .collect();
    if !wrong.is_empty() {
        return Err(Unsound { part: part.name.clone(), faults: Vec::new(), bores: wrong });
    }
    let exact = exact(part, judged.volume).map_err(|f| unsound(vec![f]))?;
    let boxed = judged.mesh.aabb();
    let size = [0, 1, 2].map(|k| boxed.max[k] - boxed.min[k]);
    Ok(VerifiedMesh {
        part: part.clone(),
        exact,
        volume: judged.mesh.volume(),
        size,
        mesh: judged.mesh,
        stl,
        bores,
        hollow: OnceLock::new(),
    })
}

/// The exact solid of a part, if its features can be glued; its volume must be that of the mesh within the chord error.
fn exact(part: &Part, meshed: f64) -> Result<Option<Brep>, Fault> {
    let Ok(glued) = brep::exact(&part.solid) else { return Ok(None) };
    let labels = part.solid.cuts.iter().filter(|f| f.kind == "label");
    let mesh = meshed + labels.map(|f| Label::engraved(f, LABEL_DEPTH)).sum::<f64>();
    let (exact, bound) = (glued.volume, CHORD * glued.curved_area);
    if (exact - mesh).abs() <= bound { Ok(Some(glued)) } else { Err(Fault::Volumes { exact, mesh, bound }) }
}
