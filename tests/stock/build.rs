//! Short ways to write a spec, and a check that every plan must pass.

use evenrun::choose::stock::{
    self, CuttingPlan, Joints, Piece, StockError, StockLength, StockSpec,
};
use evenrun::exact::ExactLength;
use evenrun::progress::Progress;
use std::collections::BTreeMap;

pub fn mm(millimetres: i64) -> ExactLength {
    ExactLength::from_millimetres(millimetres)
}

/// A spec of stock (length, price) and pieces, in millimetres.
pub fn spec(kerf: i64, stock: &[(i64, i64)], pieces: &[i64]) -> StockSpec {
    let mut spec = StockSpec::new("profile");
    spec.kerf = mm(kerf);
    for (n, &(length, price)) in stock.iter().enumerate() {
        spec.stock
            .push(StockLength::new(format!("stock {n}"), mm(length), price));
    }
    for (n, &length) in pieces.iter().enumerate() {
        spec.pieces.push(Piece::new(format!("p{n:05}"), mm(length)));
    }
    spec
}

pub fn try_plan(spec: &StockSpec) -> Result<CuttingPlan, StockError> {
    let checked = spec.clone().check().expect("the spec is good");
    let plan = stock::plan(&checked, &mut Progress::silent())?;
    verify(spec, &plan);
    Ok(plan)
}

pub fn plan(spec: &StockSpec) -> CuttingPlan {
    try_plan(spec).expect("a plan exists")
}

/// Every piece whole and once, nothing over the end of a bar, stock not overdrawn,
/// figures that add up, bound below value.
pub fn verify(spec: &StockSpec, plan: &CuttingPlan) {
    let kerf = spec.kerf.nanometres();
    let mut cut: BTreeMap<&str, (i64, u32)> = BTreeMap::new();
    let mut used: BTreeMap<&str, u32> = BTreeMap::new();
    let mut money = 0u64;
    for bar in &plan.bars {
        *used.entry(&bar.stock).or_default() += 1;
        let parts: i64 = bar.parts.iter().map(|p| p.length.nanometres()).sum();
        let cuts = kerf * (bar.parts.len() as i64 - 1);
        let slack = if spec.increment.is_some() {
            2 * bar.parts.len() as i64
        } else {
            0
        };
        assert!(
            parts + cuts <= bar.length.nanometres() + slack,
            "overfull: {bar:?}"
        );
        if spec.increment.is_none() {
            let sum = parts + bar.dust.nanometres() + bar.offcut.nanometres();
            assert_eq!(sum, bar.length.nanometres(), "does not add up: {bar:?}");
        }
        for part in &bar.parts {
            let entry = cut.entry(&part.piece).or_default();
            entry.0 += part.length.nanometres();
            entry.1 += 1;
        }
        money += spec
            .stock
            .iter()
            .find(|s| s.name == bar.stock)
            .map_or(0, |s| s.price.unsigned_abs());
    }
    assert_eq!(cut.len(), spec.pieces.len(), "a piece is missing");
    let mut joints = 0;
    for piece in &spec.pieces {
        let (length, parts) = cut[piece.id.as_str()];
        let wanted = piece.length.nanometres()
            + piece.start_allowance.nanometres()
            + piece.end_allowance.nanometres();
        let slack = if spec.increment.is_some() {
            i64::from(parts)
        } else {
            0
        };
        assert!(
            (length - wanted).abs() <= slack,
            "{}: {length} for {wanted}",
            piece.id
        );
        joints += u64::from(parts - 1);
        if spec.joints == Joints::Never {
            assert_eq!(parts, 1);
        }
    }
    assert_eq!(joints, plan.joints);
    for stock in &spec.stock {
        if let Some(count) = stock.count {
            assert!(
                used.get(stock.name.as_str()).copied().unwrap_or(0) <= count,
                "overdrawn"
            );
        }
    }
    for offcut in &spec.offcuts {
        assert!(
            used.get(offcut.name.as_str()).copied().unwrap_or(0) <= 1,
            "offcut used twice"
        );
    }
    assert!(plan.cost >= money);
    assert!(plan.lower_bound <= plan.value, "bound above value");
    assert!(!plan.proven || plan.lower_bound == plan.value);
}
