//! What a short job is told that says too little, or two things at once.

use crate::{changed, readme};
use evenrun::job::read;

fn told(text: &str, says: &str) {
    let faults = read(text, "job.toml").expect_err("a fault");
    let said = faults.to_string();
    assert!(said.contains(says), "{said}");
    assert!(
        faults.faults().iter().all(|fault| fault.place.is_some()),
        "{said}"
    );
}

#[test]
fn too_little() {
    let job = readme();
    told(
        &changed(&job, "control = \"switched\"\n", ""),
        "control is missing. Write control = \"switched\", \"8 bit\" or \"16 bit\", or a [[zone]]",
    );
    told(
        &changed(&job, "power = \"14.4 W/m\"\n", ""),
        "strip \"white\": power is missing. Write the power of its label, like \"14.4 W/m\" or \"4.4 W/ft\"",
    );
    told(
        &changed(&job, "length = \"9 m\", ", ""),
        "run \"R1\": path is missing. Write length = \"7.5 m\", or the pieces of the run",
    );
    told(
        &changed(&job, ", feeder = \"6 m\"", ""),
        "run \"R1\": routes",
    );
    let second = format!(
        "{job}[[strip]]\nname = \"amber\"\nrated = \"24 V\"\npower = \"5 W/m\"\ncut_pitch = \"50 mm\"\n"
    );
    told(&second, "zone is missing: the job has 2 strips");
}

#[test]
fn two_things_at_once() {
    let job = readme();
    told(
        &changed(
            &job,
            "length = \"9 m\",",
            "length = \"9 m\", path = [{ straight = \"9 m\" }],",
        ),
        "run \"R1\": length stands beside `path`",
    );
    told(
        &changed(&job, "feeder = \"6 m\"", "feeder = \"6 m\", routes = []"),
        "run \"R1\": feeder stands beside `routes`",
    );
    told(
        &changed(
            &job,
            "copper = \"2 oz\"",
            "copper = \"2 oz\"\nrails = { known_from = \"resistance\", common = \"60 mΩ/m\", returns = \"60 mΩ/m\" }",
        ),
        "strip \"white\": copper stands beside `rails`",
    );
    told(
        &changed(
            &job,
            "copper = \"2 oz\"",
            "flux = \"900 lm/m\"\nemitters = [\"warm\", \"cool\"]",
        ),
        "strip \"white\": flux stands beside `emitters`",
    );
    told(
        &changed(
            &job,
            "copper = \"2 oz\"",
            "emitters = [{ name = \"warm\", power = \"14.4 W/m\" }, \"cool\"]",
        ),
        "strip \"white\": power is 14.4 W/m, and its emitters state as much between them",
    );
    told(
        &changed(
            &job,
            "control",
            "zone = [{ name = \"all\", control = \"switched\" }]\ncontrol",
        ),
        "control stands at the top of a job that has zones",
    );
    told(
        &changed(
            &job,
            "control",
            "place = [{ name = \"a\" }, { name = \"b\" }]\ncontrol",
        ),
        "run \"R1\": feeder does not say from where: its zone has 2 places",
    );
}

#[test]
fn hostile_emitters_are_told_where_they_stand() {
    let job = readme();
    for (emitters, says) in [
        (
            "7",
            "emitters is the number 7, where a list of names or tables is needed",
        ),
        (
            "[7]",
            "emitters 1 is the number 7, where a table in braces is needed",
        ),
        ("[]", "emitters has 0 entries"),
        (
            "[\"warm\", \"warm\"]",
            "`warm` is the name of another emitter",
        ),
        (
            "[{ name = \"warm\", power = 3 }]",
            "emitters 1: power is 3, a bare number",
        ),
    ] {
        told(
            &changed(&job, "copper = \"2 oz\"", &format!("emitters = {emitters}")),
            says,
        );
    }
    told(
        &changed(&job, "rated = \"24 V\"", "rated = \"3 V\""),
        "rated",
    );
    told(
        &changed(&job, "copper = \"2 oz\"", "copper = \"5 oz\""),
        "copper is `5 oz`, which is not an accepted word",
    );
}
