//! The kinds of fixture a unit or a building can hold, their labels, and the parts a new one gets when nothing else is said.
//! Knows no fixture that stands anywhere, and no maker.

use super::PartKind;
use crate::domain::code::words;

words! {
    /// A kind of fixture: what can carry a tag.
    FixtureKind "fixture kind" {
        WaterCloset = "water_closet", "Water closet";
        Urinal = "urinal", "Urinal";
        Lavatory = "lavatory", "Lavatory";
        Bathtub = "bathtub", "Bathtub";
        Shower = "shower", "Shower";
        KitchenSink = "kitchen_sink", "Kitchen sink";
        LaundrySink = "laundry_sink", "Laundry sink";
        Dishwasher = "dishwasher", "Dishwasher";
        Disposer = "disposer", "Disposer";
        IceMaker = "ice_maker", "Ice maker";
        WashingMachine = "washing_machine", "Washing machine";
        WaterHeater = "water_heater", "Water heater";
        HoseBibb = "hose_bibb", "Hose bibb";
        FloorDrain = "floor_drain", "Floor drain";
        SeldomUsedTrap = "seldom_used_trap", "Seldom-used trap";
        SumpPump = "sump_pump", "Sump pump";
        UnitShutoff = "unit_shutoff", "Unit shutoff";
        MainShutoff = "main_shutoff", "Main shutoff";
        PressurePoint = "pressure_point", "Pressure test point";
        BackflowDevice = "backflow_device", "Backflow device";
        MainDrain = "main_drain", "Main drain";
        CrawlSpace = "crawl_space", "Crawl space";
        ExhaustFan = "exhaust_fan", "Exhaust fan";
        SmokeAlarm = "smoke_alarm", "Smoke alarm";
        CoAlarm = "co_alarm", "Carbon monoxide alarm";
        GfciOutlet = "gfci_outlet", "GFCI outlet";
    }
}

impl FixtureKind {
    /// The letters a tag of this kind begins with: `WC` in `WC-1`.
    #[must_use]
    pub const fn tag_prefix(self) -> &'static str {
        match self {
            Self::WaterCloset => "WC",
            Self::Urinal => "UR",
            Self::Lavatory => "LAV",
            Self::Bathtub => "BT",
            Self::Shower => "SH",
            Self::KitchenSink => "KS",
            Self::LaundrySink => "LS",
            Self::Dishwasher => "DW",
            Self::Disposer => "DSP",
            Self::IceMaker => "IM",
            Self::WashingMachine => "WM",
            Self::WaterHeater => "WH",
            Self::HoseBibb => "HB",
            Self::FloorDrain => "FD",
            Self::SeldomUsedTrap => "TR",
            Self::SumpPump => "SP",
            Self::UnitShutoff => "US",
            Self::MainShutoff => "MS",
            Self::PressurePoint => "PP",
            Self::BackflowDevice => "BF",
            Self::MainDrain => "MD",
            Self::CrawlSpace => "CS",
            Self::ExhaustFan => "EF",
            Self::SmokeAlarm => "SA",
            Self::CoAlarm => "CO",
            Self::GfciOutlet => "GF",
        }
    }

    /// The parts a new fixture of this kind gets when nothing else is said, so that its supply lines and stops come due.
    ///
    /// A water heater of unknown fuel gets the gas connector and the flue: the safe side, until somebody notes that it is electric.
    #[must_use]
    pub const fn standard_parts(self) -> &'static [PartKind] {
        use PartKind as P;
        match self {
            Self::WaterCloset => &[P::SupplyLine, P::Stop, P::WaxSeal, P::Flapper, P::FillValve],
            Self::Lavatory | Self::KitchenSink | Self::LaundrySink => &[
                P::SupplyLineHot,
                P::SupplyLineCold,
                P::StopHot,
                P::StopCold,
                P::Trap,
            ],
            Self::WashingMachine => &[P::HoseHot, P::HoseCold, P::StopHot, P::StopCold, P::DrainHose],
            Self::Dishwasher => &[P::SupplyLine, P::Stop, P::DrainHose],
            Self::IceMaker => &[P::SupplyLine, P::Stop],
            Self::WaterHeater => &[
                P::StopCold,
                P::ReliefValve,
                P::DischargePipe,
                P::Pan,
                P::GasConnector,
                P::Flue,
            ],
            Self::SumpPump => &[P::FloatSwitch, P::CheckValve],
            Self::SmokeAlarm | Self::CoAlarm => &[P::Battery],
            Self::Urinal
            | Self::Bathtub
            | Self::Shower
            | Self::Disposer
            | Self::HoseBibb
            | Self::FloorDrain
            | Self::SeldomUsedTrap
            | Self::UnitShutoff
            | Self::MainShutoff
            | Self::PressurePoint
            | Self::BackflowDevice
            | Self::MainDrain
            | Self::CrawlSpace
            | Self::ExhaustFan
            | Self::GfciOutlet => &[],
        }
    }
}
