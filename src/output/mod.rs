//! The map of files: meshes, papers, lists, report, record.
