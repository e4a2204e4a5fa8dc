//! The HTML report before an accessibility checker, on light and on dark paper.
//!
//! Runs where `FULLSHIFT_AXE` names the file `axe.min.js` of axe-core and a Chromium can be found (`FULLSHIFT_CHROMIUM`,
//! or `chromium` on the path); `.ci/run` installs both. Elsewhere it says that it was skipped.

use fullshift_tests::{fixture, fullshift};
use std::path::{Path, PathBuf};
use std::process::Command;

/// The checker's script and the browser, where this machine has both.
fn tools() -> Option<(String, PathBuf)> {
    let axe = std::env::var_os("FULLSHIFT_AXE")?;
    let browser = std::env::var_os("FULLSHIFT_CHROMIUM").unwrap_or_else(|| "chromium".into());
    Command::new(&browser).arg("--version").output().ok()?;
    let script = std::fs::read_to_string(&axe).expect("FULLSHIFT_AXE names axe.min.js");
    Some((script, browser.into()))
}

/// What the checker finds: a line a rule and element; `light` or `dark` as the page saw it stands first.
fn findings(report: &Path, scheme: &str, (axe, browser): &(String, PathBuf)) -> Vec<String> {
    let html = std::fs::read_to_string(report).unwrap();
    let run = "axe.run().then(found => {
        const dark = matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light';
        const lines = found.violations.flatMap(rule => rule.nodes.map(node => rule.id + ': ' + node.html));
        const list = document.createElement('pre');
        list.id = 'found-by-axe';
        list.textContent = ['BEGIN ' + dark, ...lines].map(line => line.replaceAll('\\n', ' ')).join('\\n') + '\\nEND';
        document.body.append(list);
    });";
    let page = report.with_file_name(format!("checked-{scheme}.html"));
    std::fs::write(
        &page,
        html.replace("</body>", &format!("<script>{axe}</script><script>{run}</script></body>")),
    )
    .unwrap();
    let dark = if scheme == "dark" { "0" } else { "1" };
    let output = Command::new(browser)
        .args(["--headless", "--no-sandbox", "--disable-gpu", "--virtual-time-budget=120000", "--dump-dom"])
        .arg(format!("--blink-settings=preferredColorScheme={dark}"))
        .arg(format!("--user-data-dir={}", report.with_file_name("browser").display()))
        .arg(&page)
        .output()
        .unwrap();
    let seen = String::from_utf8_lossy(&output.stdout).into_owned();
    let found = seen.rsplit("BEGIN ").next().unwrap();
    let found = found.split("\nEND").next().unwrap();
    assert!(
        seen.contains("\nEND</pre>"),
        "the checker did not finish: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    let mut lines = found.lines().map(str::to_owned);
    assert_eq!(lines.next().as_deref(), Some(scheme), "the page does not see the paper that was asked for");
    lines.collect()
}

#[test]
#[allow(clippy::print_stdout, reason = "a test that is skipped says so")]
fn the_html_report_has_no_violation_of_the_accessibility_rules() {
    let Some(tools) = tools() else {
        println!("skipped: no Chromium, or FULLSHIFT_AXE does not name axe.min.js");
        return;
    };
    for (name, language) in [("composting-hall", "en"), ("all-below-detection", "de")] {
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().join("r.html");
        let study = fixture("studies").join(name);
        let words: [&std::ffi::OsStr; 6] = [
            "report".as_ref(),
            study.as_os_str(),
            "--language".as_ref(),
            language.as_ref(),
            "--out".as_ref(),
            out.as_os_str(),
        ];
        assert_eq!(fullshift(&words).code, 0);
        for scheme in ["light", "dark"] {
            let found = findings(&out, scheme, &tools);
            assert!(found.is_empty(), "{name}, {scheme}:\n{}", found.join("\n"));
        }
    }
}

/// A page with a known fault, so that a checker that sees nothing is not taken for a page without faults.
#[test]
fn the_checker_finds_a_picture_without_words() {
    let Some(tools) = tools() else { return };
    let folder = tempfile::tempdir().unwrap();
    let page = folder.path().join("r.html");
    let html = "<!DOCTYPE html><html lang=\"en\"><head><title>t</title></head><body><main><h1>t</h1><img src=\"x\"></main></body></html>";
    std::fs::write(&page, html).unwrap();
    let found = findings(&page, "light", &tools);
    assert!(found.iter().any(|line| line.starts_with("image-alt: ")), "{found:?}");
}
