//! Tables as comma separated values: one header line, every row of the same length.

/// A table being filled.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    head: Vec<String>,
    rows: Vec<Vec<String>>,
}

impl Table {
    /// A table with these column heads; a head names its unit, as in `length_mm`.
    #[must_use]
    pub fn new(head: &[&str]) -> Self {
        Self { head: head.iter().map(|&h| h.to_owned()).collect(), rows: Vec::new() }
    }

    /// Adds a row.
    pub fn row<S: Into<String>>(&mut self, cells: impl IntoIterator<Item = S>) {
        self.rows.push(cells.into_iter().map(Into::into).collect());
    }

    /// Adds a last column with the same cell in every row.
    #[must_use]
    pub fn ending(mut self, head: &str, cell: &str) -> Self {
        self.head.push(head.to_owned());
        self.rows.iter_mut().for_each(|row| row.push(cell.to_owned()));
        self
    }

    /// The file's bytes, lines ended by a line feed.
    ///
    /// # Errors
    /// When a row is shorter or longer than the head.
    pub fn write(&self) -> Result<Vec<u8>, csv::Error> {
        let mut writer = csv::Writer::from_writer(Vec::new());
        writer.write_record(&self.head)?;
        for row in &self.rows {
            writer.write_record(row.iter().map(|cell| harmless(cell)))?;
        }
        writer.into_inner().map_err(|e| csv::Error::from(e.into_error()))
    }
}

/// Spreadsheets take a cell that begins so for a formula.
const FORMULA: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];

/// The cell, with an apostrophe before what a spreadsheet would reckon; numbers stay.
fn harmless(cell: &str) -> Vec<u8> {
    let formula = cell.trim_start().starts_with(FORMULA) && cell.trim().parse::<f64>().is_err();
    if formula { format!("'{cell}").into() } else { cell.into() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_cell_is_a_formula() {
        let mut t = Table::new(&["a", "b"]);
        t.row(["=1+1", "-3.5"]);
        t.row([" @SUM(1)", "+25 x 2 mm"]);
        assert_eq!(String::from_utf8(t.write().unwrap()).unwrap(), "a,b\n'=1+1,-3.5\n' @SUM(1),'+25 x 2 mm\n");
    }

    #[test]
    fn cells_with_commas_are_quoted() {
        let mut t = Table::new(&["name", "length_mm"]);
        t.row(["rail, short", "412.5"]);
        t.row(["leg \"1\"".to_owned(), "860.0".to_owned()]);
        let text = String::from_utf8(t.write().unwrap()).unwrap();
        assert_eq!(text, "name,length_mm\n\"rail, short\",412.5\n\"leg \"\"1\"\"\",860.0\n");
    }

    #[test]
    fn a_short_row_is_an_error() {
        let mut t = Table::new(&["a", "b"]);
        t.row(["1"]);
        assert!(t.write().is_err());
    }
}
