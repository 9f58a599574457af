//! Draws a picture: values in, a PNG out. Decides the look: size, type, colours, where words have room; leaves what a
//! picture shows and says to `commands`, and that it goes out to [`crate::wire`].
//!
//! It is drawn when it goes out, on a thread of its own, one at a time: what a picture needs while it is drawn, a few
//! megabytes, is needed once for all facilities and given back, and one that fails takes nothing down with it.

use std::borrow::Cow;
use std::sync::{Mutex, Once};

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use commands::message::File;
use commands::picture::{Drawn, Picture};
use plotters::prelude::{BitMapBackend, IntoDrawingArea};
use plotters::style::{FontStyle, register_font};

use crate::threads::{locked, thread};
use paper::Paper;

mod chart;
pub mod ink;
mod paper;
mod room;
mod rows;

pub use paper::{Spot, WIDTH};

/// The tallest picture, in dots: a phone shows it in four screens.
pub const HEIGHT_MAX: u32 = 4_400;

/// Why a picture was not drawn.
#[derive(Debug, thiserror::Error)]
pub enum Undrawn {
    /// Something in drawing failed.
    #[error("it could not be drawn: {0}")]
    Failed(String),
    /// There was no thread for it, or the one there was failed.
    #[error("drawing it broke off")]
    BrokeOff,
    /// It could not be written as a PNG.
    #[error("it could not be written: {0}")]
    Unwritten(#[from] png::EncodingError),
    /// It came out larger than a file may be.
    #[error("it has {0} bytes")]
    TooLarge(usize),
}

/// A picture in dots.
pub struct Drawing {
    /// Its width in dots.
    pub width: u32,
    /// Its height in dots.
    pub height: u32,
    /// Red, green and blue of each dot, row by row.
    pub dots: Vec<u8>,
    /// Where its words stand.
    pub words: Vec<Spot>,
    /// Where its marks stand.
    pub marks: Vec<Spot>,
}

/// One at a time.
static PEN: Mutex<()> = Mutex::new(());

/// The picture as a PNG.
///
/// # Errors
/// [`Undrawn`]; the words of its message then go out without it.
pub fn png(picture: &Picture) -> Result<Vec<u8>, Undrawn> {
    let _one = locked(&PEN);
    let picture = picture.clone();
    let drawing = thread("draw", move || {
        drawn(&picture).and_then(|dots| encoded(&dots))
    });
    let drawing = drawing.map_err(|_| Undrawn::BrokeOff)?;
    let bytes = drawing.join().map_err(|_panic| Undrawn::BrokeOff)??;
    if bytes.len() > commands::message::FILE_BYTES_MAX {
        return Err(Undrawn::TooLarge(bytes.len()));
    }
    Ok(bytes)
}

/// A file as it goes out: a page with each of its pictures in the place that it holds for it, so that it needs nothing
/// beside itself. One that cannot be drawn leaves its words.
pub fn page(file: &File) -> Cow<'_, [u8]> {
    let mut text = Cow::Borrowed(file.text.as_str());
    for picture in &file.pictures {
        match png(picture) {
            Ok(bytes) => {
                let image = format!("\"data:image/png;base64,{}\"", STANDARD.encode(bytes));
                text = text
                    .replace(&format!("\"{}\"", picture.place()), &image)
                    .into();
            }
            Err(fault) => tracing::error!(%fault, "a picture is left out of its page"),
        }
    }
    match text {
        Cow::Borrowed(text) => Cow::Borrowed(text.as_bytes()),
        Cow::Owned(text) => Cow::Owned(text.into_bytes()),
    }
}

/// The picture in dots, for whoever looks at it dot by dot.
///
/// # Errors
/// [`Undrawn::Failed`]
pub fn drawn(picture: &Picture) -> Result<Drawing, Undrawn> {
    fonts();
    let height = match &picture.drawn {
        Drawn::Chart(chart) => chart::height(picture, chart),
        Drawn::Rows(rows) => rows::height(picture, rows),
    };
    let height = u32::try_from(height)
        .unwrap_or(HEIGHT_MAX)
        .clamp(1, HEIGHT_MAX);
    let mut dots = vec![0; WIDTH as usize * height as usize * 3];
    let (words, marks) = {
        let area = BitMapBackend::with_buffer(&mut dots, (WIDTH, height)).into_drawing_area();
        let mut paper = Paper::new(area, height).map_err(failed)?;
        match &picture.drawn {
            Drawn::Chart(chart) => chart::draw(&mut paper, picture, chart),
            Drawn::Rows(rows) => rows::draw(&mut paper, picture, rows),
        }
        .map_err(failed)?;
        paper.done().map_err(failed)?
    };
    Ok(Drawing {
        width: WIDTH,
        height,
        dots,
        words,
        marks,
    })
}

fn failed(fault: impl std::fmt::Display) -> Undrawn {
    Undrawn::Failed(fault.to_string())
}

/// Fonts that come with the program: a server has none.
fn fonts() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        let regular = dejavu::sans_condensed::regular();
        let bold = dejavu::sans_condensed::bold();
        for (style, font) in [(FontStyle::Normal, regular), (FontStyle::Bold, bold)] {
            if register_font(paper::FONT, style, font).is_err() {
                tracing::error!("a font that comes with the program cannot be read");
            }
        }
    });
}

fn encoded(drawing: &Drawing) -> Result<Vec<u8>, Undrawn> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, drawing.width, drawing.height);
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_compression(png::Compression::Fast);
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&drawing.dots)?;
    writer.finish()?;
    Ok(bytes)
}

#[cfg(test)]
mod tests;
