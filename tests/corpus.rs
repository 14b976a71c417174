//! Every input that fuzzing kept, through the same checks as there: `fuzz/checks.rs`.

#[path = "../fuzz/checks.rs"]
mod checks;

use std::fs;
use std::path::Path;

/// Runs a check on every file of a corpus; a panic names the file.
fn replay(target: &str, check: fn(&[u8])) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/corpus").join(target);
    let mut count = 0;
    for entry in folder.read_dir().expect("a corpus") {
        let path = entry.expect("entry").path();
        let bytes = fs::read(&path).expect("a file");
        if let Err(why) = std::panic::catch_unwind(|| check(&bytes)) {
            panic!("{}: {why:?}", path.display());
        }
        count += 1;
    }
    assert!(count > 0, "no files in {}", folder.display());
}

#[test]
fn parameters_that_fuzzing_kept_are_read_or_refused() {
    replay("parameters", checks::parameters);
}

#[test]
fn quantities_that_fuzzing_kept_are_read_or_refused() {
    replay("quantity", checks::quantity);
}

/// Each of these was a fault once.
#[test]
fn what_fuzzing_found_is_mended() {
    // A unit with a control character was repeated as it stood.
    checks::parameters(br#"{"height": "4 \u000bt mm", "top": {"length": "1 200\u0007"}}"#);
    // Lines that end with a lone carriage return are counted.
    checks::parameters(b"{\r\"a\rb\": 1}");
    // A key with a control character, given twice.
    checks::parameters(br#"{"a\u001b[2Jb": 1, "a\u001b[2Jb": 2}"#);
    // A tube of no known size is shown short.
    checks::parameters(format!("{{\"legs\": {{\"tube\": \"{}x1\"}}}}", "9".repeat(9000)).as_bytes());
}
