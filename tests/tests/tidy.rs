//! The architecture, held as data: who may import whom, how long a file may be, what must not be written.
//!
//! Every rule is a row in a table below with its reason; a file that breaks one is named with its line. Tests
//! are free of the rules about imports and words of caution (they may unwrap, read files, look at clocks): what
//! stands under `#[cfg(test)]`, in a file that is only declared there, and in folders of tests and benchmarks.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// The modules of the model in reading order: each may use only those before it.
const MODEL_ORDER: [&str; 21] = [
    "units",
    "id",
    "paper",
    "geometry",
    "calendar",
    "sun",
    "plan",
    "kit",
    "systems",
    "project",
    "building",
    "survey",
    "edit",
    "sentence",
    "limits",
    "studies",
    "world",
    "checks",
    "drawing",
    "schedules",
    "store",
];

/// Most lines of a file that is still one idea.
const MOST_LINES: usize = 600;

/// Words that code within some folders must not hold, apart from some files.
struct Ban {
    words: &'static [&'static str],
    within: &'static [&'static str],
    except: &'static [&'static str],
    tests_too: bool,
    reason: &'static str,
}

/// Every ban. A path that ends in `/` stands for all beneath it.
const BANS: &[Ban] = &[
    Ban {
        words: &["egui", "eframe", "winit", "rfd"],
        within: &["model/src/"],
        except: &[],
        tests_too: true,
        reason: "the model knows no window",
    },
    Ban {
        words: &["std::fs", "std::env", "std::process", "std::net", "std::io", "println!", "eprintln!"],
        within: &["model/src/"],
        except: &[],
        tests_too: false,
        reason: "the model reads and writes nothing by itself",
    },
    Ban {
        words: &["std::time", "SystemTime", "Instant", "std::thread", "rand"],
        within: &["model/src/"],
        except: &[],
        tests_too: false,
        reason: "the model gives the same for the same, on every machine and at any time",
    },
    Ban {
        words: &["HashMap", "HashSet"],
        within: &["model/src/"],
        // Looked up by place, never gone through.
        except: &["model/src/geometry/arrangement.rs"],
        tests_too: false,
        reason: "their order differs from run to run: take a BTreeMap or BTreeSet",
    },
    Ban {
        words: &["unwrap()", "expect(", "panic!", "unreachable!"],
        within: &["model/src/"],
        except: &[],
        tests_too: false,
        reason: "a plan that is odd gets an answer, not a crash",
    },
    Ban {
        words: &["Serialize", "Deserialize", "JsonSchema"],
        within: &["model/src/", "app/src/"],
        except: &["model/src/store/", "model/src/limits/"],
        tests_too: false,
        reason: "a file is not the model: what is kept has structs of its own in the store",
    },
    Ban {
        words: &["std::fs", "fs::", "File::open", "File::create"],
        within: &["app/src/"],
        except: &["app/src/files.rs", "app/src/files/"],
        tests_too: false,
        reason: "only files.rs touches the file system, so that nothing is written over by accident",
    },
    Ban {
        words: &["from_rgb", "from_rgba", "from_gray", "from_hex", "hex_color", "from_rgba_premultiplied"],
        within: &["app/src/window/"],
        except: &["app/src/window/theme.rs"],
        tests_too: false,
        reason: "colours of the window come from theme.rs, where their contrast is measured",
    },
    Ban {
        words: &[".apply(", "History::apply", "Session::apply"],
        within: &["app/src/"],
        except: &[
            // The door itself, and the one who goes through it.
            "app/src/window/session.rs",
            "app/src/window/update.rs",
            "app/src/window/update/",
            // Tries a change on a copy that is thrown away, to show what it would do.
            "app/src/window/canvas/tools/preview.rs",
            // The command line has no window: the one place where it performs changes on the plan in hand.
            "app/src/commands/survey.rs",
        ],
        tests_too: false,
        reason: "only window/update changes the project; panels and tools return intents",
    },
    Ban {
        words: &["crate::window"],
        within: &["app/src/commands/", "app/src/print/", "app/src/files.rs", "app/src/files/"],
        // Opens the window where the command line names no other command.
        except: &["app/src/commands/mod.rs"],
        tests_too: true,
        reason: "commands, paper and files work without a window",
    },
    Ban {
        words: &["crate::commands", "crate::files"],
        within: &["app/src/print/"],
        except: &[],
        tests_too: true,
        reason: "what prints is given a drawing and returns bytes",
    },
    Ban {
        words: &["crate::commands", "crate::print"],
        within: &["app/src/files.rs", "app/src/files/"],
        except: &[],
        tests_too: true,
        reason: "what reads and writes files knows nothing of who asks",
    },
    Ban {
        words: &["pattress_model::project", "pattress_model::plan", "pattress_model::kit"],
        within: &["app/src/print/"],
        except: &[],
        tests_too: false,
        reason: "paper prints the drawing that the board shows, and looks at nothing else",
    },
    Ban {
        words: &["todo!", "unimplemented!", "#[ignore", "FIXME", "XXX", "dbg!"],
        within: &["model/", "app/", "tests/"],
        except: &[THIS_FILE],
        tests_too: true,
        reason: "what is not done is not in the code",
    },
];

/// Paths of the machine that something was written on; not in any text of the repository.
const MACHINE_PATHS: [&str; 4] = [concat!("/wo", "rk/"), concat!("/ro", "ot/"), concat!("/t", "mp/"), "C:\\"];

/// The one file that has to name what it forbids.
const THIS_FILE: &str = "tests/tests/tidy.rs";

/// A text of the repository.
struct Text {
    /// Its path from the root, with slashes.
    path: String,
    content: String,
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("the workspace").to_owned()
}

/// Every text beneath the root, in order; what is built or issued is none.
fn texts() -> Vec<Text> {
    let root = root();
    let mut found = Vec::new();
    let mut folders = vec![root.clone()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            let name = path.file_name().expect("a name").to_string_lossy().into_owned();
            if [".git", "target", "issued"].contains(&name.as_str()) {
                continue;
            }
            if path.is_dir() {
                folders.push(path);
            } else if let Ok(content) = fs::read_to_string(&path) {
                let path = path.strip_prefix(&root).expect("beneath the root");
                found.push(Text { path: path.to_string_lossy().replace('\\', "/"), content });
            }
        }
    }
    found.sort_by(|a, b| a.path.cmp(&b.path));
    found
}

/// The Rust files among them.
fn rust_files() -> Vec<Text> {
    texts().into_iter().filter(|text| text.path.ends_with(".rs")).collect()
}

fn lies_in(path: &str, places: &[&str]) -> bool {
    places.iter().any(|place| if place.ends_with('/') { path.starts_with(place) } else { path == *place })
}

/// A line of a file without its comment: its number from 1, the code, and whether only tests see it.
struct Line<'a> {
    number: usize,
    code: &'a str,
    of_test: bool,
}

/// The lines of a formatted Rust file. An item under `#[cfg(test)]` ends at the brace that stands as far in as
/// the attribute, or on the line of its semicolon.
fn lines(content: &str) -> Vec<Line<'_>> {
    let mut found = Vec::new();
    let mut end_of_test: Option<String> = None;
    let mut begins = false;
    for (index, whole) in content.lines().enumerate() {
        let code = if whole.trim_start().starts_with("//") { "" } else { whole };
        let code = code.split(" // ").next().unwrap_or_default();
        let indent = &whole[..whole.len() - whole.trim_start().len()];
        if end_of_test.is_none() && code.trim() == "#[cfg(test)]" {
            end_of_test = Some(format!("{indent}}}"));
            begins = true;
        }
        found.push(Line { number: index + 1, code, of_test: end_of_test.is_some() });
        if begins && code.trim_end().ends_with(';') {
            end_of_test = None;
        }
        begins &= code.trim_start().starts_with("#[") || code.is_empty();
        if end_of_test.as_deref() == Some(whole) {
            end_of_test = None;
        }
    }
    found
}

/// The files and folders (ending in `/`) that only tests see, because their `mod` line stands under `#[cfg(test)]`.
fn declared_for_tests(files: &[Text]) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for file in files {
        let folder = match file.path.strip_suffix("/mod.rs").or(file.path.strip_suffix("/lib.rs")) {
            Some(folder) => folder,
            None => file.path.trim_end_matches(".rs"),
        };
        for line in lines(&file.content).iter().filter(|line| line.of_test) {
            let code = line.code.trim();
            let Some(name) = code.split("mod ").nth(1).and_then(|rest| rest.strip_suffix(';')) else {
                continue;
            };
            found.insert(format!("{folder}/{name}.rs"));
            found.insert(format!("{folder}/{name}/"));
        }
    }
    found
}

fn is_for_tests(file: &Text, declared: &BTreeSet<String>) -> bool {
    declared.contains(&file.path)
        || declared.iter().any(|folder| folder.ends_with('/') && file.path.starts_with(folder.as_str()))
        || file.path.starts_with("tests/")
        || file.path.contains("/tests/")
        || file.path.contains("/benches/")
}

/// Where in `code` the word stands by itself, not as part of a longer name.
fn holds_word(code: &str, word: &str) -> bool {
    let part_of_name = |c: char| c.is_alphanumeric() || c == '_';
    code.match_indices(word).any(|(at, _)| {
        let before = code[..at].chars().next_back();
        let after = code[at + word.len()..].chars().next();
        let open_before = word.starts_with(part_of_name) && before.is_some_and(part_of_name);
        let open_after = word.ends_with(part_of_name) && after.is_some_and(part_of_name);
        !open_before && !open_after
    })
}

/// The module of a file of the model: `["drawing", "sheets", "level"]`.
fn module_of(path: &str) -> Vec<String> {
    let inner = path.trim_start_matches("model/src/").trim_end_matches(".rs");
    let inner = inner.trim_end_matches("/mod");
    if inner == "lib" { Vec::new() } else { inner.split('/').map(str::to_owned).collect() }
}

/// The modules that a line of a file names by `crate::…` or `super::…`, each written from the root.
fn named_modules(code: &str, module: &[String]) -> Vec<Vec<String>> {
    let mut found = Vec::new();
    let is_name = |c: char| c.is_alphanumeric() || c == '_';
    let path_after = |rest: &str| -> Vec<String> {
        rest.split("::")
            .map(|part| part.chars().take_while(|c| is_name(*c)).collect::<String>())
            .take_while(|part| !part.is_empty())
            .collect()
    };
    for (at, _) in code.match_indices("crate::") {
        if !code[..at].chars().next_back().is_some_and(is_name) {
            found.push(path_after(&code[at + "crate::".len()..]));
        }
    }
    let mut rest = code;
    while let Some(at) = rest.find("super::") {
        let mut ups = 0;
        rest = &rest[at..];
        while let Some(further) = rest.strip_prefix("super::") {
            ups += 1;
            rest = further;
        }
        let above = module.len().saturating_sub(ups);
        found.push([module[..above].to_vec(), path_after(rest)].concat());
    }
    found
}

/// What is wrong with a line of the model's code, if anything.
fn wrong_way(path: &str, code: &str) -> Option<String> {
    let module = module_of(path);
    let rank = |name: &str| MODEL_ORDER.iter().position(|known| *known == name);
    let own = module.first()?;
    let Some(own_rank) = rank(own) else {
        return Some(format!("{own} has no place in the order of modules: give it one in {THIS_FILE}"));
    };
    for name in ["crate::{", "super::{"] {
        if code.contains(name) && (name.starts_with("crate") || module.len() == 1) {
            return Some(format!("{name} hides which module is meant: name each on a line of its own"));
        }
    }
    for named in named_modules(code, &module) {
        let Some(other) = named.first() else { continue };
        match rank(other) {
            Some(other_rank) if other_rank > own_rank => {
                return Some(format!("{own} uses {other}, which comes after it in the order of modules"));
            }
            _ if own == "studies"
                && other == "studies"
                && module.len() > 1
                && named.get(1) != module.get(1) =>
            {
                let named = named.get(1).map_or("as a whole", String::as_str);
                return Some(format!("the study {} uses studies {named}", module[1]));
            }
            _ => {}
        }
    }
    None
}

/// What a ban says about a line, if anything.
fn banned(ban: &Ban, path: &str, code: &str, of_test: bool) -> Option<String> {
    if !lies_in(path, ban.within) || lies_in(path, ban.except) || (of_test && !ban.tests_too) {
        return None;
    }
    let word = ban.words.iter().find(|word| holds_word(code, word))?;
    Some(format!("`{word}`: {}", ban.reason))
}

fn assert_none(wrong: &[String]) {
    assert!(wrong.is_empty(), "\n{}\n", wrong.join("\n"));
}

#[test]
fn imports_of_the_model_go_one_way() {
    let files = rust_files();
    let declared = declared_for_tests(&files);
    let mut wrong = Vec::new();
    let mut looked_at = 0;
    for file in files.iter().filter(|file| file.path.starts_with("model/src/")) {
        if is_for_tests(file, &declared) {
            continue;
        }
        looked_at += 1;
        for line in lines(&file.content).iter().filter(|line| !line.of_test) {
            if let Some(reason) = wrong_way(&file.path, line.code) {
                wrong.push(format!("{}:{}: {reason}", file.path, line.number));
            }
        }
    }
    assert!(looked_at > 100, "the model's files were not found");
    assert_none(&wrong);
}

#[test]
fn the_order_of_modules_is_the_one_the_developers_read() {
    let page = fs::read_to_string(root().join("DEVELOPERS.md")).expect("DEVELOPERS.md");
    let order = MODEL_ORDER.join("  ");
    assert!(page.contains(&order), "DEVELOPERS.md doesn't give the order of modules as it is: {order}");
}

#[test]
fn words_stay_out_of_where_they_do_not_belong() {
    let files = rust_files();
    let declared = declared_for_tests(&files);
    let mut wrong = Vec::new();
    for file in &files {
        let for_tests = is_for_tests(file, &declared);
        for line in lines(&file.content) {
            for ban in BANS {
                if let Some(reason) = banned(ban, &file.path, line.code, for_tests || line.of_test) {
                    wrong.push(format!("{}:{}: {reason}", file.path, line.number));
                }
            }
        }
    }
    assert_none(&wrong);
}

#[test]
fn exceptions_name_files_that_are_there() {
    for place in BANS.iter().flat_map(|ban| ban.within.iter().chain(ban.except)) {
        assert!(root().join(place).exists(), "{place} is named in {THIS_FILE} but isn't there");
    }
    for module in MODEL_ORDER {
        let place = root().join("model/src").join(module);
        assert!(place.is_dir() || place.with_extension("rs").is_file(), "the model has no module {module}");
    }
}

#[test]
fn files_are_one_idea_long_and_begin_with_their_story() {
    let mut wrong = Vec::new();
    for file in rust_files() {
        let count = file.content.lines().count();
        if count > MOST_LINES {
            wrong.push(format!("{}:{count}: longer than {MOST_LINES} lines: part it", file.path));
        }
        if !file.content.starts_with("//! ") {
            wrong.push(format!("{}:1: begins without a //! that says what it is for", file.path));
        }
    }
    assert_none(&wrong);
}

#[test]
fn no_text_names_a_place_on_the_machine_it_was_written_on() {
    let mut wrong = Vec::new();
    for text in texts().iter().filter(|text| text.path != THIS_FILE) {
        for (index, line) in text.content.lines().enumerate() {
            if let Some(place) = MACHINE_PATHS.iter().find(|place| line.contains(*place)) {
                wrong.push(format!("{}:{}: names {place}", text.path, index + 1));
            }
        }
    }
    assert_none(&wrong);
}

#[test]
fn links_of_the_pages_lead_to_files_that_are_there() {
    let mut wrong = Vec::new();
    for page in texts().iter().filter(|text| text.path.ends_with(".md")) {
        let folder = root().join(&page.path).parent().expect("a folder").to_owned();
        for (index, line) in page.content.lines().enumerate() {
            for link in line.split("](").skip(1).filter_map(|rest| rest.split(')').next()) {
                let file = link.split('#').next().unwrap_or_default();
                let is_elsewhere = link.contains("://") || file.is_empty();
                if !is_elsewhere && !folder.join(file).exists() {
                    wrong.push(format!("{}:{}: {link} isn't there", page.path, index + 1));
                }
            }
        }
    }
    assert_none(&wrong);
}

/// The rules themselves, tried on lines that break them and lines that don't.
#[test]
fn the_rules_find_what_they_are_for() {
    for (path, code, expected) in [
        ("model/src/plan/wall.rs", "use crate::drawing::Paper;", true),
        ("model/src/plan/wall.rs", "use super::super::drawing::Paper;", true),
        ("model/src/plan/wall.rs", "use super::room::Room;", false),
        ("model/src/plan/wall.rs", "use crate::{drawing, units};", true),
        ("model/src/drawing/hatch.rs", "let place: crate::plan::Wall = wall;", false),
        ("model/src/sentence.rs", "use super::store::Media;", true),
        ("model/src/studies/coverage/mod.rs", "use crate::studies::lighting::Report;", true),
        ("model/src/studies/coverage/scenes.rs", "use super::super::lighting::Report;", true),
        ("model/src/studies/coverage/scenes.rs", "use super::Options;", false),
        ("model/src/newcomer.rs", "", true),
    ] {
        assert_eq!(wrong_way(path, code).is_some(), expected, "{path}: {code}");
    }
    let first = |path: &str, code: &str, of_test: bool| {
        BANS.iter().find_map(|ban| banned(ban, path, code, of_test)).is_some()
    };
    for (path, code, of_test, expected) in [
        ("model/src/units.rs", "value.unwrap()", false, true),
        ("model/src/units.rs", "value.unwrap()", true, false),
        ("model/src/units.rs", "value.unwrap_or_default()", false, false),
        ("model/src/units.rs", "use egui::Pos2;", true, true),
        ("model/src/units.rs", "#[derive(Serialize)]", false, true),
        ("model/src/store/v1/plan.rs", "#[derive(Serialize)]", false, false),
        ("app/src/print/pdf.rs", "std::fs::write(path, bytes)", false, true),
        ("app/src/files/pack.rs", "std::fs::write(path, bytes)", false, false),
        ("app/src/window/panels/head.rs", "Color32::from_rgb(1, 2, 3)", false, true),
        ("app/src/window/theme.rs", "Color32::from_rgb(1, 2, 3)", false, false),
        ("app/src/window/panels/head.rs", "session.apply(change)", false, true),
        ("app/src/window/update/commands.rs", "session.apply(change)", false, false),
        ("app/src/commands/issue.rs", "use crate::window::Board;", false, true),
        ("tests/tests/commands.rs", "todo!()", true, true),
    ] {
        assert_eq!(first(path, code, of_test), expected, "{path}: {code}");
    }
    let content = "use a;\n#[cfg(test)]\nmod sample;\nfn b() {}\n#[cfg(test)]\nmod tests {\n    fn c() {}\n}\nfn d() {}";
    let of_test: Vec<bool> = lines(content).iter().map(|line| line.of_test).collect();
    assert_eq!(of_test, [false, true, true, false, true, true, true, true, false]);
}
