//! The example `pipe`: its page holds, every answer is the library's own, and no line ends it.

#[allow(dead_code, reason = "the example's own main")]
#[path = "../../examples/pipe/main.rs"]
mod pipe;

mod data;
mod hostile;
mod page;

use serde_json::Value;

/// The answers to some lines, one each.
fn answers(input: impl AsRef<[u8]>) -> Vec<Value> {
    let mut out = Vec::new();
    pipe::run(input.as_ref(), &mut out).expect("memory takes everything");
    let text = String::from_utf8(out).expect("answers are UTF-8");
    let lines = text.lines().map(|line| {
        let read: Value = serde_json::from_str(line).expect("an answer is JSON");
        let keys = read.as_object().expect("an object").keys();
        let keys: Vec<&str> = keys.map(String::as_str).collect();
        assert!(
            matches!(keys[..], ["answer", "id"] | ["error", "id"]),
            "{line}"
        );
        read
    });
    lines.collect()
}

/// The answer to one question.
fn answer(question: &str, input: &str) -> Value {
    let line = format!(r#"{{"id":0,"question":"{question}","input":{input}}}"#);
    let mut all = answers(line);
    assert_eq!(all.len(), 1);
    all.remove(0)
}

/// Kind and sentences of a refusal.
fn refused(answer: &Value) -> (&str, Vec<&str>) {
    let error = &answer["error"];
    let faults = error["faults"].as_array().expect("faults");
    assert!(!faults.is_empty());
    let says = faults
        .iter()
        .map(|fault| fault["says"].as_str().expect("words"));
    (error["kind"].as_str().expect("a kind"), says.collect())
}
