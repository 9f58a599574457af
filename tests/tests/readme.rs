//! The README's table of commands is the table of commands. `UPDATE_EXPECT=1 cargo test` writes it anew.

use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use commands::table::COMMANDS;
use commands::words::{Lang, say};

const BEGIN: &str = "<!-- commands -->\n";
const END: &str = "<!-- /commands -->";

#[test]
fn the_readme_lists_every_command() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .parent()
        .expect("the workspace")
        .join("README.md");
    let readme = fs::read_to_string(&path).expect("the README");
    let (head, rest) = readme.split_once(BEGIN).expect("where the table begins");
    let (_, foot) = rest.split_once(END).expect("where the table ends");
    let wanted = format!("{head}{BEGIN}{}{END}{foot}", rows());
    #[allow(
        clippy::disallowed_methods,
        reason = "asked for by whoever runs the tests, not a setting"
    )]
    if readme != wanted && std::env::var_os("UPDATE_EXPECT").is_some() {
        fs::write(&path, &wanted).expect("the README can be written");
        return;
    }
    assert!(
        readme == wanted,
        "the README's commands are not those of the table: UPDATE_EXPECT=1 cargo test writes them"
    );
}

/// A row a command, as the table of the core has them, in words that people read in the chat too.
fn rows() -> String {
    let mut rows = String::new();
    for command in COMMANDS {
        let mut call = format!("/{}", command.path);
        for option in command.options {
            let _ = if option.required {
                write!(call, " {}", option.name)
            } else {
                write!(call, " [{}]", option.name)
            };
        }
        let who: Vec<String> = command
            .right
            .roles()
            .iter()
            .map(|role| say(Lang::English, &format!("role-{}", role.as_str()), &[]))
            .collect();
        let _ = writeln!(
            rows,
            "| `{call}` | {} | {} |",
            who.join(", "),
            say(Lang::English, command.about, &[])
        );
    }
    rows
}
