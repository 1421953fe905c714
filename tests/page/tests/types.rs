//! The types that the page's modules state in their comments hold.

use loftwire_page_tests::built::root;
use loftwire_page_tests::npm;
use std::process::Command;

/// What the checker is told: plain scripts for a browser, and nothing let pass.
const OPTIONS: [&str; 13] = [
    "--noEmit",
    "--checkJs",
    "--allowJs",
    "--strict",
    "--noUnusedLocals",
    "--target",
    "es2022",
    "--module",
    "es2022",
    "--moduleResolution",
    "bundler",
    "--lib",
    "es2022,dom,dom.iterable",
];

#[test]
fn no_type_is_wrong() {
    let checker = npm::file("typescript", "5", "bin/tsc");
    let mut node = Command::new("node");
    let output =
        node.arg(checker).args(OPTIONS).arg(root().join("www/app/main.js")).output().expect("Node.js is there");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stdout));
}
