//! Judges a hand check: how the air under a person compares with the band that the profile or the
//! facility sets, and when there are too many layers between person and surface.
//!
//! The check itself is disputed: the NPUAP white paper "Hand Check Method: Is it an Effective Method to
//! Monitor for Bottoming Out?" (2014) finds no evidence for it, and the RNAO guideline (3rd ed., 2016) keeps
//! it to overlays and cushions. So the profile names its check method, "could not check" is always an
//! answer, and an adequate reading is never proof of safety. What to do about a reading is left to
//! the caller, the facility's policy and licensed staff.

use serde::{Deserialize, Serialize};

use super::air::{INCH_TENTHS, MAX_DEPTH, Tenths};
use super::named::named_enum;

/// The lowest limit that a facility may set: half an inch, the published air-surface rule with the
/// smallest figure (RNAO: less than half an inch under the lowest prominence is bottomed out).
pub const LOWEST_LOW: Tenths = Tenths(INCH_TENTHS / 2);

/// Layers between person and surface above which it is said, unless policy says otherwise.
///
/// Every pad, sheet or combination raised the pressure over the sacrum against a single fitted
/// sheet (Williamson et al., Ostomy Wound Management, 2013). Two, a sheet and a pad, is common practice.
pub const DEFAULT_MOST_LAYERS: u8 = 2;

/// The readings that are adequate: from `low` to `high`, both included.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Band {
    /// Less than this is low.
    pub low: Tenths,
    /// More than this is high.
    pub high: Tenths,
}

/// Why two limits are no band.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BandFault {
    /// The low limit is under the smallest published one.
    LowTooSmall {
        /// The smallest low limit that may be set.
        least: Tenths,
    },
    /// The high limit is not above the low one.
    Backwards,
    /// The high limit is deeper than any surface.
    HighTooLarge {
        /// The largest high limit that may be set.
        most: Tenths,
    },
}

/// What was found under the person.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Air {
    /// A reading.
    #[serde(rename = "m")]
    Measured(Tenths),
    /// Looked at and felt from above, and right as far as that tells: the check of makers who rule a hand out.
    #[serde(rename = "within")]
    Within,
    /// Some air, and less than the band's low limit: an interval, and kept as one.
    #[serde(rename = "under")]
    Under1,
    /// More than the band's high limit: an interval as well.
    #[serde(rename = "over")]
    Over,
    /// Nothing left: the hand feels the base.
    #[serde(rename = "touching")]
    Touching,
    /// The check could not be made.
    #[serde(rename = "not")]
    CouldNot(Why),
}

impl Air {
    /// Whether it was found from above, where the maker wants a check by look and feel: then no hand was under the person.
    #[must_use]
    pub fn is_felt(self, check: Check) -> bool {
        match self {
            Air::Within => true,
            Air::Under1 | Air::Over | Air::Touching => check == Check::LookAndFeel,
            Air::Measured(_) | Air::CouldNot(_) => false,
        }
    }
}

named_enum! {
    /// Why a check could not be made.
    pub enum Why {
        /// The person sleeps.
        Asleep = "asleep",
        /// The person said no.
        Refused = "refused",
        /// The person is not in bed.
        Out = "out",
        /// The room is in isolation.
        Isolation = "isolation",
        /// Something else.
        Other = "other",
    }
}

named_enum! {
    /// What a reading means.
    pub enum Judgement {
        /// Inside of the band. Not proof of safety.
        Adequate = "adequate",
        /// Less than the low limit.
        Low = "low",
        /// No air left.
        BottomedOut = "bottomed-out",
        /// More than the high limit: too firm.
        High = "high",
        /// Not checked: to be followed up.
        CouldNot = "could-not",
    }
}

named_enum! {
    /// The check that the maker of a surface wants, as the facility entered it in the profile.
    pub enum Check {
        /// A hand under the surface, below the body.
        Hand = "hand",
        /// Looking and feeling from above, where the maker rules a hand check out.
        LookAndFeel = "look-and-feel",
        /// No check of air.
        None = "none",
    }
}

named_enum! {
    /// How a surface sits on the bed (words of the NPIAP support-surface terms).
    pub enum Class {
        /// On top of a mattress.
        Overlay = "overlay",
        /// In place of the mattress.
        Replacement = "replacement",
        /// Frame and surface in one.
        Integrated = "integrated",
    }
}

named_enum! {
    /// What a surface does with its air.
    pub enum Kind {
        /// Cells fill and empty in turn.
        Alternating = "alternating",
        /// Air flows out to manage heat and moisture.
        LowAirLoss = "low-air-loss",
        /// Alternating with low air loss.
        Both = "both",
        /// Powered, neither alternating nor low air loss.
        Static = "static",
    }
}

/// The band of common practice, 1 to 1½ in: less than an inch as inadequate is the AHCPR figure (Clinical
/// Practice Guideline 15, 1994, from memory); the upper figure has no society source and is a setting.
impl Default for Band {
    fn default() -> Self {
        Band {
            low: Tenths(INCH_TENTHS),
            high: Tenths(INCH_TENTHS * 3 / 2),
        }
    }
}

impl Band {
    /// A band inside of the safe bounds.
    ///
    /// # Errors
    /// [`BandFault`] where a limit is outside of them.
    pub fn new(low: Tenths, high: Tenths) -> Result<Band, BandFault> {
        if low < LOWEST_LOW {
            return Err(BandFault::LowTooSmall { least: LOWEST_LOW });
        }
        if high <= low {
            return Err(BandFault::Backwards);
        }
        if high > MAX_DEPTH {
            return Err(BandFault::HighTooLarge { most: MAX_DEPTH });
        }
        Ok(Band { low, high })
    }

    /// The middle of the band, rounded up to a tenth of a millimetre: what a button offers between its limits.
    #[must_use]
    pub fn middle(self) -> Tenths {
        Tenths((self.low.0 + self.high.0 + 1) / 2)
    }
}

/// Judges a reading: low is strictly less than the low limit, high strictly more than the high one.
#[must_use]
pub fn judge(air: Air, band: Band) -> Judgement {
    match air {
        Air::Measured(length) if length <= Tenths(0) => Judgement::BottomedOut,
        Air::Measured(length) if length < band.low => Judgement::Low,
        Air::Measured(length) if length > band.high => Judgement::High,
        Air::Measured(_) => Judgement::Adequate,
        Air::Within => Judgement::Adequate,
        Air::Under1 => Judgement::Low,
        Air::Over => Judgement::High,
        Air::Touching => Judgement::BottomedOut,
        Air::CouldNot(_) => Judgement::CouldNot,
    }
}

/// Whether there are more layers between person and surface than the facility's policy allows.
#[must_use]
pub fn too_many_layers(layers: u8, most: u8) -> bool {
    layers > most
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::air::{self, Said};

    fn air_of(text: &str) -> Air {
        match air::parse(text) {
            Ok(Said::Measured(length)) => Air::Measured(length),
            other => panic!("{text:?} is {other:?}"),
        }
    }

    fn of(text: &str) -> Judgement {
        judge(air_of(text), Band::default())
    }

    /// Rows derived from "less than one inch is inadequate" (AHCPR 1994, from memory) and the 1.5 in
    /// of common practice.
    #[test]
    fn boundary_rows() {
        assert_eq!(of("0"), Judgement::BottomedOut);
        for text in ["0.5 in", "0.99 in", "¾", "25.3 mm", "24 mm", "1 mm"] {
            assert_eq!(of(text), Judgement::Low, "{text}");
        }
        for text in [
            "1.00 in", "25.4 mm", "2.5 cm", "25 mm", "1¼", "1.5 in", "38.1 mm",
        ] {
            assert_eq!(of(text), Judgement::Adequate, "{text}");
        }
        for text in ["1.51 in", "38.2 mm", "4 cm", "2 in"] {
            assert_eq!(of(text), Judgement::High, "{text}");
        }
    }

    /// Common practice, no source: where the maker wants a check by look and feel nobody's hand goes under the person.
    #[test]
    fn from_above_it_is_felt_only_where_the_maker_wants_that() {
        for (air, by_feel, by_hand) in [
            (Air::Within, true, true),
            (Air::Under1, true, false),
            (Air::Over, true, false),
            (Air::Touching, true, false),
            (Air::CouldNot(Why::Asleep), false, false),
            (air_of("1 in"), false, false),
        ] {
            assert_eq!(air.is_felt(Check::LookAndFeel), by_feel, "{air:?}");
            assert_eq!(air.is_felt(Check::Hand), by_hand, "{air:?}");
        }
    }

    #[test]
    fn answers_without_a_number() {
        let band = Band::default();
        assert_eq!(judge(Air::Under1, band), Judgement::Low);
        assert_eq!(judge(Air::Over, band), Judgement::High);
        assert_eq!(judge(Air::Touching, band), Judgement::BottomedOut);
        for why in Why::ALL {
            assert_eq!(judge(Air::CouldNot(*why), band), Judgement::CouldNot);
        }
    }

    /// The half-inch rule of the RNAO air-surface text, for a facility that sets it.
    #[test]
    fn the_band_is_a_setting() {
        let half = Band::new(Tenths(127), Tenths(381)).unwrap();
        assert_eq!(judge(Air::Measured(Tenths(127)), half), Judgement::Adequate);
        assert_eq!(judge(Air::Measured(Tenths(126)), half), Judgement::Low);
        assert_eq!(
            Band::new(Tenths(126), Tenths(381)),
            Err(BandFault::LowTooSmall { least: LOWEST_LOW })
        );
        assert_eq!(
            Band::new(Tenths(254), Tenths(254)),
            Err(BandFault::Backwards)
        );
        assert_eq!(
            Band::new(Tenths(254), Tenths(2033)),
            Err(BandFault::HighTooLarge { most: MAX_DEPTH })
        );
    }

    #[test]
    fn layers() {
        assert!(!too_many_layers(2, DEFAULT_MOST_LAYERS));
        assert!(too_many_layers(3, DEFAULT_MOST_LAYERS));
    }

    #[test]
    fn written_forms_are_short_and_read_back() {
        for (air, text) in [
            (Air::Measured(Tenths(254)), r#"{"m":254}"#),
            (Air::Under1, r#""under""#),
            (Air::CouldNot(Why::Asleep), r#"{"not":"asleep"}"#),
        ] {
            assert_eq!(serde_json::to_string(&air).unwrap(), text);
            assert_eq!(serde_json::from_str::<Air>(text).unwrap(), air);
        }
        assert_eq!(Kind::from_text(" Low air_loss "), Some(Kind::LowAirLoss));
        assert_eq!(Check::from_text("look and feel"), Some(Check::LookAndFeel));
        assert_eq!(Class::from_text("cushion"), None);
        for kind in Kind::ALL {
            assert_eq!(Kind::from_text(kind.as_str()), Some(*kind));
        }
    }
}
