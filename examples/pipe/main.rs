//! The library as a pipe for any language: a question a line as JSON on standard input, its answer a line on standard output.
//!
//! ```text
//!   {"id": 7, "question": "cut", "input": {…}}   ──►   {"id":7,"answer":{…}}
//!                                                or   {"id":7,"error":{"kind":"check","faults":[{"place":…,"says":…}]}}
//! ```
//!
//! Each line is answered before the next is read, and the answer is flushed. `id` is any JSON value and comes back as it
//! came, on an error too; without one, or where it stands behind what is no JSON, it is `null`. Empty lines are skipped. A line of more than 32 MiB, or of
//! more cells than are answered, is refused; no line ends the program. Exit codes: 0 every line has its answer, 1 a line has
//! none, 2 nothing can be read or written; a reader that leaves early ends it quietly.
//!
//! A quantity is written with its unit, `"24 V"` or `{"V": 24.0}`, and answered as the latter, in SI base units; a list of
//! bare numbers has its unit in its name (`cell_volts`). A length of tape, profile or route is exact, `{"nm": 2000000000}` or
//! `"2 m"`. Prices are whole minor units. Fields are those of the type named below, each documented there; what is left out
//! is as its constructor or `Default` takes it. An unknown field is a fault.
//!
//! | question | input | answer |
//! | --- | --- | --- |
//! | `network` | nodes by name, links, sources, laws ([`Load`](evenrun::load::Load)), single loads, tapes of up to six emitters | every voltage, current and loss, with the bound on their error |
//! | `run` | [`RunProblem`](evenrun::choose::feeding::RunProblem); `tape` is one cut increment, a [`Load`](evenrun::load::Load) an emitter | `planned` or `infeasible`, [`RunOutcome`](evenrun::choose::feeding::RunOutcome) |
//! | `cut` | [`StockSpec`](evenrun::choose::stock::StockSpec) | [`CuttingPlan`](evenrun::choose::stock::CuttingPlan) |
//! | `supplies` | [`SupplyProblem`](evenrun::choose::devices::SupplyProblem) | [`Assignment`](evenrun::choose::devices::Assignment), its millionths as quantities |
//! | `chain` | `chain`, a [`ChainSpec`](evenrun::dmx::chain::ChainSpec); `signal`: false leaves the line in time out | links, findings, what every device sees |
//! | `conductor` | `size` or any `area` of metal, `metal`, `construction`, `temperature`; `length`, `current`; `installed`, `ambient`, `insulation`, `loaded` | resistance, drop, ampacity (or that no table covers it) |
//! | `job` | `toml`: the text of a job file; `name` for messages | the whole [`Design`](evenrun::design::Design), as `plan --json` writes it |
//!
//! Kinds of `error`: `line` (no JSON object in UTF-8, or too long), `question` (none, or unknown), `form` (every place where the
//! input has another form), `check` (every figure and name that cannot be), `answer` (sound, and no answer), `program` (a fault
//! of this program).
//!
//! One line of each, to paste; `tests/pipe` runs them. All data in them is invented.
//!
//! ```text
//! {"id":1,"question":"network","input":{"nodes":["plus","minus","pad +","pad r","pad w"],"links":[{"name":"common","from":"plus","to":"pad +","resistance":"0.5 ohm"},{"name":"red","from":"pad r","to":"minus","resistance":"0.5 ohm"},{"name":"white","from":"pad w","to":"minus","resistance":"0.5 ohm"}],"sources":[{"name":"supply","plus":"plus","minus":"minus","set_point":"24 V","limit":{"trip":"4 A"}}],"laws":[{"name":"red","load":{"resistive":{"resistance":"23 ohm"}}},{"name":"white","load":{"resistive":{"resistance":"23 ohm"}}}],"tapes":[{"name":"tape","cells":1,"common":{"links":"5 mΩ","attachments":[{"cell":0,"node":"pad +"}]},"emitters":[{"name":"red","law":"red","rail":{"links":"5 mΩ","attachments":[{"cell":0,"node":"pad r"}]}},{"name":"white","law":"white","rail":{"links":"5 mΩ","attachments":[{"cell":0,"node":"pad w"}]}}]}]}}
//! {"id":2,"question":"run","input":{"tape":{"pitch":"50 mm","rated":"24 V","common":"8 mΩ","emitters":[{"name":"white","rail":"8 mΩ","load":{"series":{"diode":{"forward_voltage":"3 V","at_current":"20 mA","ideality":2,"series_resistance":"3 ohm"},"count":6,"ballast":"300 ohm"}}}]},"increments":100,"places":[{"place":"box","to_start":"4 m","to_end":"9 m"}],"wires":[{"cable":"2 x 1.5","cores":2,"core":"16 mΩ/m","price_per_metre":90}],"source":{"set_point":{"low":"23.76 V","nominal":"24 V","high":"24.24 V"}},"limits":{"least_current":"80 %"},"costs":{"per_segment":300,"per_feed":800,"per_break":200}}}
//! {"id":3,"question":"cut","input":{"what":"profile","kerf":"4 mm","stock":[{"name":"bar","length":"2 m","price":1900}],"pieces":[{"id":"A","length":"1050 mm"},{"id":"B","length":"950 mm"}]}}
//! {"id":4,"question":"supplies","input":{"what":"gallery","loads":[{"id":"L1","volts":"24 V","current":"1.5 A","power":"36 W"},{"id":"L2","volts":"24 V","current":"1.5 A","power":"36 W"},{"id":"L3","volts":"24 V","current":"1.5 A","power":"36 W"},{"id":"L4","volts":"24 V","current":"1.5 A","power":"36 W"}],"kinds":[{"name":"96 W","volts":"24 V","power":"96 W","outputs":1,"output_current":"4 A","derating":"100 %","price":4000}]}}
//! {"id":5,"question":"chain","input":{"chain":{"name":"north","cable":{"kind":"data_pair","awg":24},"parts":[{"name":"D1","length":"12 m","kind":{"device":{"unit_loads":"1/4"}}},{"name":"D2","length":"8 m","kind":{"device":{}},"terminator":"120 ohm"}]}}}
//! {"id":6,"question":"conductor","input":{"area":"20 mm²","construction":"solid","length":"29 m","current":"10 A"}}
//! {"id":"the shelf","question":"job","input":{"toml":"schema = 1\ntitle = \"Shelf\"\ncurrency = \"EUR\"\nlimits = { least_current = \"75 %\" }\nstrip = [{ name = \"white\", rated = \"24 V\", polarity = \"common plus\", cut_pitch = \"50 mm\", reel = \"5 m\", emitters = [{ name = \"white\", cell = \"series\", diodes = 6, forward = \"3 V\", current = \"20 mA\" }], rails = { known_from = \"resistance\", common = \"0.1 ohm/m\", returns = \"0.1 ohm/m\" } }]\ncable = [{ name = \"2 x 1.5\", cores = 2, size = \"1.5 mm2\", material = \"copper\", strands = \"flexible\", insulation = \"90 °C\" }]\nsupply = [{ name = \"75 W\", power = \"75 W\", volts = \"24 V\", tolerance = \"1 %\", output_current = \"3.1 A\", derating = [{ ambient = \"50 °C\", share = \"100 %\" }] }]\nplace = [{ name = \"box\", room = \"hall\", ambient = \"30 °C\" }]\nzone = [{ name = \"shelf\", strip = \"white\", control = \"switched\", places = [\"box\"], cables = [\"2 x 1.5\"] }]\nrun = [{ name = \"S1\", zone = \"shelf\", room = \"hall\", path = [{ straight = \"2 m\" }], routes = [{ from = \"box\", to = \"start\", length = \"4 m\", basis = \"measured\" }] }]\n"}}
//! ```
//!
//! ```sh
//! cargo run --release --example pipe < questions.jsonl > answers.jsonl
//! ```
//!
//! `examples/batch` spreads lines over several machines' workers with an engine that is there for it.

#[path = "../shared/arguments.rs"]
mod arguments;
#[path = "../shared/screen.rs"]
mod screen;

mod chain;
mod conductor;
mod cut;
mod fault;
mod form;
mod job;
pub mod lines;
mod network;
mod questions;
mod run;
mod solution;
mod supplies;

pub use fault::Refusal;
pub use lines::LONGEST_LINE;
pub use questions::QUESTIONS;

/// Answers every line of `input`; the exit code.
///
/// # Errors
/// Reading or writing fails.
pub fn run(input: impl std::io::BufRead, out: impl std::io::Write) -> std::io::Result<u8> {
    lines::run(input, out, questions::ask)
}

/// A question a line as JSON on standard input, its answer a line on standard output.
#[derive(clap::Parser)]
#[command(
    name = "pipe",
    after_help = "Questions: network, run, cut, supplies, chain, conductor, job; the page of the example shows each.\n\
                  Exit codes: 0 every line has its answer, 1 a line has none, 2 nothing can be read or written."
)]
struct Asked {}

fn main() -> std::process::ExitCode {
    screen::program(
        |arguments, out, err| match arguments::read::<Asked>(arguments, out, err)? {
            Ok(_) => run(std::io::stdin().lock(), out),
            Err(code) => Ok(code),
        },
    )
}
