//! Sheets of paper: a page as the browser prints it, and what stands where on each sheet; and a page as a screen shows it.
//! Decides how they are read; leaves what they must show to the tests.

use std::fs;
use std::path::PathBuf;

use fantoccini::ClientBuilder;
use fantoccini::wd::{PrintConfiguration, PrintSize};
use hyper_util::client::legacy::connect::HttpConnector;
use pdf_extract::{Document, MediaBox, OutputDev, OutputError, Transform, output_doc};

use tempfile::TempDir;

use crate::driver::{Driver, Screen, capabilities};

/// Paper that no printer reaches, in points: a sixth of an inch.
const UNPRINTABLE: f64 = 12.0;
/// The smallest print that somebody reads without a glass, in points.
const LEAST_POINTS: f64 = 5.5;

/// One sheet.
#[derive(Debug, Default)]
pub struct Sheet {
    /// Its width and height, in points.
    size: (f64, f64),
    /// Its text, without spaces, in the order in which it was set.
    pub text: String,
    /// How far left, right, down and up its text goes, in points from the lower left corner.
    left: f64,
    right: f64,
    bottom: f64,
    top: f64,
    /// The smallest print on it, in points.
    least: f64,
}

/// A page as a file, in a folder that a browser may have for its own.
fn as_file(html: &str) -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder for the browser");
    let file = folder.path().join("page.html");
    fs::write(&file, html).expect("the page as a file");
    (folder, file)
}

/// Prints a page without making it smaller than it is.
pub fn print(html: &str, size: PrintSize) -> Vec<u8> {
    let driver = Driver::start();
    let (profile, file) = as_file(html);
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .expect("a runtime");
    let wanted = PrintConfiguration::builder()
        .size(size)
        .shrink_to_fit(false)
        .build()
        .expect("what is wanted of the printer");
    runtime.block_on(async {
        let client = ClientBuilder::new(HttpConnector::new())
            .capabilities(capabilities(profile.path(), Screen::Desk))
            .connect(&driver.url)
            .await
            .expect("a session of the browser");
        let url = format!("file://{}", file.display());
        client.goto(&url).await.expect("the page");
        let printed = client.print(wanted).await.expect("a printed page");
        client.close().await.expect("the browser ends");
        printed
    })
}

/// A page on a screen.
pub struct Shown {
    /// How wide the page is, in CSS pixels.
    pub wide: u64,
    /// What reaches farthest to the right of all that is in no box of its own.
    pub widest: String,
    /// How many tables are on it.
    pub tables: u64,
    /// The first screen of it.
    pub picture: Vec<u8>,
}

/// Shows a page.
pub fn shown(html: &str, screen: Screen) -> Shown {
    const MEASURE: &str = "const right = (one) => one.getBoundingClientRect().right; \
        const all = [...document.body.querySelectorAll('*')].filter((one) => !one.closest('.wide table')); \
        const most = all.reduce((most, one) => right(one) > right(most) ? one : most); \
        return [document.documentElement.scrollWidth, most.outerHTML.slice(0, 200), document.querySelectorAll('table').length];";
    let driver = Driver::start();
    let (profile, file) = as_file(html);
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .expect("a runtime");
    runtime.block_on(async {
        let client = ClientBuilder::new(HttpConnector::new())
            .capabilities(capabilities(profile.path(), screen))
            .connect(&driver.url)
            .await
            .expect("a session of the browser");
        let url = format!("file://{}", file.display());
        client.goto(&url).await.expect("the page");
        let found = client.execute(MEASURE, Vec::new()).await.expect("measures");
        let picture = client.screenshot().await.expect("a picture of it");
        client.close().await.expect("the browser ends");
        Shown {
            wide: found[0].as_u64().expect("a width"),
            widest: found[1].to_string(),
            tables: found[2].as_u64().expect("a count"),
            picture,
        }
    })
}

/// What stands on each sheet.
pub fn read(pdf: &[u8]) -> Vec<Sheet> {
    let document = Document::load_mem(pdf).expect("a PDF");
    let mut reader = Reader::default();
    output_doc(&document, &mut reader).expect("its text");
    reader.sheets
}

/// Text without spaces, and with the letters apart that a font joins.
pub fn close(text: &str) -> String {
    let joined = text.chars().filter(|c| !c.is_whitespace());
    let mut apart = String::new();
    for c in joined {
        match c {
            'ﬀ' => apart.push_str("ff"),
            'ﬁ' => apart.push_str("fi"),
            'ﬂ' => apart.push_str("fl"),
            'ﬃ' => apart.push_str("ffi"),
            'ﬄ' => apart.push_str("ffl"),
            c => apart.push(c),
        }
    }
    apart
}

impl Sheet {
    /// It is the paper that was asked for, with all of its text where a printer reaches and an eye reads.
    pub fn is_of(&self, (width, height): (f64, f64), name: &str) {
        let near = |a: f64, b: f64| (a - b).abs() < 2.0;
        assert!(
            near(self.size.0, width) && near(self.size.1, height),
            "{name} is {:?}",
            self.size
        );
        assert!(!self.text.is_empty(), "{name} is empty");
        let inside = self.left >= UNPRINTABLE
            && self.right <= width - UNPRINTABLE
            && self.bottom >= UNPRINTABLE
            && self.top <= height - UNPRINTABLE;
        assert!(inside, "{name}: text beyond its edges, {self:?}");
        assert!(self.least >= LEAST_POINTS, "{name}: {} points", self.least);
    }
}

#[derive(Default)]
struct Reader {
    sheets: Vec<Sheet>,
}

impl OutputDev for Reader {
    fn begin_page(
        &mut self,
        _number: u32,
        media: &MediaBox,
        _art: Option<(f64, f64, f64, f64)>,
    ) -> Result<(), OutputError> {
        self.sheets.push(Sheet {
            size: (media.urx - media.llx, media.ury - media.lly),
            left: f64::INFINITY,
            bottom: f64::INFINITY,
            least: f64::INFINITY,
            ..Sheet::default()
        });
        Ok(())
    }

    fn output_character(
        &mut self,
        at: &Transform,
        width: f64,
        _spacing: f64,
        font_size: f64,
        text: &str,
    ) -> Result<(), OutputError> {
        let Some(sheet) = self.sheets.last_mut() else {
            return Ok(());
        };
        let text = close(text);
        if text.is_empty() {
            return Ok(());
        }
        // Upright text: what one unit of its own is on paper, across and up.
        let (across, up) = ((at.m11 * font_size).abs(), (at.m22 * font_size).abs());
        sheet.left = sheet.left.min(at.m31);
        sheet.right = sheet.right.max(at.m31 + width * across);
        sheet.bottom = sheet.bottom.min(at.m32);
        sheet.top = sheet.top.max(at.m32 + up);
        sheet.least = sheet.least.min(up);
        sheet.text.push_str(&text);
        Ok(())
    }

    fn end_page(&mut self) -> Result<(), OutputError> {
        Ok(())
    }

    fn begin_word(&mut self) -> Result<(), OutputError> {
        Ok(())
    }

    fn end_word(&mut self) -> Result<(), OutputError> {
        Ok(())
    }

    fn end_line(&mut self) -> Result<(), OutputError> {
        Ok(())
    }
}
