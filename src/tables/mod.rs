//! Woods, tubes, filaments, fasteners: sorted constants, each row with its source.
