//! Command line of underframe.

fn main() {}
