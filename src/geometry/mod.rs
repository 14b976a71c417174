//! Solids and meshes: the only folder that knows the B-rep kernel and mesh booleans; no leg or table in here.
