//! What a change of the file makes obsolete.
