//! The built-in parameter file, and a first file from a few answers.

/// The parameter file that is used where none is named.
#[must_use]
pub fn built_in() -> &'static str {
    include_str!("../../params/potting-bench.json")
}

/// What somebody must know to begin; texts as they would stand in the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answers {
    /// Title of the job.
    pub title: String,
    /// Length of the top, along x.
    pub length: String,
    /// Its width, along y.
    pub width: String,
    /// Its thickness.
    pub thickness: String,
    /// Name of the wood.
    pub wood: String,
    /// From the floor to the show face.
    pub height: String,
    /// Number of tubes in each leg.
    pub tubes: String,
    /// Size of the tube.
    pub tube: String,
    /// Name of the filament.
    pub filament: String,
    /// Mass that the table carries for years.
    pub mass: String,
    /// Whether children can reach it: `yes` or `no`, as well `true` or `false`.
    pub children: String,
}

impl Default for Answers {
    /// A small bench.
    fn default() -> Self {
        Self {
            title: "My table".into(),
            length: "1200 mm".into(),
            width: "600 mm".into(),
            thickness: "30 mm".into(),
            wood: "European larch".into(),
            height: "750 mm".into(),
            tubes: "3".into(),
            tube: "16 x 1.5 mm".into(),
            filament: "PETG".into(),
            mass: "40 kg".into(),
            children: "no".into(),
        }
    }
}

/// A first parameter file, explained by its notes. Wrong answers stay in it: reading it tells what is wrong.
#[must_use]
pub fn template(answers: &Answers) -> String {
    let Answers { title, length, width, thickness, wood, height, tubes, tube, filament, mass, children } = answers;
    let q = |text: &str| serde_json::Value::from(text).to_string();
    format!(
        r#"{{
  "note": "Quantities are texts with their unit: 38 mm, 1 1/2 in, 40 kg, 90 lb. A note may stand anywhere and is ignored. Use is light (nobody leans on it with his weight), household (as tables for homes are tested) or hard. What is left out is assumed and told in the report.",
  "title": {title},
  "top": {{
    "note": "thickness_at_legs: measure at each leg, counter-clockwise from the front left corner, and add it as a list.",
    "length": {length},
    "width": {width},
    "thickness": {thickness},
    "wood": {wood},
    "grain": "along length"
  }},
  "height": {height},
  "legs": {{
    "note": "Measure the tube with calipers and add \"measured\"; a leg may be a bundle of up to 4 tubes.",
    "count": 4,
    "splay": "4 deg",
    "tubes": {tubes},
    "tube": {{ "size": {tube} }}
  }},
  "rails": [{{ "run": "along width", "above_floor": "180 mm" }}],
  "bracket": {{
    "note": "hold: ribs take out the play, a cross bolt keeps the tube from pulling out, bonded is epoxy.",
    "plate": "10 mm",
    "boss_wall": "14 mm",
    "hold": ["ribs", "cross bolt M4"],
    "screws": {{ "head": "washer" }}
  }},
  "printing": {{
    "note": "Print the fit gauge and the coupons first; put the clearance that fits here, and the loads at which the coupons tore as \"coupons\".",
    "filament": {filament},
    "infill": "100 %",
    "clearance": "0.30 mm"
  }},
  "loads": [
    {{ "name": "what stands on it", "mass": {mass}, "over": "whole top", "lasts": "years" }},
    {{
      "note": "at: from the left and from the front, as a share or a length.",
      "name": "somebody leans on the edge",
      "force": "400 N",
      "at": ["50 %", "0 %"],
      "lasts": "minutes"
    }}
  ],
  "use": "light",
  "place": {{
    "note": "The warmest hour counts: plastic gives way in heat.",
    "temperature": ["10 C", "30 C"],
    "humidity": ["35 %", "70 %"],
    "children": {children}
  }},
  "life": "5 years"
}}
"#,
        title = q(title),
        length = q(length),
        width = q(width),
        thickness = q(thickness),
        wood = q(wood),
        height = q(height),
        tube = q(tube),
        filament = q(filament),
        mass = q(mass),
        tubes = tubes.trim().parse::<usize>().map_or_else(|_| q(tubes), |count| count.to_string()),
        children = match children.trim().to_lowercase().as_str() {
            "yes" | "y" | "true" => "true".into(),
            "no" | "n" | "false" => "false".into(),
            _ => q(children),
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::params::read;

    #[test]
    fn the_first_file_can_be_read_as_it_is() {
        let params = read(&template(&Answers::default())).unwrap_or_else(|list| panic!("{list:?}"));
        assert_eq!((params.title.as_str(), params.legs.tube.outside), ("My table", 16.0));
    }

    #[test]
    fn answers_with_quotes_stay_one_text() {
        let mut answers = Answers { title: "A \"good\" table\\".into(), ..Answers::default() };
        answers.thickness = "1 1/4\"".into();
        let params = read(&template(&answers)).unwrap_or_else(|list| panic!("{list:?}"));
        assert_eq!((params.title.as_str(), params.top.thickness), ("A \"good\" table\\", 31.75));
    }
}
