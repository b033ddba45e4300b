//! A job planned on any number of threads gives the same bytes.

use evenrun::report;
use evenrun::{job, plan};

/// Twelve runs on one supply kind: shared copper makes some be fed again.
fn text() -> String {
    let small = include_str!("small.toml")
        .replace("length = \"3 m\"", "length = \"9 m\"")
        .replace("power = \"60 W\"", "power = \"100 W\"")
        .replace("output_current = \"2.5 A\"", "output_current = \"4 A\"");
    let (head, tail) = small.split_once("[[run]]").expect("a run");
    let (run, limits) = tail.split_once("[limits]").expect("limits");
    let runs = (0..12).map(|n| {
        let run = run
            .replace("name = \"A\"", &format!("name = \"A{n}\""))
            .replace("\"2 m\"", &format!("\"{} mm\"", 1_200 + 700 * n));
        format!("[[run]]{run}")
    });
    format!("{head}{}[limits]{limits}", runs.collect::<String>())
}

#[test]
fn one_two_and_five_threads_give_the_same_bytes() {
    same_on_any(&text());
}

/// Feeding, decoders and supplies chosen together.
#[test]
fn a_whole_job_is_chosen_the_same_on_any_number_of_threads() {
    same_on_any(&crate::together::two_runs().text());
}

fn same_on_any(text: &str) {
    let job = job::read(text, "job.toml").expect("sound");
    let on = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .expect("a pool");
        pool.install(|| report::files(&plan::plan(&job)))
    };
    let one = on(1);
    assert!(
        one.iter()
            .any(|f| f.0 == "segments.csv" && f.1.lines().count() > text.matches("[[run]]").count())
    );
    assert_eq!(on(2), one);
    assert_eq!(on(5), one);
}
