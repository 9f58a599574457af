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
        /// Another disinfectant of the home's list.
        Other = "other",
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
        /// A resident's own: goes with them.
        Resident = "resident",
        /// A hospice's: goes back to it.
        Hospice = "hospice",
    }
}

impl Owned {
    /// Whether it is neither the home's nor at the home's disposal: it belongs to one resident.
    pub fn is_of_others(self) -> bool {
        match self {
            Owned::Owned | Owned::Rented => false,
            Owned::Resident | Owned::Hospice => true,
        }
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
        /// What is ready, and what still can be, before a weekend.
        Weekend = "weekend",
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
    /// What was done at once about a gap over the limit, until it is assessed.
    pub enum GapAct {
        /// The rail was lowered.
        RailLowered = "rail-lowered",
        /// The rail was taken off.
        RailRemoved = "rail-removed",
        /// The gap was filled with what the maker has for it.
        GapFilled = "gap-filled",
        /// Nobody lies in the bed any more.
        BedOut = "bed-out",
        /// The resident lies in another bed.
        ResidentMoved = "resident-moved",
        /// Somebody licensed was asked to assess it.
        AssessmentAsked = "assessment-asked",
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

named_enum! {
    /// Why a checklist at a bed was opened.
    pub enum Opening {
        /// A surface was placed.
        Placed = "placed",
        /// A surface moved to another bed with the resident aboard.
        Moved = "moved",
        /// The CPR valve was opened.
        Cpr = "cpr",
        /// Its control unit had no power.
        Power = "power",
    }
}

named_enum! {
    /// One thing on a checklist at a bed.
    pub enum Step {
        /// The bed's brakes are on.
        Brakes = "brakes",
        /// The surface fits the frame.
        FrameFits = "frame-fits",
        /// Hoses at the foot end and free.
        Hoses = "hoses",
        /// Straps only to parts of the frame that move with it.
        Straps = "straps",
        /// The control unit hangs, or stands level.
        Hung = "hung",
        /// Plugged into a wall outlet, no extension cord.
        Outlet = "outlet",
        /// The hose connector is seated.
        Connector = "connector",
        /// The CPR valve is closed.
        Valve = "valve",
        /// Plugged in again and running.
        Plugged = "plugged",
        /// Filled, with nobody on it where that is possible.
        Full = "full",
        /// The setting stands as ordered.
        Setting = "setting",
        /// The surface has settled under the resident.
        Settled = "settled",
        /// Few layers of linen.
        Linen = "linen",
        /// The alarm is on and can be heard.
        Audible = "audible",
        /// The panel is locked.
        Locked = "locked",
        /// The check that the profile wants was adequate.
        Check = "check",
        /// Rails and gaps were looked at again.
        Rails = "rails",
    }
}

named_enum! {
    /// One thing that a turnover must show before a surface is ready.
    pub enum TurnStep {
        /// Disinfected, wet for its contact time.
        Cleaned = "cleaned",
        /// Rinsed and dried after the contact time.
        Dried = "dried",
        /// Looked at: the cover, and its inside where the maker allows it.
        Inspected = "inspected",
        /// Control unit, hoses, cord and straps clean and whole.
        Parts = "parts",
        /// The filter is fit.
        Filter = "filter",
        /// It ran, filled and gave no alarm.
        Function = "function",
    }
}

named_enum! {
    /// Why a bed is empty for a time while its surface stays.
    pub enum LeaveWhy {
        /// Up in a chair.
        Chair = "chair",
        /// In hospital.
        Hospital = "hospital",
        /// The bed is held.
        BedHold = "bed-hold",
    }
}

named_enum! {
    /// What is to become of a surface whose readings trend lower.
    pub enum LoftAnswer {
        /// Something was found and put right.
        Mended = "mended",
        /// It was looked at, and nothing was found.
        Nothing = "nothing",
        /// It waits.
        Later = "later",
    }
}

named_enum! {
    /// The rails of a bed.
    pub enum Rails {
        /// None.
        None = "none",
        /// Along the whole side.
        Full = "full",
        /// Two on a side.
        Split = "split",
        /// At the head end only.
        Half = "half",
        /// A short grip to get up by.
        Grip = "grip",
    }
}

named_enum! {
    /// The wall outlet at a bed.
    pub enum Outlet {
        /// Of hospital grade.
        HospitalGrade = "hospital-grade",
        /// An ordinary one.
        Ordinary = "ordinary",
        /// On emergency power.
        Emergency = "emergency",
    }
}

named_enum! {
    /// Work on a surface that leaves a paper.
    pub enum Work {
        /// The electrical safety test.
        SafetyTest = "safety-test",
        /// The maker's maintenance.
        Maintenance = "maintenance",
    }
}

named_enum! {
    /// How work that leaves a paper came out.
    pub enum Outcome {
        /// Passed.
        Passed = "passed",
        /// Failed.
        Failed = "failed",
    }
}

named_enum! {
    /// A paper that a surface must have before it is placed. A nurse may do without one for a night.
    pub enum Paper {
        /// Of the safety test.
        SafetyTest = "safety-test",
        /// Of the maker's maintenance.
        Maintenance = "maintenance",
        /// Of the check when a rented one arrived.
        Arrival = "arrival",
    }
}

named_enum! {
    /// How a surface stands when a roll is called in a power failure.
    pub enum Roll {
        /// It holds its air.
        Holding = "holding",
        /// It is getting low.
        Low = "low",
        /// It is flat under the resident.
        Flat = "flat",
        /// It has power: a battery, or an outlet on emergency power.
        Powered = "powered",
        /// Nobody is in the bed.
        Empty = "empty",
    }
}

named_enum! {
    /// Whether something is on or off.
    pub enum Switch {
        /// On.
        On = "on",
        /// Off.
        Off = "off",
    }
}

named_enum! {
    /// What is exported.
    pub enum Export {
        /// The register, for a spreadsheet.
        Register = "register",
        /// The profiles, for a spreadsheet.
        Profiles = "profiles",
        /// Bed lists and forms to print, for when the network is gone.
        Wall = "wall",
    }
}

named_enum! {
    /// A question that has two answers.
    pub enum YesNo {
        /// Yes.
        Yes = "yes",
        /// No.
        No = "no",
    }
}

named_enum! {
    /// What somebody from outside may stand in for, for a shift.
    pub enum Stand {
        /// An aide.
        Aide = "aide",
        /// A nurse.
        Nurse = "nurse",
    }
}

named_enum! {
    /// What somebody is signed off for, on surfaces of one profile.
    pub enum Task {
        /// The hand check, or the look that takes its place.
        HandCheck = "hand-check",
        /// Setting up at a bed.
        SetUp = "set-up",
        /// Cleaning and disinfecting.
        Cleaning = "cleaning",
        /// Looking at the filter, and changing it.
        Filter = "filter",
        /// The other steps of a turnover.
        Turnover = "turnover",
    }
}

named_enum! {
    /// What the clock calls somebody for, once it is time.
    pub enum Call {
        /// It should be full now.
        Full = "full",
        /// It should be plugged in again.
        Plug = "plug",
        /// A checklist at a bed is not finished.
        Steps = "steps",
        /// Static mode was to end.
        Static = "static",
        /// A leave was to end.
        Leave = "leave",
        /// The CPR valve was opened some time ago, and nobody has said more.
        Cpr = "cpr",
        /// The contact time of a disinfectant is over.
        Contact = "contact",
        /// A turnover takes longer than its target.
        Turnover = "turnover",
        /// The days to report an injury run out.
        Hold = "hold",
        /// A rented surface stands idle.
        Idle = "idle",
        /// A pickup that was called has not been confirmed, or not come.
        Pickup = "pickup",
        /// A recall still has surfaces open.
        Recall = "recall",
        /// The next roll of a power failure.
        Roll = "roll",
        /// A change waits for a supervisor.
        Agree = "agree",
        /// A handover that nobody has accepted.
        Handover = "handover",
    }
}
