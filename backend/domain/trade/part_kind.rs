//! The wearing parts that have an age of their own. Knows no part that is fitted anywhere.

use crate::domain::code::words;

words! {
    /// A kind of part of a fixture.
    PartKind "part" {
        SupplyLine = "supply_line", "Supply line";
        SupplyLineHot = "supply_line_hot", "Supply line, hot";
        SupplyLineCold = "supply_line_cold", "Supply line, cold";
        Stop = "stop", "Stop";
        StopHot = "stop_hot", "Stop, hot";
        StopCold = "stop_cold", "Stop, cold";
        WaxSeal = "wax_seal", "Wax seal";
        Flapper = "flapper", "Flapper";
        FillValve = "fill_valve", "Fill valve";
        FlushValve = "flush_valve", "Flush valve";
        TankBolts = "tank_bolts", "Tank bolts";
        Seat = "seat", "Seat";
        Trap = "trap", "Trap";
        Faucet = "faucet", "Faucet";
        Cartridge = "cartridge", "Cartridge";
        MixingValve = "mixing_valve", "Mixing valve";
        HoseHot = "hose_hot", "Hose, hot";
        HoseCold = "hose_cold", "Hose, cold";
        DrainHose = "drain_hose", "Drain hose";
        ReliefValve = "relief_valve", "Relief valve";
        DischargePipe = "discharge_pipe", "Discharge pipe";
        Pan = "pan", "Drain pan";
        Anode = "anode", "Anode";
        ExpansionTank = "expansion_tank", "Expansion tank";
        GasConnector = "gas_connector", "Gas connector";
        Flue = "flue", "Flue";
        VacuumBreaker = "vacuum_breaker", "Vacuum breaker";
        FloatSwitch = "float_switch", "Float switch";
        CheckValve = "check_valve", "Check valve";
        Battery = "battery", "Battery";
    }
}
