//! The documents behind the rules of this room.

use crate::source::{Source, documents};

/// Packet timing.
pub(crate) const E1_11_TIMING: Source = documents::E1_11.at("packet timing");
/// The test packet.
pub(crate) const E1_11_TEST: Source = documents::E1_11.at("test packet, annex D");
/// 512 slots after the START code.
pub(crate) const E1_11_SLOTS: Source =
    documents::E1_11.at("clause 1.2: START code and up to 512 data slots");
/// Daisy chain without branches.
pub(crate) const E1_11_TOPOLOGY: Source = documents::E1_11
    .at("clause 4, topology: one transmitter, receivers in a daisy chain, no branch");
/// Terminator at the far end.
pub(crate) const E1_11_TERMINATION: Source =
    documents::E1_11.at("data link termination: 120 Ω at the end farthest from the transmitter");
/// Earthing and isolation.
pub(crate) const E1_11_EARTH: Source = documents::E1_11
    .at("clause 4.6: earth-referenced transmitter, isolated receivers, one earth at the source")
    .read();
/// Common-mode volts.
pub(crate) const COMMON_MODE: Source = documents::TIA_485_A
    .at("clause 4.3.1: -7 to +12 V at a receiver; clause 4.2.2: a driver's offset -1 to +3 V");
/// 32 unit loads.
pub(crate) const UNIT_LOADS: Source =
    documents::E1_11.at("clause 4, through TIA-485-A 4.5.3: 32 unit loads on one driver");
/// Length of a run; E1.11 itself leaves cable out.
pub(crate) const USITT_LENGTH: Source = documents::USITT
    .at("300 m on 24 AWG, 500 m on 22 AWG (ANSI E1.11, 1.1, leaves cable out of its scope)");
/// Outer limit of length.
pub(crate) const EIA485_LENGTH: Source =
    documents::TIA_422_B.at("annex A.1.1: 1200 m; TIA-485-A, annex A.2");
/// Cable of category 5 and higher.
pub(crate) const E1_27_2: Source =
    documents::E1_27_2.at("scope: EIA-485 cable, and category 5 and higher");
/// Stub length.
pub(crate) const STUB: Source = documents::DMX_GUIDANCE.at("a stub at most 0.3 m (12 in)");
/// Resistance of a core.
pub(crate) const CORE_RESISTANCE: Source =
    documents::DMX_GUIDANCE.at("each conductor at most 200 Ω");
/// Stub against the edge, one way.
pub(crate) const STUB_ONE_WAY: Source =
    documents::EIA_485_TRAINING.at("one-way time of a stub at most a tenth of the edge");
/// Stub against the edge, there and back.
pub(crate) const STUB_ROUND_TRIP: Source =
    documents::EIA_485_GUIDANCE.at("time there and back of a stub at most a tenth of the edge");
/// Output of a driver.
pub(crate) const EIA485_DRIVER: Source =
    documents::TIA_485_A.at("clauses 4.2.1 and 4.2.2: driver output open and into 54 Ω");
/// Edge of a driver.
pub(crate) const EIA485_EDGE: Source =
    documents::TIA_485_A.at("clause 4.2.7: edges within 0.3 of a bit");
/// Threshold of a receiver.
pub(crate) const EIA485_THRESHOLD: Source =
    documents::TIA_485_A.at("clause 4.3.2: receivers decide at 0.2 V");
/// Connectors.
pub(crate) const E1_11_CONNECTOR: Source = documents::E1_11
    .at("clauses 1.2 and 7: 5-pin XLR or fixed wiring, others under conditions; table 4");
/// RDM timing.
pub(crate) const E1_20_TIMING: Source = documents::E1_20.at("break and mark");
/// RDM bias.
pub(crate) const E1_20_BIAS: Source =
    documents::E1_20.at("bias: at least 245 mV idle at the controller's end");
/// Bias beside the receivers.
pub(crate) const BIAS_LOAD: Source = Source::computed(
    "unit loads of a bias network, 12 kohm over each resistor, counted apart from the receivers",
);
/// Impedance of a biased end.
pub(crate) const BIASED_END: Source =
    Source::computed("near end of a biased line, terminator beside both bias resistors");
/// RDM.
pub(crate) const E1_20: Source = documents::E1_20
    .at("in-line devices pass both ways, at most four between controller and responder");
/// Terminators with RDM.
pub(crate) const E1_20_TERMINATION: Source =
    documents::E1_20.at("both ends terminated, the near end in the controller");
/// Universe numbers.
pub(crate) const E1_31: Source =
    documents::E1_31.at("clauses 6.2.7 and 9.3.1: universes 1 to 63999");
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
