//! x
/// x
#[must_use]
pub fn schema() -> String {
    String::new()
}
