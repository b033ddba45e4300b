//! Packets, addresses, chains and the signal against values from outside.

#[path = "../common/mod.rs"]
mod common;
#[path = "../common/dice.rs"]
mod dice;

use evenrun::finding::Finding;

/// The id of a finding's rule, which has to be registered.
fn rule_id(finding: &Finding) -> &'static str {
    let rule = evenrun::rules::find(finding.rule.as_str());
    rule.unwrap_or_else(|| panic!("{} is not registered", finding.rule))
        .id
}

mod addresses;
mod answers;
mod chains;
mod disagreements;
mod electrical;
mod formulas;
mod grounds;
mod levels;
mod limits;
mod line;
mod line_in_time;
mod pixels;
mod rdm;
mod registry;
mod rules;
mod sacn;
mod signal;
mod timing;
mod worked;
