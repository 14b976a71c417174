//! Bytes to a tree of JSON values, each with its place in the file.
//!
//! Strict JSON only. A file that is no JSON gives one problem: what follows the first wrong character is guesswork.

use std::collections::BTreeMap;

use jsonc_parser::ast;
use jsonc_parser::common::Ranged;
use jsonc_parser::errors::{ParseError, ParseErrorKind as Kind};
use jsonc_parser::{CollectOptions, ParseOptions, ParseStringErrorKind, parse_to_ast};

use super::spelling::{quoted, shortened};
use crate::problem::{Place, Problem};

/// Largest file, bytes: a hundred times the largest example.
const LARGEST: usize = 1_000_000;

/// Deepest nesting: the deepest key lies five deep, notes may hold a little structure of their own.
const DEEPEST: usize = 32;

/// A JSON value and where it begins.
#[derive(Clone, Debug)]
pub(super) struct Value {
    pub place: Place,
    pub node: Node,
}

/// What a value is; numbers as they are written.
#[derive(Clone, Debug)]
pub(super) enum Node {
    Text(String),
    Number(String),
    Flag(bool),
    Null,
    List(Vec<Value>),
    Object(Vec<Entry>),
}

/// A value with its key path.
#[derive(Clone)]
pub(super) struct Written<'a> {
    pub path: String,
    pub value: &'a Value,
}

impl Node {
    /// As messages show it.
    pub(super) fn describe(&self) -> String {
        match self {
            Self::Text(text) => quoted(text),
            Self::Number(number) => shortened(number),
            Self::Flag(flag) => flag.to_string(),
            Self::Null => "null".into(),
            Self::List(_) => "a list".into(),
            Self::Object(_) => "an object".into(),
        }
    }
}

/// A key with its value.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    pub name: String,
    pub place: Place,
    pub value: Value,
}

/// Reads the file's bytes; repeated keys are problems beside the tree.
///
/// # Errors
/// The one thing that makes the file unreadable.
pub(super) fn tree(bytes: &[u8]) -> Result<(Value, Vec<Problem>), Problem> {
    let text = decode(bytes)?;
    if text.trim().is_empty() {
        let place = Place { line: 1, column: 1 };
        return Err(Problem::new(place, "", "the file is empty").hint("\"underframe start FILE\" writes a first one"));
    }
    let places = Places::new(text);
    scan(text, &places)?;
    let root = parse(text).map_err(|error| syntax(&error, &places))?;
    let mut twice = Vec::new();
    let value = convert(root, &places, &mut String::new(), &mut twice);
    Ok((value, twice))
}

/// UTF-8 without its byte order mark.
fn decode(bytes: &[u8]) -> Result<&str, Problem> {
    let start = Place { line: 1, column: 1 };
    if bytes.len() > LARGEST {
        return Err(Problem::new(start, "", format!("the file is larger than {} kB", LARGEST / 1000)));
    }
    let wide = bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]);
    if wide || matches!(bytes, [0, _, ..] | [_, 0, ..]) {
        return Err(Problem::new(start, "", "the file is saved as UTF-16").hint("save it as UTF-8"));
    }
    let bytes = bytes.strip_prefix(&[0xef, 0xbb, 0xbf]).unwrap_or(bytes);
    std::str::from_utf8(bytes).map_err(|error| {
        let good = std::str::from_utf8(&bytes[..error.valid_up_to()]).unwrap_or_default();
        let byte = bytes.get(error.valid_up_to()).copied().unwrap_or_default();
        let message = format!("the byte 0x{byte:02X} is not UTF-8 text");
        Problem::new(Places::new(good).of(good.len()), "", message).hint("save the file as UTF-8")
    })
}

/// Turns byte offsets into lines and columns.
struct Places {
    /// Offset of the first byte of each line.
    lines: Vec<usize>,
    /// Offsets of the bytes that do not begin a character.
    inner: Vec<usize>,
}

impl Places {
    fn new(text: &str) -> Self {
        let bytes = text.as_bytes();
        let ends = |at: usize| bytes[at] == b'\n' || (bytes[at] == b'\r' && bytes.get(at + 1) != Some(&b'\n'));
        let lines = std::iter::once(0).chain((0..bytes.len()).filter(|at| ends(*at)).map(|at| at + 1)).collect();
        Self { lines, inner: (0..bytes.len()).filter(|at| !text.is_char_boundary(*at)).collect() }
    }

    fn of(&self, offset: usize) -> Place {
        let line = self.lines.partition_point(|start| *start <= offset);
        let start = self.lines[line - 1];
        let inner = |to: usize| self.inner.partition_point(|at| *at < to);
        Place { line, column: offset - start - (inner(offset) - inner(start)) + 1 }
    }
}

/// Looks for what would confuse the parser or its messages: depth, texts not closed, odd blanks and quotes.
fn scan(text: &str, places: &Places) -> Result<(), Problem> {
    let (mut depth, mut open, mut escaped) = (0_usize, None, false);
    for (at, c) in text.char_indices() {
        match (open, c) {
            (Some(start), '\n' | '\r') => return Err(not_closed(start, places)),
            (Some(_), '\0'..='\u{1f}') => return Err(control(c, places.of(at))),
            (Some(_), '"') if !escaped => open = None,
            (Some(_), _) => escaped = c == '\\' && !escaped,
            (None, '"') if text[..at].ends_with('"') => return Err(inch_mark(places.of(at))),
            (None, '"') => (open, escaped) = (Some(at), false),
            (None, '{' | '[') => depth += 1,
            (None, '}' | ']') => depth = depth.saturating_sub(1),
            (None, _) => outside(c, places.of(at))?,
        }
        if depth > DEEPEST {
            return Err(Problem::new(places.of(at), "", format!("this is nested more than {DEEPEST} deep")));
        }
    }
    open.map_or(Ok(()), |start| Err(not_closed(start, places)))
}

/// A text that runs over the end of its line.
fn not_closed(start: usize, places: &Places) -> Problem {
    Problem::new(places.of(start), "", "the text that begins here is not closed on its line").hint("close it with \"")
}

/// A quote right behind a closing quote: most often an inch mark that ended its text too early.
fn inch_mark(place: Place) -> Problem {
    let problem = Problem::new(place, "", "this quote stands right behind the end of a text");
    problem.hint("an inch mark inside a text is written \\\", or as \"in\"")
}

fn control(c: char, place: Place) -> Problem {
    Problem::new(place, "", format!("a text holds the control character U+{:04X}", u32::from(c))).hint("take it out")
}

/// Characters that look harmless outside a text and are not.
fn outside(c: char, place: Place) -> Result<(), Problem> {
    let code = format!("U+{:04X}", u32::from(c));
    match c {
        ' ' | '\t' | '\n' | '\r' => Ok(()),
        '“' | '”' | '„' | '«' | '»' | '‘' | '’' => {
            Err(Problem::new(place, "", format!("{c} is a typographic quote")).hint("write straight quotes: \""))
        }
        _ if c.is_whitespace() => {
            Err(Problem::new(place, "", format!("the blank here is {code}, not an ordinary one")).hint("type it again"))
        }
        _ if c.is_control() || c == '\u{feff}' => {
            Err(Problem::new(place, "", format!("the character {code} does not belong here")).hint("take it out"))
        }
        _ => Ok(()),
    }
}

pub(super) fn parse(text: &str) -> Result<ast::Value<'_>, ParseError> {
    let strict = ParseOptions {
        allow_comments: false,
        allow_loose_object_property_names: false,
        allow_trailing_commas: false,
        allow_missing_commas: false,
        allow_single_quoted_strings: false,
        allow_hexadecimal_numbers: false,
        allow_unary_plus_numbers: false,
        allow_bare_decimal_point_numbers: false,
        allow_non_finite_numbers: false,
        allow_extended_string_escapes: false,
    };
    let parsed = parse_to_ast(text, &CollectOptions::default(), &strict)?;
    let nothing = ast::Value::NullKeyword(ast::NullKeyword { range: jsonc_parser::common::Range::new(0, 0) });
    Ok(parsed.value.unwrap_or(nothing))
}

/// The parser's complaint in our words.
fn syntax(error: &ParseError, places: &Places) -> Problem {
    let (message, hint) = words(error.kind());
    let problem = Problem::new(places.of(error.range().start), "", message);
    if hint.is_empty() { problem } else { problem.hint(hint) }
}

fn words(kind: &Kind) -> (&'static str, &'static str) {
    match kind {
        Kind::CommentsNotAllowed | Kind::UnterminatedCommentBlock => {
            ("JSON has no comments", "write \"note\": \"...\", which is allowed anywhere")
        }
        Kind::ExpectedComma => ("a comma is missing here", "put , between two entries"),
        Kind::TrailingCommasNotAllowed => ("this comma is one too many", "leave it out before } or ]"),
        Kind::ExpectedColonAfterObjectKey => ("a colon is missing behind this key", "write \"key\": value"),
        Kind::ExpectedObjectValue => ("the value of this key is missing", "write \"key\": value"),
        Kind::ExpectedStringObjectProperty => ("this key is not in quotes", "write \"key\": value"),
        Kind::SingleQuotedStringsNotAllowed => ("this text is in single quotes", "write straight double quotes: \""),
        Kind::UnterminatedObject => ("the { here is never closed", "put a } behind its last entry"),
        Kind::UnterminatedArray => ("the [ here is never closed", "put a ] behind its last entry"),
        Kind::UnexpectedCloseBrace => ("this } closes nothing", ""),
        Kind::UnexpectedCloseBracket => ("this ] closes nothing", ""),
        Kind::UnexpectedColon => ("this colon does not belong here", ""),
        Kind::UnexpectedComma => ("this comma does not belong here", "leave it out"),
        Kind::MultipleRootJsonValues => ("the file goes on behind its last }", "keep one { ... } only"),
        Kind::UnexpectedWord => ("this word is not in quotes", "write texts in straight double quotes"),
        Kind::NestingDepthExceeded => ("this is nested too deep", ""),
        Kind::String(kind) => string_words(kind),
        Kind::ExpectedDigit
        | Kind::ExpectedDigitFollowingNegativeSign
        | Kind::ExpectedPlusMinusOrDigitInNumberLiteral
        | Kind::BareDecimalPointNumbersNotAllowed
        | Kind::HexadecimalNumbersNotAllowed
        | Kind::NonFiniteNumbersNotAllowed
        | Kind::UnaryPlusNumbersNotAllowed => ("this is not a number of JSON", "write it like 4 or 0.25"),
        _ => ("this does not belong here", "expected: \"key\": value, with commas between"),
    }
}

fn string_words(kind: &ParseStringErrorKind) -> (&'static str, &'static str) {
    match kind {
        ParseStringErrorKind::UnterminatedStringLiteral => ("this text is not closed", "close it with \""),
        _ => ("the \\ in this text begins no escape of JSON", "write \\\\ for a backslash, \\\" for an inch mark"),
    }
}

/// The parser's tree to ours; `path` is the key path of `value`.
fn convert(value: ast::Value<'_>, places: &Places, path: &mut String, twice: &mut Vec<Problem>) -> Value {
    let place = places.of(value.start());
    let node = match value {
        ast::Value::StringLit(text) => Node::Text(text.value.into_owned()),
        ast::Value::NumberLit(number) => Node::Number(number.value.into()),
        ast::Value::BooleanLit(flag) => Node::Flag(flag.value),
        ast::Value::NullKeyword(_) => Node::Null,
        ast::Value::Array(list) => Node::List(items(list.elements, places, path, twice)),
        ast::Value::Object(object) => Node::Object(entries(object.properties, places, path, twice)),
    };
    Value { place, node }
}

fn items(list: Vec<ast::Value<'_>>, places: &Places, path: &mut String, twice: &mut Vec<Problem>) -> Vec<Value> {
    let end = path.len();
    let mut items = Vec::new();
    for (index, item) in list.into_iter().enumerate() {
        path.push_str(&format!("[{index}]"));
        items.push(convert(item, places, path, twice));
        path.truncate(end);
    }
    items
}

fn entries(list: Vec<ast::ObjectProp<'_>>, places: &Places, path: &mut String, twice: &mut Vec<Problem>) -> Vec<Entry> {
    let end = path.len();
    let mut seen = BTreeMap::new();
    let mut entries = Vec::new();
    for property in list {
        let place = places.of(property.name.start());
        let name = property.name.into_string();
        path.push_str(if end == 0 { "" } else { "." });
        path.push_str(&shortened(&name));
        match seen.get(&name) {
            Some(first) => twice.push(repeated(path, *first, place)),
            None => drop(seen.insert(name.clone(), place)),
        }
        let value = convert(property.value, places, path, twice);
        entries.push(Entry { name, place, value });
        path.truncate(end);
    }
    entries
}

fn repeated(path: &str, first: Place, again: Place) -> Problem {
    let message = format!("is given twice: first at line {}, column {}", first.line, first.column);
    Problem::new(again, path, message).hint("keep one of the two")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn problem(bytes: &[u8]) -> String {
        tree(bytes).map_or_else(|problem| problem.to_string(), |(_, twice)| format!("read, {} twice", twice.len()))
    }

    #[test]
    fn places_count_characters_and_every_kind_of_line_end() {
        let text = "a\r\nüb\rc\nd";
        let places = Places::new(text);
        let of = |c: char| text.find(c).map(|at| places.of(at));
        assert_eq!(of('b'), Some(Place { line: 2, column: 2 }));
        assert_eq!(of('c'), Some(Place { line: 3, column: 1 }));
        assert_eq!(of('d'), Some(Place { line: 4, column: 1 }));
    }

    #[test]
    fn encodings_other_than_utf_8_are_named() {
        assert!(problem(b"\xff\xfe{\0}\0").contains("UTF-16"));
        assert!(problem(b"\0{\0}").contains("UTF-16"));
        assert_eq!(problem(b"\xef\xbb\xbf{}"), "read, 0 twice");
        assert!(problem(b"{\r\n \"a\": \"\xe4\"}").starts_with("2:8 the byte 0xE4 is not UTF-8"));
    }

    #[test]
    fn nesting_and_size_have_limits() {
        let deep = format!("{}{}", "[".repeat(10_000), "]".repeat(10_000));
        assert!(problem(deep.as_bytes()).starts_with("1:33 this is nested more than 32 deep"));
        assert!(problem(&vec![b' '; LARGEST + 1]).contains("larger than 1000 kB"));
    }

    #[test]
    fn an_inch_mark_that_ends_the_text_is_recognised() {
        assert!(problem(b"{\"a\": \"13/16\"\"}").contains("an inch mark inside a text"));
    }

    #[test]
    fn repeated_keys_name_both_places() {
        let (_, twice) = tree(b"{\"a\": {\"b\": 1,\n \"b\": 2}}").expect("json");
        assert_eq!(twice[0].to_string(), "2:2 a.b is given twice: first at line 1, column 8\n    keep one of the two");
    }

    #[test]
    fn an_endless_repeated_key_is_shown_short() {
        let key = format!("\"{}\\u001b\"", "k".repeat(100_000));
        let (_, twice) = tree(format!("{{{key}: 1, {key}: 2}}").as_bytes()).expect("json");
        assert!(twice[0].key.len() < 100, "{}", twice[0].key.len());
    }

    #[test]
    fn what_is_no_json_is_refused() {
        for text in
            ["{\"a\": 1 \"b\": 2}", "[1 2]", "[1,]", "{,}", "{\"a\" 1}", "{a: 1}", "[01]", "[+1]", "[1.]", "['a']"]
        {
            assert!(tree(text.as_bytes()).is_err(), "{text}");
        }
        for text in
            ["{} {}", "{\"a\": }", "[NaN]", "[0x1]", "{\"a\": 1]", "[\"\\x\"]", "// a\n{}", "[1{}]", "{\"a\":1{}}"]
        {
            assert!(tree(text.as_bytes()).is_err(), "{text}");
        }
    }

    proptest! {
        #[test]
        fn no_bytes_make_the_reader_panic(bytes in proptest::collection::vec(any::<u8>(), 0..60)) {
            let _ = tree(&bytes);
        }

        #[test]
        fn broken_json_is_refused_or_read_without_panic(text in "[\\[\\]{},:\"'\\\\ a0-9.eu/*\n½\u{0}-]{0,40}") {
            let strict = serde_json::from_str::<serde_json::Value>(&text).is_ok();
            let ours = tree(text.as_bytes()).is_ok();
            prop_assert_eq!(strict, ours, "{:?}", text);
        }
    }
}
