//! The closed lists that people choose from in commands, menus and files, each with the word it is
//! written by. Decides the lists; the words people read for them are in `words`.

use crate::rules::named::named_enum;

named_enum! {
    /// Where the hand was.
    pub enum Site {
        /// Buttocks and tailbone.
        Buttocks = "buttocks",
        /// Hips.
        Hips = "hips",
        /// Shoulders.
        Shoulders = "shoulders",
    }
}

named_enum! {
    /// How the person lay.
    pub enum Position {
        /// On the back, head flat.
        BackFlat = "back-flat",
        /// On the back, head raised.
        BackRaised = "back-raised",
        /// On the side.
        Side = "side",
    }
}

named_enum! {
    /// The mode it ran in.
    pub enum Mode {
        /// Cells fill and empty in turn.
        Alternating = "alternating",
        /// All cells held, for care or transfer.
        Static = "static",
    }
}

named_enum! {
    /// What a look at a filter found.
    pub enum Finding {
        /// Clean.
        Clean = "clean",
        /// Dusty.
        Dusty = "dusty",
        /// Clogged.
        Clogged = "clogged",
        /// Torn or broken.
        Damaged = "damaged",
    }
}

named_enum! {
    /// What was done with it.
    pub enum Action {
        /// Nothing.
        Left = "left",
        /// A new one went in.
        Replaced = "replaced",
        /// Rinsed, dried and put back.
        Rinsed = "rinsed",
    }
}

named_enum! {
    /// Why a surface was cleaned.
    pub enum Cleaning {
        /// It was its day.
        Routine = "routine",
        /// It was soiled.
        Soiled = "soiled",
        /// One resident has gone and the next will come.
        BetweenResidents = "between-residents",
    }
}

named_enum! {
    /// With what it was cleaned.
    pub enum Method {
        /// Soap and water.
        SoapAndWater = "soap-and-water",
        /// A quaternary ammonium disinfectant.
        Quaternary = "quaternary",
        /// Chlorine bleach.
        Bleach = "bleach",
    }
}

named_enum! {
    /// How the cover looked.
    pub enum Cover {
        /// Whole and dry, inside too where the maker allows a look.
        Intact = "intact",
        /// Stained.
        Stained = "stained",
        /// Torn, cracked or with a failing zip.
        Damaged = "damaged",
    }
}

named_enum! {
    /// What an alarm turned out to be.
    pub enum Cause {
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
}

named_enum! {
    /// Why a surface came from under a bed.
    pub enum ReleaseReason {
        /// The resident went home or died.
        Discharge = "discharge",
        /// The resident went to another bed or house.
        Transfer = "transfer",
        /// Another surface took its place.
        SurfaceChange = "surface-change",
        /// Something else.
        Other = "other",
    }
}

named_enum! {
    /// Whose a surface is.
    pub enum Owned {
        /// The home's.
        Owned = "owned",
        /// Rented by the day.
        Rented = "rented",
    }
}

named_enum! {
    /// The state a surface comes into the register in.
    pub enum Start {
        /// Clean, whole and working.
        Ready = "ready",
        /// To be turned over first.
        Soiled = "soiled",
    }
}

named_enum! {
    /// What a schedule posts.
    pub enum What {
        /// What is due at a shift's start.
        DueList = "due-list",
        /// What the next shift must know.
        Handover = "handover",
        /// The day in numbers.
        Summary = "summary",
    }
}

named_enum! {
    /// The files that can be imported.
    pub enum Import {
        /// Profiles.
        Profiles = "profiles",
        /// Units and beds.
        Beds = "beds",
        /// Surfaces.
        Surfaces = "surfaces",
    }
}

named_enum! {
    /// How a surface is first filled, with nobody on it.
    pub enum FirstFill {
        /// At the lowest setting.
        Lowest = "lowest",
        /// At the highest setting.
        Highest = "highest",
    }
}

named_enum! {
    /// What can be done with a filter.
    pub enum FilterKind {
        /// A new one goes in.
        Replaceable = "replaceable",
        /// It is rinsed, dried and put back.
        Rinsable = "rinsable",
        /// There is none.
        None = "none",
    }
}
