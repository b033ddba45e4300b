//! The documents behind the rules of this room.

use crate::source::Source;

/// Packet timing.
pub(crate) const E1_11_TIMING: Source = Source::standard(
    "ANSI E1.11, DMX512-A",
    "2008 (R2018)",
    "packet timing, figures as quoted in public documents (clause 8 by memory)",
);
/// The test packet.
pub(crate) const E1_11_TEST: Source = Source::standard(
    "ANSI E1.11, DMX512-A",
    "2008 (R2018)",
    "test packet, annex D (not read; figures as a public implementation quotes them)",
);
/// 512 slots after the START code.
pub(crate) const E1_11_SLOTS: Source = Source::standard(
    "ANSI E1.11, DMX512-A",
    "2008 (R2018)",
    "clause 1.2: START code and up to 512 data slots",
);
/// Daisy chain without branches.
pub(crate) const E1_11_TOPOLOGY: Source = Source::standard(
    "ANSI E1.11, DMX512-A",
    "2008 (R2018)",
    "clause 4, topology: one transmitter, receivers in a daisy chain, no branch (as quoted)",
);
/// Terminator at the far end.
pub(crate) const E1_11_TERMINATION: Source = Source::standard(
    "ANSI E1.11, DMX512-A",
    "2008 (R2018)",
    "data link termination: 120 Ω at the end farthest from the transmitter (as quoted)",
);
/// Earthing and isolation.
pub(crate) const E1_11_EARTH: Source = Source::standard(
    "ANSI E1.11, DMX512-A",
    "2008 (R2018)",
    "clause 4.6: earth-referenced transmitter, isolated receivers, one earth at the source",
);
/// Common-mode volts.
pub(crate) const COMMON_MODE: Source = Source::standard(
    "TIA-485-A",
    "1998 (R2003)",
    "clause 4.3.1: -7 to +12 V at a receiver; clause 4.2.2: a driver's offset -1 to +3 V (as quoted)",
);
/// 32 unit loads.
pub(crate) const UNIT_LOADS: Source = Source::standard(
    "ANSI E1.11, DMX512-A",
    "2008 (R2018)",
    "clause 4, through TIA-485-A 4.5.3: 32 unit loads on one driver (as quoted)",
);
/// Length of a run; E1.11 itself leaves cable out.
pub(crate) const USITT_LENGTH: Source = Source::standard(
    "USITT requirements for DMX512 data cable",
    "",
    "300 m on 24 AWG, 500 m on 22 AWG (as quoted; ANSI E1.11 1.1 leaves cable out of its scope)",
);
/// Outer limit of length.
pub(crate) const EIA485_LENGTH: Source = Source::standard(
    "TIA-422-B and TIA-485-A, application guidance",
    "",
    "annexes A.1.1 and A.2: 1200 m (as quoted)",
);
/// Cable of category 5 and higher.
pub(crate) const E1_27_2: Source = Source::standard(
    "ANSI E1.27-2, permanently installed control cables",
    "2009 (R2014)",
    "scope: EIA-485 cable, and category 5 and higher (as quoted)",
);
/// Stub length.
pub(crate) const STUB: Source = Source::handbook(
    "Installation guidance on DMX512 networks",
    "",
    "a stub at most 0.3 m (12 in), as quoted",
);
/// Resistance of a core.
pub(crate) const CORE_RESISTANCE: Source = Source::handbook(
    "Installation guidance on DMX512 networks",
    "",
    "each conductor at most 200 Ω, as quoted",
);
/// Stub against the edge, one way.
pub(crate) const STUB_ONE_WAY: Source = Source::handbook(
    "EIA-485 training material",
    "",
    "one-way time of a stub at most a tenth of the edge, as quoted",
);
/// Stub against the edge, there and back.
pub(crate) const STUB_ROUND_TRIP: Source = Source::handbook(
    "EIA-485 application guidance",
    "",
    "time there and back of a stub at most a tenth of the edge, as quoted",
);
/// Output of a driver.
pub(crate) const EIA485_DRIVER: Source = Source::standard(
    "TIA-485-A",
    "1998 (R2003)",
    "clauses 4.2.1 and 4.2.2: driver output open and into 54 Ω (as quoted)",
);
/// Edge of a driver.
pub(crate) const EIA485_EDGE: Source = Source::standard(
    "TIA-485-A",
    "1998 (R2003)",
    "clause 4.2.7: edges within 0.3 of a bit (as quoted)",
);
/// Threshold of a receiver.
pub(crate) const EIA485_THRESHOLD: Source = Source::standard(
    "TIA-485-A",
    "1998 (R2003)",
    "clause 4.3.2: receivers decide at 0.2 V (as quoted)",
);
/// Connectors.
pub(crate) const E1_11_CONNECTOR: Source = Source::standard(
    "ANSI E1.11, DMX512-A",
    "2008 (R2018)",
    "clauses 1.2 and 7: 5-pin XLR or fixed wiring, others under conditions; table 4 (as quoted)",
);
/// RDM timing.
pub(crate) const E1_20_TIMING: Source = Source::standard(
    "ANSI E1.20, RDM",
    "",
    "pages 9 to 11: break and mark (as quoted by a public implementation; tables 3-1, 3-3 by memory)",
);
/// RDM bias.
pub(crate) const E1_20_BIAS: Source = Source::standard(
    "ANSI E1.20, RDM",
    "",
    "bias: at least 245 mV idle at the controller's end (as quoted; clause 2 by memory)",
);
/// Bias beside the receivers.
pub(crate) const BIAS_LOAD: Source = Source::computed(
    "unit loads of a bias network, 12 kohm over each resistor, counted apart from the receivers",
);
/// Impedance of a biased end.
pub(crate) const BIASED_END: Source =
    Source::computed("near end of a biased line, terminator beside both bias resistors");
/// RDM.
pub(crate) const E1_20: Source = Source::standard(
    "ANSI E1.20, RDM",
    "",
    "in-line devices pass both ways, at most four between controller and responder (as quoted)",
);
/// Terminators with RDM.
pub(crate) const E1_20_TERMINATION: Source = Source::standard(
    "ANSI E1.20, RDM",
    "",
    "clause 2: both ends terminated, the near end in the controller (as quoted)",
);
/// Universe numbers.
pub(crate) const E1_31: Source = Source::standard(
    "ANSI E1.31, streaming ACN",
    "2018",
    "clauses 6.2.7 and 9.3.1: universes 1 to 63999",
);
/// Twenty devices.
pub(crate) const TWENTY: Source = Source::common_practice("at most 20 devices on one chain");
/// 300 ft.
pub(crate) const THREE_HUNDRED_FEET: Source = Source::common_practice(
    "shielded category cable at most 300 ft from controller to last device",
);
/// No joints in boxes.
pub(crate) const OWN_TERMINALS: Source = Source::common_practice(
    "in and out of every device on its own terminals; a branch is never joined under a wire nut",
);
