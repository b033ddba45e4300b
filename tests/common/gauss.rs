//! Dense linear equations by Gauss elimination with pivots: the long way, for brute force.

/// Solves `a·v = b`; each row of `a` ends with its `b`.
pub fn gauss(mut a: Vec<Vec<f64>>) -> Vec<f64> {
    let n = a.len();
    for p in 0..n {
        let best = (p..n)
            .max_by(|x, y| a[*x][p].abs().total_cmp(&a[*y][p].abs()))
            .unwrap_or(p);
        a.swap(p, best);
        let (done, rest) = a.split_at_mut(p + 1);
        let pivot = &done[p];
        for row in rest {
            let f = row[p] / pivot[p];
            if f != 0.0 {
                for (to, from) in row.iter_mut().zip(pivot).skip(p) {
                    *to -= f * from;
                }
            }
        }
    }
    let mut v = vec![0.0; n];
    for row in (0..n).rev() {
        let known: f64 = (row + 1..n).map(|c| a[row][c] * v[c]).sum();
        v[row] = (a[row][n] - known) / a[row][row];
    }
    v
}
