//! The educator's questions: proof of watching, sign-offs from a file, lapses, the smallest set of sign-offs.

#[path = "../common/mod.rs"]
#[expect(dead_code, reason = "the small nights serve several tests, each in part")]
mod common;
mod fewest;
mod first_entries;
mod outlook;
mod proof;
mod recency;
mod sign_offs;

use std::path::Path;
use std::process::{Command, Output};

/// Runs the program in the project's folder with words in which `@` stands for `folder`.
fn anteroom(words: &str, folder: &Path) -> Output {
    let words = words.replace('@', &folder.display().to_string());
    let mut command = Command::new(env!("CARGO_BIN_EXE_anteroom"));
    command.args(words.split_whitespace()).current_dir(env!("CARGO_MANIFEST_DIR"));
    command.output().expect("anteroom starts")
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("the answer is text")
}
