//! Rows and fields of a file as spreadsheets write it, each field with its place.
//!
//! A mark of byte order at the start, commas, semicolons or tabs between fields, fields in double quotes with quotes
//! doubled inside, lines that end either way, and empty lines are all taken.

/// A field: what is in it, and the bytes from and to which it is written, quotes included.
pub(super) struct Field {
    pub(super) text: String,
    pub(super) from: usize,
    pub(super) to: usize,
}

/// What is wrong with the quotes of a field, and at which byte.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Slip {
    /// It opens with a quote and never closes.
    NotClosed(usize),
    /// Something follows the closing quote.
    AfterQuote(usize),
}

/// Every row with something in it, and every slip.
pub(super) fn rows(text: &str) -> (Vec<Vec<Field>>, Vec<Slip>) {
    let (start, between) = opening(text);
    let mut reader = Reader { text, at: start, between, slips: Vec::new() };
    let mut rows = Vec::new();
    while reader.at < text.len() {
        let row = reader.row();
        if row.iter().any(|field| !field.text.is_empty()) {
            rows.push(row);
        }
    }
    (rows, reader.slips)
}

/// Where the first row starts, and what stands between fields: what the first line has most of.
fn opening(text: &str) -> (usize, char) {
    let body = text.strip_prefix('\u{feff}').unwrap_or(text);
    let start = text.len() - body.len();
    let first = body.lines().find(|line| !line.trim().is_empty()).unwrap_or("");
    // A first line by which some spreadsheets tell each other what stands between fields.
    if let Some(between) = first.trim_end().strip_prefix("sep=").and_then(|rest| rest.chars().next()) {
        let after = body.find('\n').map_or(text.len(), |at| start + at + 1);
        return (after, between);
    }
    let mut inside = false;
    let mut counts = [(',', 0), (';', 0), ('\t', 0)];
    for c in first.chars() {
        inside ^= c == '"';
        counts.iter_mut().filter(|(between, _)| *between == c && !inside).for_each(|(_, count)| *count += 1);
    }
    // Of equals the first: `max_by_key` would take the last.
    let most = counts.iter().rev().max_by_key(|(_, count)| *count);
    (start, most.map_or(',', |(between, _)| *between))
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
    between: char,
    slips: Vec<Slip>,
}

impl Reader<'_> {
    fn rest(&self) -> &str {
        self.text.get(self.at..).unwrap_or("")
    }

    fn row(&mut self) -> Vec<Field> {
        let mut fields = Vec::new();
        loop {
            fields.push(self.field());
            match self.rest().chars().next() {
                Some(c) if c == self.between => self.at += c.len_utf8(),
                Some('\r') if self.rest().starts_with("\r\n") => {
                    self.at += 2;
                    return fields;
                }
                Some(_) => {
                    self.at += 1;
                    return fields;
                }
                None => return fields,
            }
        }
    }

    fn field(&mut self) -> Field {
        let blanks = |c: char| c == ' ' || c == '\u{a0}';
        let lead = self.rest().len() - self.rest().trim_start_matches(blanks).len();
        if self.rest()[lead..].starts_with('"') {
            self.at += lead;
            return self.quoted();
        }
        let from = self.at;
        let length = self.end_of_field();
        self.at += length;
        let raw = &self.text[from..self.at];
        let text = raw.trim().to_owned();
        // An empty field is marked where it would be written.
        let from = if text.is_empty() { from } else { from + (raw.len() - raw.trim_start().len()) };
        Field { to: (from + text.len()).max(from + 1).min(self.text.len().max(from)), from, text }
    }

    /// Bytes up to what stands between fields, or the end of the line.
    fn end_of_field(&self) -> usize {
        let between = self.between;
        self.rest().find([between, '\n', '\r']).unwrap_or(self.rest().len())
    }

    fn quoted(&mut self) -> Field {
        let from = self.at;
        self.at += 1;
        let mut text = String::new();
        loop {
            let Some(quote) = self.rest().find('"') else {
                self.slips.push(Slip::NotClosed(from));
                text.push_str(self.rest());
                self.at = self.text.len();
                break;
            };
            text.push_str(&self.text[self.at..self.at + quote]);
            self.at += quote + 1;
            if !self.rest().starts_with('"') {
                break;
            }
            text.push('"');
            self.at += 1;
        }
        let to = self.at;
        let length = self.end_of_field();
        if !self.rest()[..length].trim().is_empty() {
            self.slips.push(Slip::AfterQuote(self.at));
        }
        self.at += length;
        Field { text: text.trim().to_owned(), from, to }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(text: &str) -> Vec<Vec<String>> {
        let (rows, slips) = rows(text);
        assert_eq!(slips, [], "{text:?}");
        rows.into_iter().map(|row| row.into_iter().map(|field| field.text).collect()).collect()
    }

    #[test]
    fn as_spreadsheets_write_it() {
        let plain = texts("id,size\nKB,M\n");
        assert_eq!(plain, [["id", "size"], ["KB", "M"]]);
        for same in [
            "\u{feff}id,size\r\nKB,M\r\n",
            "id;size\nKB;M",
            "id\tsize\r\nKB\tM",
            "\"id\",\"size\"\n\"KB\",\"M\"\n",
            "\n\nid , size\n , \n KB ,M \n\n",
            "sep=;\r\nid;size\r\nKB;M\r\n",
            "id,size\rKB,M\r",
        ] {
            assert_eq!(texts(same), plain, "{same:?}");
        }
    }

    #[test]
    fn quotes_hold_what_stands_between_fields() {
        assert_eq!(texts("a;b\n\"x;y\";\"say \"\"no\"\"\"\n"), [["a", "b"], ["x;y", "say \"no\""]]);
        assert_eq!(texts("a,b\n\"two\nlines\",c\n"), [["a", "b"], ["two\nlines", "c"]]);
    }

    #[test]
    fn slips_have_their_place() {
        assert_eq!(rows("a,b\n\"x,y\n").1, [Slip::NotClosed(4)]);
        assert_eq!(rows("a,b\n\"x\"z,y\n").1, [Slip::AfterQuote(7)]);
    }

    #[test]
    fn every_field_is_where_it_says() {
        let text = "\u{feff}id; kind ;\r\n KB ;\"a b\"\r\n";
        let (rows, _) = rows(text);
        let places: Vec<&str> = rows.iter().flatten().map(|field| &text[field.from..field.to]).collect();
        assert_eq!(places, ["id", "kind", "\r", "KB", "\"a b\""]);
    }

    proptest::proptest! {
        /// Against a reader of CSV that is not ours: any fields, written by it, are read as they were.
        #[test]
        fn what_another_writer_writes_is_read(
            rows_in in proptest::collection::vec(proptest::collection::vec("[a-zA-Z0-9;\", \n-]{0,6}", 3), 1..6),
            semicolons in proptest::bool::ANY,
        ) {
            let between = if semicolons { b';' } else { b',' };
            let mut writer = ::csv::WriterBuilder::new().delimiter(between).from_writer(Vec::new());
            // Plain headings, so that what stands between fields can be told.
            writer.write_record(["id", "kind", "role"]).expect("written");
            rows_in.iter().for_each(|row| writer.write_record(row).expect("written"));
            let text = String::from_utf8(writer.into_inner().expect("bytes")).expect("text");
            let trimmed = |row: &Vec<String>| row.iter().map(|field| field.trim().to_owned()).collect::<Vec<_>>();
            let wanted: Vec<Vec<String>> =
                rows_in.iter().map(trimmed).filter(|row| row.iter().any(|field| !field.is_empty())).collect();
            proptest::prop_assert_eq!(&texts(&text)[1..], &wanted[..]);
        }

        #[test]
        fn any_text_is_read_to_its_end(text in "\\PC{0,40}|[\",;\n\r\t a]{0,40}") {
            let (rows, _) = rows(&text);
            for field in rows.iter().flatten() {
                proptest::prop_assert!(field.from <= field.to && field.to <= text.len());
            }
        }
    }
}
