//! The programs that print and read the sheet. `.ci/run` installs them and says that they have to be there.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use tempfile::TempDir;

/// Set by `.ci/run`: a test that finds no browser fails.
const NEEDED: &str = "ANTEROOM_NEEDS_CHROMIUM";

/// Where `.ci/run` puts what comes from npm.
const TOOLS: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/target/sheet-tools/node_modules");

/// Whether all of these are here; if not, that is said, and is a failure where they are needed.
pub fn there(programs: &[&str]) -> bool {
    let missing: Vec<&str> = programs.iter().copied().filter(|program| !is_there(program)).collect();
    if missing.is_empty() {
        return true;
    }
    let words = format!("not tested: {} is not here", missing.join(", "));
    assert!(std::env::var_os(NEEDED).is_none(), "{words}");
    say(&words);
    false
}

#[expect(clippy::print_stderr, reason = "a test that could not be run has to say so")]
fn say(words: &str) {
    eprintln!("{words}");
}

fn is_there(program: &str) -> bool {
    if program == "axe-core" {
        return Path::new(TOOLS).join("axe-core").exists() && Path::new(TOOLS).join("puppeteer-core").exists();
    }
    let path = std::env::var_os("PATH").unwrap_or_default();
    std::env::split_paths(&path).any(|folder| folder.join(program).is_file())
}

/// Runs a program and gives what it says.
pub fn run(program: &str, words: &[&str]) -> String {
    let output = Command::new(program).args(words).env("NODE_PATH", TOOLS).output().expect("it starts");
    let error = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{program} {}: {error}", words.join(" "));
    String::from_utf8_lossy(&output.stdout).into_owned()
}

/// A document in a folder, and what is made of it.
pub struct Printed {
    folder: TempDir,
}

impl Printed {
    /// Writes the document and prints it to PDF.
    pub fn new(html: &str) -> Self {
        let printed = Self { folder: tempfile::tempdir().expect("a folder") };
        fs::write(printed.path("sheet.html"), html).expect("a file");
        let pdf = format!("--print-to-pdf={}", printed.name("sheet.pdf"));
        let profile = format!("--user-data-dir={}", printed.name("profile"));
        let page = printed.name("sheet.html");
        run(
            "chromium",
            &["--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", &profile, &pdf, &page],
        );
        printed
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn name(&self, name: &str) -> String {
        self.path(name).display().to_string()
    }

    /// Every word of the PDF, page by page.
    pub fn pages(&self) -> Vec<PdfPage> {
        run("pdftotext", &["-bbox", &self.name("sheet.pdf"), &self.name("words.html")]);
        let text = fs::read_to_string(self.path("words.html")).expect("the words");
        // Its document type is of no use to an XML parser.
        let xml = text[text.find("<html").expect("a document")..].to_owned();
        let document = roxmltree::Document::parse(&xml).expect("it is XML");
        let number = |node: roxmltree::Node<'_, '_>, name: &str| {
            node.attribute(name).and_then(|value| value.parse::<f64>().ok()).expect("a number")
        };
        let word = |node: roxmltree::Node<'_, '_>| Word {
            text: node.text().unwrap_or_default().to_owned(),
            left: number(node, "xMin"),
            top: number(node, "yMin"),
            right: number(node, "xMax"),
            bottom: number(node, "yMax"),
        };
        let page = |node: roxmltree::Node<'_, '_>| PdfPage {
            width: number(node, "width"),
            height: number(node, "height"),
            words: node.children().filter(|n| n.tag_name().name() == "word").map(word).collect(),
        };
        document.descendants().filter(|n| n.tag_name().name() == "page").map(page).collect()
    }

    /// A page as a picture of ten dots to the millimetre, and as a photocopier leaves it: black or white.
    pub fn picture(&self, page: usize) -> Picture {
        let (number, stem) = (page.to_string(), self.name("page"));
        let pdf = self.name("sheet.pdf");
        run("pdftoppm", &["-r", "254", "-mono", "-singlefile", "-f", &number, "-l", &number, &pdf, &stem]);
        Picture::read(&fs::read(self.path("page.pbm")).expect("the picture"))
    }
}

/// A word of a PDF, in points.
pub struct Word {
    pub text: String,
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
}

/// A page of a PDF, in points.
pub struct PdfPage {
    pub width: f64,
    pub height: f64,
    pub words: Vec<Word>,
}

impl PdfPage {
    pub fn text(&self) -> String {
        self.words.iter().map(|word| word.text.as_str()).collect::<Vec<_>>().join(" ")
    }
}

/// A picture in black and white.
pub struct Picture {
    pub width: u32,
    pub height: u32,
    bits: Vec<u8>,
}

impl Picture {
    /// Reads a portable bitmap, `P4`.
    fn read(bytes: &[u8]) -> Self {
        let mut fields = Vec::new();
        let mut at = 0;
        while fields.len() < 3 {
            let end = at + bytes[at..].iter().position(u8::is_ascii_whitespace).expect("a head");
            fields.push(String::from_utf8_lossy(&bytes[at..end]).into_owned());
            at = end + 1;
        }
        assert_eq!(fields[0], "P4");
        let size = |field: &str| field.parse().expect("a size");
        Self { width: size(&fields[1]), height: size(&fields[2]), bits: bytes[at..].to_vec() }
    }

    pub fn is_black(&self, x: u32, y: u32) -> bool {
        let place = usize::try_from(y * self.width.div_ceil(8) + x / 8).expect("a place");
        self.bits[place] & (0x80 >> (x % 8)) != 0
    }
}
