//! The codes of flags, with the severity and the meaning of each: one table.

use std::fmt;

/// How much a flag matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Good to know.
    Note,
    /// Someone must look.
    Check,
    /// Going on would do harm, or a final figure is not acceptable.
    Stop,
}

impl Severity {
    /// The word for it in files and in every output.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Check => "check",
            Self::Stop => "stop",
        }
    }
}

impl fmt::Display for Severity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

/// Declares the codes once: variant, the name in files, severity, and what it means.
macro_rules! codes {
    ($($variant:ident $name:literal $severity:ident $meaning:literal;)*) => {
        /// What a flag is about. The names are stable: scripts rely on them.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Code {
            $(#[doc = $meaning] $variant,)*
        }

        impl Code {
            /// Every code, in the order in which flags of equal severity are listed.
            pub const ALL: &[Self] = &[$(Self::$variant),*];

            /// The name in files.
            pub const fn name(self) -> &'static str {
                match self { $(Self::$variant => $name),* }
            }

            /// The severity, unless the place where it is raised has its own.
            pub const fn severity(self) -> Severity {
                match self { $(Self::$variant => Severity::$severity),* }
            }

            /// What it means, in one line.
            pub const fn meaning(self) -> &'static str {
                match self { $(Self::$variant => $meaning),* }
            }
        }
    };
}

codes! {
    TooShort "too-short" Stop "the top of the string lies below the cut";
    CutBelowShoe "cut-below-shoe" Stop "the cut lies below the shoe";
    CutBelowMudline "cut-below-mudline" Stop "the cut lies below the mudline";
    CutBelowSea "cut-below-sea" Stop "the cut lies at or below the sea";
    CutAboveTop "cut-above-top" Stop "the finished top was measured above the top of the string";
    RotaryDisagrees "rotary-disagrees" Stop "two ways to the elevation of one RT disagree";
    DeckDisagrees "deck-disagrees" Stop "two ways to the elevation of the deck disagree";
    CutNearConnection "cut-near-connection" Stop "the cut comes closer to a connection than the clearance";
    CutNearShoulder "cut-near-shoulder" Stop "the cut comes closer to the landing shoulder than the clearance";
    CutOutside "cut-outside" Stop "the finished top lies outside the tolerance of its target";
    SpreadOutside "spread-outside" Stop "the cuts differ among themselves by more than is allowed";
    OutOfLevel "out-of-level" Stop "the finished top is out of level by more than is allowed";
    ShoulderOutside "shoulder-outside" Stop "the landing shoulder lies outside its window";
    FrameOutside "frame-outside" Stop "the frame's base lies outside its window above the mudline";
    ShoeOnBottom "shoe-on-bottom" Stop "the shoe has less rathole than it must have";
    NoRunningJoint "no-running-joint" Stop "the running joint is not in the tally";
    RunningJointTwice "running-joint-twice" Stop "the running joint's number occurs twice in the tally";
    JournalBroken "journal-broken" Stop "the journal is not whole: a line was changed, left out or put in";
    HullMoving "hull-moving" Stop "the hull moves: marks from RT are void until its position is measured";
    ScribeDisagrees "scribe-disagrees" Stop "the scribed line is not where its marks or the target have it";
    TargetMoved "target-moved" Stop "the target is no longer the one that was released for cutting";
    AsRunDiffers "as-run-differs" Stop "the joints that were run are not those of the tally of record, in its order";
    DecisionsContradict "decisions-contradict" Stop "two persons decided one thing of a list differently";
    AdjustedUnsound "adjusted-unsound" Stop "the cut goes by adjusted readings that do not hold together";
    OffPlan "off-plan" Check "the string stands far from its plan";
    SurfaceAssumed "surface-assumed" Check "nothing says how high above RT the surface is that the stick-up was read from";
    CutAboveRotary "cut-above-rotary" Check "the cut lies above RT at the hull position from which it is measured";
    CutFromEarlierHull "cut-from-earlier-hull" Check "the cut is measured from a hull position before that of the stick-up";
    BenchMoved "bench-moved" Check "a bench mark belongs to another hull position, so nothing is measured from it";
    AsCutBeforeRun "as-cut-before-run" Check "a finished top is measured, but no stick-up says that the string was landed";
    CutUnproven "cut-unproven" Check "the finished top is not proven to be within tolerance";
    SpreadUnproven "spread-unproven" Check "the spread of the cuts is not proven to be within its limit";
    FrameUnproven "frame-unproven" Check "the frame's base is not proven to be within its window";
    LevelUnproven "level-unproven" Check "the finished top is not proven to be level enough";
    LevelUnstated "level-unstated" Check "a conductor is cut, and nothing says how level its top must be";
    UncertaintyZero "uncertainty-zero" Check "uncertainties are stated as 0 and prove something";
    UncertaintyMissing "uncertainty-missing" Check "uncertainties are not stated, so nothing is proven";
    ToleranceBelowUncertainty "tolerance-below-uncertainty" Check "the tolerance is tighter than the measurement can prove";
    RimReadingsFew "rim-readings-few" Check "fewer than four readings round the finished top";
    ShoeOutside "shoe-outside" Check "the shoe lies outside its window";
    TopOutside "top-outside" Check "the top lies outside its window";
    CutInShoeJoint "cut-in-shoe-joint" Check "the cut lies in the bottom joint";
    RunningJointAtBottom "running-joint-at-bottom" Check "the running joint is the bottom joint, which has no lower make-up plane";
    RunningJointOther "running-joint-other" Check "the tally calls another joint the running joint";
    ShoulderOffJoint "shoulder-off-joint" Check "the shoulder's offset lies off the running joint";
    ConnectionInKeepOut "connection-in-keep-out" Check "a connection lies where none may be";
    AccessoryOnConnection "accessory-on-connection" Check "an accessory would sit on a connection";
    AccessoryOffString "accessory-off-string" Check "an accessory would lie off the string";
    AccessoryAboveCut "accessory-above-cut" Check "an accessory would lie above the cut";
    TotalDisagrees "total-disagrees" Check "a total written in the tally disagrees with the joints";
    EffectiveOnly "effective-only" Check "the tally gives effective lengths alone";
    DuplicateJoint "duplicate-joint" Check "a joint number occurs more than once in one tally";
    DuplicateSerial "duplicate-serial" Check "a serial occurs more than once in one tally";
    SerialInTwoSlots "serial-in-two-slots" Check "one serial occurs in the tallies of two slots";
    TallyInTwoSlots "tally-in-two-slots" Check "two slots have the same tally, or tallies with the same lengths";
    LossOnOpenEnd "loss-on-open-end" Check "a make-up loss is given at the open pin end, where nothing is made up";
    LossMissing "loss-missing" Check "a make-up loss is blank and no nominal one is given";
    LossOutlier "loss-outlier" Check "a make-up loss is far from the others";
    LengthOutlier "length-outlier" Check "a length is far from the others";
    DifferenceOpen "difference-open" Check "another list of the string differs, and nobody has decided which value applies";
    DecisionNotFollowed "decision-not-followed" Check "a decision is made that the tally of record does not follow yet";
    ListUnreadable "list-unreadable" Check "another list of the string cannot be read, so that nothing is compared with it";
    RowsDoubted "rows-doubted" Check "rows count although they may not have been run";
    KindUnknown "kind-unknown" Check "a word in the column of kinds is no kind";
    OrderAssumed "order-assumed" Check "nothing says which end of the tally is the shoe";
    SignersChanged "signers-changed" Check "who may sign was changed after a signature";
    JournalDisagrees "journal-disagrees" Check "the journal and job.toml differ";
    JournalTorn "journal-torn" Check "the last line of the journal was cut off while it was written";
    EntryNotUsed "entry-not-used" Check "an entry of the journal does not fit the job any more and has no effect";
    CutNotReleased "cut-not-released" Check "the final cut was made, and no release of it is signed";
    BladeOffLine "blade-off-line" Check "the blade is not set to the scribed line";
    StatementWithoutEntry "statement-without-entry" Check "the journal does not name a signed statement: it lost entries";
    TallyChanged "tally-changed" Check "the tally of record is not the file that was adopted";
    TopMoved "top-moved" Check "two stick-ups at rest put the top at different elevations";
    CutFromHungReading "cut-from-hung-reading" Check "the elevations rest on a stick-up that was read while the string hung";
    SlackedOffEarly "slacked-off-early" Check "the string was slacked off before the order lets it be";
    InstrumentExpired "instrument-expired" Check "a reading was made with an instrument whose calibration was past its due day";
    InstrumentUnstated "instrument-unstated" Check "a reading names an instrument that was never entered";
    GapOutside "gap-outside" Check "the deck would stand off a top by more than is allowed";
    LandedOtherwise "landed-otherwise" Check "a gap that was found when the deck was landed is not what the seat says";
    TrimOutside "trim-outside" Check "a trim would take a top below its target by more than the tolerance";
    AdjustedDisagrees "adjusted-disagrees" Check "all readings together put the top, or RT, elsewhere than the slot's own by more than chance allows";
    AdjustedFar "adjusted-far" Check "all readings together put the top, or RT, far from the slot's own, and nothing says how far they may be apart";
    AsCutDisagrees "as-cut-disagrees" Check "all readings together put the finished top elsewhere than its own survey by more than chance allows";
    PointDoubted "point-doubted" Check "a reading names a point that the job does not have, and that was probably meant otherwise";
    CorrectionIdle "correction-idle" Check "a correction is asked for that is for no reading";
    ReadingsContradict "readings-contradict" Check "readings that are stated as exact contradict each other, so that none are adjusted";
    ReadingOutdated "reading-outdated" Check "an entered reading is of a string that has moved since";
    ReadingRepeated "reading-repeated" Check "a row of readings.csv stands twice, and counts as two readings";
    ReadingSuspect "reading-suspect" Check "a reading disagrees with the others by more than chance allows";
    VarianceOutside "variance-outside" Check "readings disagree by more, or by less, than how well they are said to be known";
    StickUpOff "stick-up-off" Check "the stick-ups before and after a joint do not agree with its length";
    ReadingUnchecked "reading-unchecked" Note "nothing checks a reading: a mistake in it would not be seen";
    NoStickUp "no-stick-up" Note "no stick-up is read and none is planned: there are no elevations";
    MarksTooLoose "marks-too-loose" Note "no mark finds the cut within the tolerance";
    GapInNumbers "gap-in-numbers" Note "the joint numbers have a gap";
    TopBelowRotary "top-below-rotary" Note "the top is below the rotary table";
    ClockBack "clock-back" Note "the clock went back between two entries of the journal";
    OffcutMassPartial "offcut-mass-partial" Note "the off-cut's mass leaves out its connectors";
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}
