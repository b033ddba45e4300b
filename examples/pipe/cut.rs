//! `cut`: pieces to stock, a [`StockSpec`] to a cutting plan.

use super::fault::{Kind, Refusal, write};
use super::form::read;
use evenrun::choose::stock::{self, StockSpec};
use evenrun::progress::Progress;

pub fn answer(input: &str) -> Result<String, Refusal> {
    let stock = read::<StockSpec>(input)?.check().map_err(Refusal::check)?;
    let plan = stock::plan(&stock, &mut Progress::silent())
        .map_err(|error| Refusal::of(Kind::Answer, error))?;
    write(&plan)
}
