//! Names of the fields that something is typed into.

use crate::model::facts::change::ChangeId;
use crate::model::facts::figure_source::SourcePart;
use crate::model::facts::job_check::Field;
use crate::model::facts::job_number::JobNumber;

/// Whose limits and figures of accuracy are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Figures {
    /// The job's.
    OfJob,
    /// Those that new jobs begin with.
    OfNewJobs,
}

/// Names a field that a value is typed into.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FieldKey {
    /// A field of the job that remarks belong to.
    Of(Field),
    /// What the job is called.
    Title,
    /// Where it is.
    Place,
    /// When it was read.
    Date,
    /// Airflow a ton.
    PerTon,
    /// Heat output of the target.
    HeatOutput,
    /// Temperature rise of the target.
    HeatRise,
    /// Drop of an element by data: drop or airflow.
    ElementDrop(u32),
    /// The airflow at which an element's drop holds.
    ElementAirflow(u32),
    /// What the judged readings are called.
    SetName,
    /// When they were taken.
    SetTime,
    /// A note on them.
    SetNote,
    /// What the option that is worked on is called.
    OptionName,
    /// Why a customer would take it.
    OptionReason,
    /// How money is written.
    Currency,
    /// Until when prices hold.
    ValidUntil,
    /// The airflow of each supply grille.
    SupplyGrilles,
    /// The airflow of each return grille.
    ReturnGrilles,
    /// Density of the air that an element's drop was published in.
    ElementAir(u32),
    /// An element's share of its segment.
    ElementShare(u32),
    /// An element's exponent.
    ElementExponent(u32),
    /// The reading at a port that is not one of the first two.
    PortReading(u32),
    /// The reading straight across an element.
    AcrossReading(u32),
    /// What a person calls an element.
    ElementName(u32),
    /// A way's share of its group's airflow: the group, and the way by its place.
    WayFlow(u32, u32),
    /// How much a leak takes.
    LeakAir(u32),
    /// How much a leak takes that is about to be put after an element.
    NewLeak(u32),
    /// How much the bypass takes.
    BypassAir,
    /// How much a bypass takes that is about to be laid from an element.
    NewBypass(u32),
    /// A field of a change, by the change's number and the field's own.
    ChangeField(u32, u8),
    /// A number that new jobs begin with.
    NewJobs(JobNumber),
    /// Whose a figure is, or of when.
    Source(Figures, JobNumber, SourcePart),
    /// How money is written in new jobs.
    NewCurrency,
    /// A price of the list, by its place in it.
    ListPrice(u8),
}

impl FieldKey {
    /// Number of the field in which a change's size is asked the other way round.
    pub const ALLOWED: u8 = 200;
    /// Number of the field of a change's price.
    pub const PRICE: u8 = 201;
    /// Number of the field of what of that is labour.
    pub const LABOUR: u8 = 203;
    /// Number of the field of the note on a change.
    pub const NOTE: u8 = 202;

    /// The change that it is a field of.
    pub const fn change(self) -> Option<ChangeId> {
        if let Self::ChangeField(id, _) = self { Some(ChangeId(id)) } else { None }
    }

    /// True for a field of the settings, which are no part of the job.
    pub const fn is_of_settings(self) -> bool {
        matches!(self, Self::NewJobs(_) | Self::NewCurrency | Self::ListPrice(_) | Self::Source(Figures::OfNewJobs, ..))
    }

    /// True where the answer rests on what stands in the field.
    pub const fn bears_on_answer(self) -> bool {
        !matches!(
            self,
            Self::Of(Field::Number(
                JobNumber::FanHours
                    | JobNumber::EnergyPrice
                    | JobNumber::Tax
                    | JobNumber::LabourTax
                    | JobNumber::ValidDays
            )) | Self::Title
                | Self::Place
                | Self::Date
                | Self::ElementName(_)
                | Self::NewLeak(_)
                | Self::NewBypass(_)
                | Self::NewJobs(_)
                | Self::Source(..)
                | Self::NewCurrency
                | Self::ListPrice(_)
                | Self::Currency
                | Self::ValidUntil
                | Self::ChangeField(_, Self::ALLOWED | Self::PRICE | Self::LABOUR | Self::NOTE)
        )
    }
}
