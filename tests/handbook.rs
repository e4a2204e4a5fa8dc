//! The handbook cannot rot: every console block of every page runs, and prints what the page shows.
//!
//! A page is worked through from top to bottom in an empty folder of its own. A block fenced as `console` holds
//! commands behind `$ ` and below each what it prints; a line `...` stands for any number of lines. A block fenced as
//! `csv FILE`, `yaml FILE` or `text FILE` is what the reader is to put into that file.
//!
//! After a change of what a command prints, `FULLSHIFT_RENEW=1 cargo test handbook` writes the new output into the
//! pages; read the difference before you keep it.

use fullshift_tests::{bytes_below, copy, fixture, program, root};
use std::path::{Path, PathBuf};

/// A fenced block: what stands behind the fence, and the lines within.
struct Block<'a> {
    info: &'a str,
    lines: Vec<&'a str>,
}

fn blocks(page: &str) -> Vec<Block<'_>> {
    let mut blocks = Vec::new();
    let mut open: Option<Block<'_>> = None;
    for line in page.lines() {
        match (line.strip_prefix("```"), open.take()) {
            (Some(info), None) => open = Some(Block { info: info.trim(), lines: Vec::new() }),
            (Some(_), Some(block)) => blocks.push(block),
            (None, Some(mut block)) => {
                block.lines.push(line);
                open = Some(block);
            }
            (None, None) => {}
        }
    }
    assert!(open.is_none(), "a fence is not closed");
    blocks
}

fn pages() -> Vec<PathBuf> {
    let pages = bytes_below(&root().join("notebooks-free-docs")).into_iter().map(|(path, _)| path);
    pages
        .chain([root().join("README.md")])
        .filter(|p| p.extension().is_some_and(|e| e == "md") && p.exists())
        .collect()
}

/// Commands with the lines that the page shows below each; none where the block has no prompts: it is only to be read.
fn commands<'a>(block: &Block<'a>) -> Vec<(&'a str, Vec<&'a str>)> {
    let mut commands: Vec<(&str, Vec<&str>)> = Vec::new();
    for line in &block.lines {
        match (line.strip_prefix("$ "), commands.last_mut()) {
            (Some(command), _) => commands.push((command, Vec::new())),
            (None, Some((_, shown))) => shown.push(*line),
            (None, None) => return Vec::new(),
        }
    }
    commands
}

/// What a command prints, results before talk; `None` where the page tells of another program.
fn printed(command: &str, folder: &Path) -> Option<String> {
    let words = split(command);
    match words.first()?.as_str() {
        "fullshift" => {
            let output = program().args(&words[1..]).current_dir(folder).output().unwrap();
            Some([output.stdout, output.stderr].map(|b| String::from_utf8(b).unwrap()).concat())
        }
        "ls" => {
            let mut names: Vec<_> = std::fs::read_dir(folder.join(words.get(1).map_or(".", String::as_str)))
                .unwrap()
                .map(|e| e.unwrap().file_name().into_string().unwrap())
                .collect();
            names.sort();
            Some(names.join("\n") + "\n")
        }
        _ => None,
    }
}

/// Words of a command line; quotes keep blanks together.
fn split(command: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut rest = command.trim();
    while !rest.is_empty() {
        let (word, after) = match rest.strip_prefix('"') {
            Some(quoted) => quoted.split_once('"').expect("a quote closes"),
            None => rest.split_once(' ').unwrap_or((rest, "")),
        };
        words.push(word.to_owned());
        rest = after.trim_start();
    }
    words
}

/// Whether lines are as shown, `...` standing for any number of them.
fn as_shown(found: &[&str], shown: &[&str]) -> bool {
    match shown.split_first() {
        None => found.is_empty(),
        Some((&"...", rest)) => (0..=found.len()).any(|skip| as_shown(&found[skip..], rest)),
        Some((first, rest)) => {
            found.first().is_some_and(|f| f.trim_end() == first.trim_end()) && as_shown(&found[1..], rest)
        }
    }
}

fn trimmed<'a>(lines: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    let mut lines: Vec<_> = lines.collect();
    while lines.last().is_some_and(|l| l.trim().is_empty()) {
        lines.pop();
    }
    lines
}

/// The lines of a page, and those that its commands did not print as shown.
struct Worked {
    text: String,
    wrong: Vec<String>,
}

fn work_through(page: &Path) -> Worked {
    let text = std::fs::read_to_string(page).unwrap();
    let folder = tempfile::tempdir().unwrap();
    for fixtures in ["studies", "archives"] {
        copy(&fixture(fixtures), &folder.path().join("fixtures").join(fixtures));
    }
    let mut worked = Worked { text: text.clone(), wrong: Vec::new() };
    for block in blocks(&text) {
        if let Some((_, file)) = block.info.split_once(' ') {
            let path = folder.path().join(file);
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(path, block.lines.join("\n") + "\n").unwrap();
        } else if block.info == "console" {
            commands(&block)
                .iter()
                .for_each(|(command, shown)| try_out(command, shown, folder.path(), &mut worked));
        }
    }
    worked
}

fn try_out(command: &str, shown: &[&str], folder: &Path, worked: &mut Worked) {
    let Some(found) = printed(command, folder) else { return };
    if as_shown(&trimmed(found.lines()), &trimmed(shown.iter().copied())) {
        return;
    }
    let block = |lines: &[&str]| [&[format!("$ {command}").as_str()], lines].concat().join("\n");
    let (before, after) = (block(shown), block(&trimmed(found.lines())));
    worked.wrong.push(format!("--- shown\n{before}\n--- found\n{after}"));
    // The same command may stand twice: the first that is not renewed yet is meant.
    worked.text = worked.text.replacen(&(before + "\n"), &(after + "\n"), 1);
}

#[test]
fn every_console_block_prints_what_its_page_shows() {
    let mut wrong = Vec::new();
    for page in pages() {
        let worked = work_through(&page);
        if std::env::var_os("FULLSHIFT_RENEW").is_some() {
            std::fs::write(&page, worked.text).unwrap();
        }
        wrong.extend(worked.wrong.iter().map(|w| format!("{}\n{w}", page.display())));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

/// The headings of a page as links name them: small letters, blanks as hyphens, no punctuation.
fn headings(page: &Path) -> Vec<String> {
    let text = std::fs::read_to_string(page).unwrap();
    let heading =
        |line: &str| line.strip_prefix('#').map(|rest| rest.trim_start_matches('#').trim().to_lowercase());
    let as_linked = |heading: String| {
        let kept = heading.chars().filter(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '_'));
        kept.map(|c| if c == ' ' { '-' } else { c }).collect()
    };
    text.lines().filter_map(heading).map(as_linked).collect()
}

#[test]
fn every_page_can_be_reached_from_the_index() {
    let handbook = root().join("notebooks-free-docs");
    let index = handbook.join("index.md");
    let mut reached = vec![index.clone()];
    let mut next = 0;
    while next < reached.len() {
        let text = std::fs::read_to_string(&reached[next]).unwrap();
        let folder = reached[next].parent().unwrap().to_owned();
        for link in text.split("](").skip(1).filter_map(|rest| rest.split(')').next()) {
            let Ok(to) = folder.join(link.split('#').next().unwrap_or("")).canonicalize() else { continue };
            let is_page = to.extension().is_some_and(|e| e == "md") && to.starts_with(&handbook);
            if is_page && !reached.contains(&to) {
                reached.push(to);
            }
        }
        next += 1;
    }
    let unreached: Vec<_> =
        pages().into_iter().filter(|page| page.starts_with(&handbook) && !reached.contains(page)).collect();
    assert!(unreached.is_empty(), "no link leads from the index to {unreached:?}");
}

#[test]
fn every_link_between_pages_leads_somewhere() {
    for page in pages() {
        let text = std::fs::read_to_string(&page).unwrap();
        for link in text.split("](").skip(1).filter_map(|rest| rest.split(')').next()) {
            let (target, heading) = link.split_once('#').unwrap_or((link, ""));
            if target.contains("://") {
                continue;
            }
            let to = if target.is_empty() { page.clone() } else { page.parent().unwrap().join(target) };
            assert!(to.exists(), "{}: {link} leads nowhere", page.display());
            let found = heading.is_empty() || headings(&to).contains(&heading.to_owned());
            assert!(found, "{}: {link} names no heading", page.display());
        }
    }
}

/// The pictures of the page about figures: file name, and how the title of the drawing begins.
const PICTURES: [(&str, &str); 5] = [
    ("shift-twas.svg", "TWA of each shift of hall-operators, ammonia"),
    ("probability-plot.svg", "Lognormal probability plot of hall-operators, ammonia, TWA"),
    ("dose.svg", "Share of the dose by task, hall-operators, ammonia"),
    ("settling.svg", "Chance that more shifts settle the verdict: hall-operators, ammonia"),
    ("timeline.svg", "Readings over the shifts of hall-operators, ammonia"),
];

#[test]
fn every_picture_of_the_handbook_is_what_the_demo_gives() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("r.md");
    let demo = fixture("studies/composting-hall");
    let ran =
        fullshift_tests::fullshift(&["report".as_ref(), demo.as_os_str(), "--out".as_ref(), out.as_os_str()]);
    assert_eq!(ran.code, 0, "{}", ran.talk);
    let mut drawings: Vec<String> = bytes_below(folder.path())
        .into_iter()
        .filter(|(path, _)| path.extension().is_some_and(|e| e == "svg"))
        .map(|(_, bytes)| String::from_utf8(bytes).unwrap())
        .collect();
    // The names of a drawing's parts hold its number in the report, which is no part of the picture.
    for drawing in &mut drawings {
        let own =
            drawing.split("id=\"").nth(1).and_then(|rest| rest.split("-title").next()).unwrap().to_owned();
        *drawing = drawing.replace(&own, "drawing");
    }
    drawings.sort();
    let mut wrong = Vec::new();
    for (name, title) in PICTURES {
        let titled =
            |drawing: &&String| drawing.split("-title\">").nth(1).is_some_and(|rest| rest.starts_with(title));
        let drawing = drawings.iter().find(titled).unwrap_or_else(|| panic!("the demo has no `{title}`"));
        let path = root().join("notebooks-free-docs/figures").join(name);
        if std::fs::read_to_string(&path).ok().as_ref() != Some(drawing) {
            wrong.push(name);
            if std::env::var_os("FULLSHIFT_RENEW").is_some() {
                std::fs::write(&path, drawing).unwrap();
            }
        }
    }
    assert!(wrong.is_empty(), "not what the demo gives: {wrong:?}");
}

#[test]
fn three_dots_stand_for_any_number_of_lines() {
    assert!(as_shown(&["a", "b", "c"], &["a", "...", "c"]));
    assert!(as_shown(&["a", "c"], &["a", "...", "c"]));
    assert!(!as_shown(&["a", "b"], &["a", "...", "c"]));
    assert_eq!(
        split("fullshift convert \"25 ppm\" --to mg/m3"),
        ["fullshift", "convert", "25 ppm", "--to", "mg/m3"]
    );
}
