//! What must hold for any bytes whatever; used by the fuzz targets and, on the kept corpus, by `tests/corpus.rs`.

use underframe::model::Model;
use underframe::params::read_bytes;
use underframe::problem::{Problem, is_printable};
use underframe::units::{self, Kind};

/// A message is shorter than this, characters: what a file holds is quoted short. The longest lists every word of a key.
const LONGEST: usize = 2000;

/// The parameter reader: a layout, or problems that a person can find and mend.
pub fn parameters(bytes: &[u8]) {
    let lines = 1 + bytes.iter().filter(|byte| matches!(byte, b'\n' | b'\r')).count();
    match read_bytes(bytes) {
        Err(problems) => well_told(&problems, lines),
        Ok(params) => match Model::new(&params) {
            Err(problems) => well_told(&problems, lines),
            Ok(model) => assert!(!model.legs.is_empty() && model.cut_tubes().iter().all(|cut| cut.length.is_finite())),
        },
    }
}

/// Every problem has a place inside the file and words without control characters.
fn well_told(problems: &[Problem], lines: usize) {
    assert!(!problems.is_empty(), "refused without a reason");
    for problem in problems {
        let place = problem.place;
        assert!((1..=lines).contains(&place.line) && place.column > 0, "{lines} lines: {problem:?}");
        assert!(!problem.message.is_empty(), "{problem:?}");
        let shown = problem.show("file.json");
        assert!(shown.chars().all(|c| c == '\n' || is_printable(c)), "{shown:?}");
        assert!(shown.chars().count() < LONGEST, "{} characters: {shown}", shown.chars().count());
    }
}

/// The reader of quantities, for every kind: a finite value that can be written and read again, or what is wrong.
pub fn quantity(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    for kind in Kind::ALL {
        match units::read(kind, text) {
            Ok(read) => assert!(read.value.is_finite(), "{kind:?} {text:?}: {read:?}"),
            Err(unread) => assert!(!unread.message.is_empty(), "{kind:?} {text:?}"),
        }
    }
}
