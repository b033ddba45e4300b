//! What is said of products: tape, cables, supplies, decoders, profiles.

use super::{Form, Said, forms, table, words};
use crate::cable::{ConductorSize, Construction, Installation, Metal};
use crate::job::spec::{
    CableItem, CellSpec, CoverSpec, DecoderSpec, Edges, EmitterSpec, EnergyLimit, Environment,
    Falls, FedFrom, IngressCode, Overload, PortIsolation, PowerBasis, ProfileSpec, RailSpec,
    ReelJointSpec, ShockProtection, SignalLoss, SpliceSpec, StockLength, StripSpec, SupplySpec,
    UnitLoads,
};
use crate::network::Polarity;
use crate::strip::{CopperClass, StringClass};

/// What prints itself exactly, as a job file writes it.
macro_rules! written {
    ($($type:ident)*) => {$(
        impl Said for $type {
            fn state(&self, form: &mut Form, key: &str) {
                self.to_string().state(form, key);
            }
        }
    )*};
}
written! { ConductorSize Installation IngressCode UnitLoads }

table! {
    StripSpec {
        name rated polarity pitch cells emitters rails power power_basis longest_branch pad_current bend_radius reel
        reel_joint splices highest_volts highest_ambient ingress price
    }
    EmitterSpec { name cell flux }
    ReelJointSpec { resistance price }
    SpliceSpec { every resistance }
    CableItem {
        name cores size metal construction insulation ampacity ampacity_ambient installed environment price_per_metre reel
    }
    SupplySpec {
        name power volts tolerance trim outputs output_current limit_current overload output_resistance shock energy
        derating efficiency inrush per_breaker leakage ingress price
    }
    DecoderSpec {
        name outputs output_current total_current terminal_current volts polarity switch frequency bits levels curves
        shortest_pulse edges signal_loss port unit_loads energy ingress price
    }
    ProfileSpec { name bars kerf width earthed keep_from cover }
    CoverSpec { description bars kerf }
    StockLength { length price }
}

forms! {
    CellSpec {
        Series "series" { diodes forward current ballast }
        ConstantCurrent "constant current" { diodes forward current drop_out }
        StraightLine "straight line" { knee current }
        ConstantPower "constant power" { power works_from }
        Class "class" { strings current }
    }
    RailSpec {
        Stated "resistance" { common returns }
        Foil "foil" { layers thickness common_width return_width }
        MaximumRun "maximum run" { length fed falls by }
        Reading "reading" { length fed far }
        CurrentReading "current reading" { length fed far }
        Class "class" { copper }
    }
}

words! {
    CopperClass {
        Any "any copper" OneOunce "1 oz copper" TwoOunces "2 oz copper" ThreeOunces "3 oz copper"
    }
    StringClass { White "white" Colours "colours" }
    Polarity { CommonPlus "common plus" CommonMinus "common minus" }
    FedFrom { OneEnd "one end" BothEnds "both ends" }
    Falls { Volts "volts" Light "light" }
    PowerBasis usual { ShortPiece "short piece" FullReel "full reel" Unknown "unknown" }
    Metal {
        Copper "copper" TinnedCopper "tinned copper" Aluminium "aluminium" CopperClad10 "copper-clad aluminium, 10 %"
        CopperClad15 "copper-clad aluminium, 15 %" Unknown "unknown"
    }
    Construction {
        Solid "solid" Stranded "stranded" Class1 "class 1" Class2 "class 2" Class5 "class 5" Class6 "class 6"
        Unknown "unknown"
    }
    Environment usual { Dry "dry" Damp "damp" Wet "wet" Outdoor "outdoor" }
    Overload usual {
        ConstantCurrent "constant current" FoldBack "fold back" Hiccup "hiccup" LatchOff "latch off" Unknown "unknown"
    }
    ShockProtection usual { Selv "SELV" Pelv "PELV" Other "other" Unknown "unknown" }
    EnergyLimit usual { Class2 "class 2" LimitedPower "limited power" None "none" Unknown "unknown" }
    Edges usual { Aligned "aligned" Staggered "staggered" Unknown "unknown" }
    SignalLoss usual { Hold "hold" Dark "dark" Full "full" Unknown "unknown" }
    PortIsolation usual { Isolated "isolated" Joined "joined" Unknown "unknown" }
}
