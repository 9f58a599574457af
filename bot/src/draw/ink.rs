//! The colours. Decides which there are; that no meaning hangs on a colour alone is up to [`super::chart`] and
//! [`super::rows`], which give each its own shape or stroke and its words.
//!
//! Source: the colours that Okabe and Ito chose so that people with any common colour vision tell them apart ("Color
//! Universal Design", 2002, revised 2008). Of the eight, those that stand out from a light ground by at least 3 to 1 draw
//! marks and lines; the others only fill, with an edge of ink around them (WCAG 2.1, 1.4.11 and 1.4.3: the tests beside this
//! reckon it).

use plotters::style::RGBColor;

/// The ground. Light, and part of the picture: it is the same in a dark chat.
pub const GROUND: RGBColor = RGBColor(0xFC, 0xFB, 0xF8);
/// Text, edges.
pub const INK: RGBColor = RGBColor(0x1A, 0x1C, 0x20);
/// Text that matters less.
pub const QUIET: RGBColor = RGBColor(0x52, 0x58, 0x60);
/// Lines to read a height by.
pub const GRID: RGBColor = RGBColor(0xDD, 0xDB, 0xD4);
/// Around the picture.
pub const EDGE: RGBColor = RGBColor(0x8A, 0x8E, 0x94);
/// The area of what is as it should be: sky blue, thinned.
pub const BAND: RGBColor = RGBColor(0xD3, 0xEA, 0xF7);
/// Where a line may run as well: yellow, thinned.
pub const LEEWAY: RGBColor = RGBColor(0xF7, 0xF0, 0xB0);
/// Blue.
pub const BLUE: RGBColor = RGBColor(0x00, 0x72, 0xB2);
/// Vermilion.
pub const VERMILION: RGBColor = RGBColor(0xD5, 0x5E, 0x00);
/// Bluish green.
pub const GREEN: RGBColor = RGBColor(0x00, 0x9E, 0x73);
/// Orange: fills only.
pub const ORANGE: RGBColor = RGBColor(0xE6, 0x9F, 0x00);
