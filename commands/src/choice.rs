//! The closed lists that people choose from in commands, menus and files, each with the word it is
//! written by. Decides the lists; the words people read for them are in `words`.

use serde::{Deserialize, Serialize};

macro_rules! choices {
    ($($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident = $text:literal),+ $(,)? })+) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        pub enum $name {
            $($(#[$vdoc])* #[serde(rename = $text)] $variant),+
        }
        impl $name {
            /// All of them, in the order in which they are offered.
            pub const ALL: &[$name] = &[$($name::$variant),+];
            /// Their words, in the same order.
            pub const WORDS: &[&str] = &[$($text),+];
            /// The word it is written by.
            pub fn as_str(self) -> &'static str {
                match self { $($name::$variant => $text),+ }
            }
            /// Reads the word it is written by.
            pub fn parse(text: &str) -> Option<Self> {
                match text { $($text => Some($name::$variant),)+ _ => None }
            }
        }
    )+};
}

choices! {
    /// Where the hand was.
    Site {
        /// Buttocks and tailbone.
        Buttocks = "buttocks",
        /// Hips.
        Hips = "hips",
        /// Shoulders.
        Shoulders = "shoulders",
    }
    /// How the person lay.
    Position {
        /// On the back, head flat.
        BackFlat = "back-flat",
        /// On the back, head raised.
        BackRaised = "back-raised",
        /// On the side.
        Side = "side",
    }
    /// The mode it ran in.
    Mode {
        /// Cells fill and empty in turn.
        Alternating = "alternating",
        /// All cells held, for care or transfer.
        Static = "static",
    }
    /// What a look at a filter found.
    Finding {
        /// Clean.
        Clean = "clean",
        /// Dusty.
        Dusty = "dusty",
        /// Clogged.
        Clogged = "clogged",
        /// Torn or broken.
        Damaged = "damaged",
    }
    /// What was done with it.
    Action {
        /// Nothing.
        Left = "left",
        /// A new one went in.
        Replaced = "replaced",
        /// Rinsed, dried and put back.
        Rinsed = "rinsed",
    }
    /// Why a surface was cleaned.
    Cleaning {
        /// It was its day.
        Routine = "routine",
        /// It was soiled.
        Soiled = "soiled",
        /// One resident has gone and the next will come.
        BetweenResidents = "between-residents",
    }
    /// With what it was cleaned.
    Method {
        /// Soap and water.
        SoapAndWater = "soap-and-water",
        /// A quaternary ammonium disinfectant.
        Quaternary = "quaternary",
        /// Chlorine bleach.
        Bleach = "bleach",
    }
    /// How the cover looked.
    Cover {
        /// Whole and dry, inside too where the maker allows a look.
        Intact = "intact",
        /// Stained.
        Stained = "stained",
        /// Torn, cracked or with a failing zip.
        Damaged = "damaged",
    }
    /// What an alarm turned out to be.
    Cause {
        /// The plug was out.
        Unplugged = "unplugged",
        /// It was switched off.
        SwitchedOff = "switched-off",
        /// The wrong setting or mode.
        WrongSetting = "wrong-setting",
        /// A hose was loose or kinked.
        Hose = "hose",
        /// The CPR valve was open.
        CprValve = "cpr-valve",
        /// A leak.
        Leak = "leak",
        /// The filter was blocked.
        Filter = "filter",
        /// Something else.
        Other = "other",
    }
    /// Why a surface came from under a bed.
    ReleaseReason {
        /// The resident went home or died.
        Discharge = "discharge",
        /// The resident went to another bed or house.
        Transfer = "transfer",
        /// Another surface took its place.
        SurfaceChange = "surface-change",
        /// Something else.
        Other = "other",
    }
    /// Whose a surface is.
    Owned {
        /// The home's.
        Owned = "owned",
        /// Rented by the day.
        Rented = "rented",
    }
    /// The state a surface comes into the register in.
    Start {
        /// Clean, whole and working.
        Ready = "ready",
        /// To be turned over first.
        Soiled = "soiled",
    }
    /// What a schedule posts.
    What {
        /// What is due at a shift's start.
        DueList = "due-list",
        /// What the next shift must know.
        Handover = "handover",
        /// The day in numbers.
        Summary = "summary",
    }
    /// The files that can be imported.
    Import {
        /// Profiles.
        Profiles = "profiles",
        /// Units and beds.
        Beds = "beds",
        /// Surfaces.
        Surfaces = "surfaces",
    }
}
