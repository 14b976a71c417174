//! The report for people: one HTML page that needs nothing else.

mod solids;
mod stills;
#[cfg(test)]
pub(crate) mod sample;

use super::{Files, Kit};

/// The page.
///
/// # Errors
/// A template that cannot be filled.
pub fn write(_kit: &Kit) -> Result<Files, String> {
    Ok(Files::new())
}

#[cfg(test)]
mod tests {
    use super::*;
    #[test]
    fn timing() {
        let t = std::time::Instant::now();
        let s = sample::Sample::new("x");
        eprintln!("sample {:?}", t.elapsed());
        for p in &s.printed { eprintln!("{} {} {}", p.part.name, p.mesh.triangles.len(), p.mesh.points.len()); }
        let kit = s.kit();
        let table = solids::Table::new(&kit);
        let t = std::time::Instant::now();
        let w = stills::whole(&kit, &table);
        eprintln!("whole {:?} {}", t.elapsed(), w.len());
        std::fs::write("/tmp/whole.svg", &w);
        let t = std::time::Instant::now();
        for (i, (_, v)) in stills::views(&kit, &table).iter().enumerate() { eprintln!("view {:?} {}", t.elapsed(), v.len()); std::fs::write(format!("/tmp/view{i}.svg"), v); }
        let t = std::time::Instant::now();
        for (i, p) in s.printed.iter().enumerate() { for (j, (_, v)) in stills::part(p).iter().enumerate() { eprintln!("part {:?} {}", t.elapsed(), v.len()); std::fs::write(format!("/tmp/part{i}_{j}.svg"), v); } }
    }
}
