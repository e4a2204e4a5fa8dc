//! Whatever stops a run, every output file is absent, as it was, or whole and new.
//!
//! `FULLSHIFT_KILLS=500 cargo test --workspace --test whole -- killed` kills as many runs of each command.

use fullshift_tests::{bytes_below, copy, fixture, program};
use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

/// Runs of each command that are killed where nobody asks for more.
const KILLS: u32 = 16;

/// Output files by their names.
type Files = BTreeMap<PathBuf, Vec<u8>>;

/// What is asked of the program: of which study, in which words, and the file that is written where it is not a folder.
#[derive(Clone, Copy)]
struct Line {
    study: &'static str,
    words: &'static [&'static str],
    file: Option<&'static str>,
}

const ASSESS: Line = Line { study: "studies/by-hand", words: &["assess"], file: None };
const REPORT: Line = Line { study: "studies/by-hand", words: &["report"], file: Some("report.html") };
const DOCUMENT: Line = Line { study: "studies/by-hand", words: &["report"], file: Some("report.docx") };
const ARCHIVE: Line = Line { study: "archives/packed", words: &["assess", "--tables", "csv"], file: None };
const PACKED: Line = Line { study: "archives/packed", words: &["assess", "--tables", "parquet"], file: None };

impl Line {
    fn command(&self, study: &Path, out: &Path) -> Command {
        let mut command = program();
        command.args(self.words).arg(study).arg("--out");
        command.arg(self.file.map_or(out.to_owned(), |file| out.join(file)));
        command.stdout(Stdio::null()).stderr(Stdio::piped());
        command
    }
}

/// A command with the study it is run on before and after a change, and what it writes of each.
struct Job {
    line: Line,
    new: PathBuf,
    written: [Files; 2],
    _folder: tempfile::TempDir,
}

impl Job {
    fn new(line: Line) -> Job {
        let folder = tempfile::tempdir().unwrap();
        let [old, new] = ["old", "new"].map(|name| folder.path().join(name));
        [&old, &new].into_iter().for_each(|study| copy(&fixture(line.study), study));
        let settings = std::fs::read_to_string(new.join("study.yaml")).unwrap();
        std::fs::write(new.join("study.yaml"), settings.replace("value: 20 ppm", "value: 30 ppm")).unwrap();
        let written = [&old, &new].map(|study| {
            let out = tempfile::tempdir().unwrap();
            let output = line.command(study, out.path()).output().unwrap();
            assert!(output.status.success(), "{}", words_of(&output));
            files(out.path())
        });
        assert!(written[0].keys().eq(written[1].keys()), "the same files should be written");
        assert!(written[0].values().ne(written[1].values()), "the files should differ");
        Job { line, new, written, _folder: folder }
    }

    fn command(&self, out: &Path) -> Command {
        self.line.command(&self.new, out)
    }

    /// How long a run takes in all, and how long it writes.
    fn lasts(&self) -> [Duration; 2] {
        let out = tempfile::tempdir().unwrap();
        let begun = Instant::now();
        let mut child = self.command(out.path()).spawn().unwrap();
        let before = writing(&mut child, out.path()).then(|| begun.elapsed());
        assert!(child.wait().unwrap().success());
        let whole = begun.elapsed();
        // A file may come and go between two looks.
        [whole, before.map_or(whole / 50, |before| whole - before)]
    }

    /// Lays the files of the former run into a folder.
    fn lay_old(&self, out: &Path) {
        for (name, bytes) in &self.written[0] {
            std::fs::write(out.join(name), bytes).unwrap();
        }
    }

    /// Every file is whole, the old one or the new one, and none of the old ones is lost.
    fn assert_whole(&self, out: &Path, had_old: bool, moment: &str) {
        let left = files(out);
        let [old, new] = &self.written;
        for (name, bytes) in &left {
            let known = (had_old && old.get(name) == Some(bytes)) || new.get(name) == Some(bytes);
            assert!(known, "{moment}: {} has {} bytes that are neither", name.display(), bytes.len());
        }
        assert!(!had_old || left.len() == old.len(), "{moment}: a former file is lost: {:?}", left.keys());
    }
}

fn words_of(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// The output files in a folder, without what an interrupted run leaves under its temporary names.
fn files(folder: &Path) -> Files {
    let named = |(path, bytes): (PathBuf, Vec<u8>)| (path.strip_prefix(folder).unwrap().to_owned(), bytes);
    bytes_below(folder).into_iter().map(named).filter(|(name, _)| !is_temporary(name)).collect()
}

fn is_temporary(name: &Path) -> bool {
    name.to_string_lossy().starts_with(".fullshift-")
}

/// Fractions of one, ever the same ones (Marsaglia's xorshift).
struct Fractions(u64);

impl Fractions {
    fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// Waits for the first file under a temporary name; false where the run ends before.
fn writing(child: &mut Child, out: &Path) -> bool {
    loop {
        let begun = |entry: std::io::Result<std::fs::DirEntry>| {
            entry.is_ok_and(|e| is_temporary(e.file_name().as_ref()))
        };
        if out.read_dir().unwrap().any(begun) {
            return true;
        }
        if child.try_wait().unwrap().is_some() {
            return false;
        }
    }
}

/// Kills runs at moments all over them, every second one while files are being written.
fn kill(line: Line) {
    let job = Job::new(line);
    let kills = std::env::var("FULLSHIFT_KILLS").ok().and_then(|n| n.parse().ok()).unwrap_or(KILLS);
    let (mut fractions, mut killed, mut amid) = (Fractions(0x5EED_2027), 0, 0);
    let [mut whole_run, mut whole_writing] = job.lasts();
    // On a machine that is now busy and now not the runs may end before they are killed, or none be caught while it writes; then more are tried.
    for at in 0..4 * kills {
        if at >= kills && amid > 0 && killed * 3 >= kills {
            break;
        }
        let out = tempfile::tempdir().unwrap();
        let had_old = at % 4 < 2;
        if had_old {
            job.lay_old(out.path());
        }
        let mut child = job.command(out.path()).spawn().unwrap();
        let share = fractions.next();
        match at % 2 {
            0 => sleep(whole_run.mul_f64(share)),
            _ if writing(&mut child, out.path()) => sleep(whole_writing.mul_f64(share)),
            _ => {}
        }
        child.kill().unwrap();
        // Where the run was quicker, the next ones are killed earlier.
        match (child.wait().unwrap().code(), at % 2) {
            (None, _) => killed += 1,
            (Some(_), 0) => whole_run = whole_run.mul_f64(0.95),
            (Some(_), _) => whole_writing = whole_writing.mul_f64(0.9),
        }
        amid += u32::from(
            bytes_below(out.path()).iter().any(|(path, _)| is_temporary(path.file_name().unwrap().as_ref())),
        );
        job.assert_whole(out.path(), had_old, &format!("run {at}, {share:.3}"));
    }
    let _ = writeln!(
        std::io::stderr(),
        "{:?} {:?}: {killed} of {kills} runs or more were killed, {amid} of them while writing",
        line.words,
        line.file
    );
    assert!(
        killed * 3 >= kills && amid > 0,
        "{killed} of {kills} runs or more were killed, {amid} while writing"
    );
}

#[test]
fn a_killed_assess_leaves_whole_files() {
    kill(ASSESS);
}

#[test]
fn a_killed_report_leaves_a_whole_file() {
    kill(REPORT);
}

#[test]
fn a_killed_assess_of_an_archive_leaves_whole_files() {
    kill(ARCHIVE);
    kill(PACKED);
}

/// A small file system of its own; `None` where mounting is not permitted.
struct SmallDisk(tempfile::TempDir);

impl SmallDisk {
    fn new() -> Option<SmallDisk> {
        let folder = tempfile::tempdir().unwrap();
        let mut mount = Command::new("mount");
        mount.args(["-t", "tmpfs", "-o", "size=1024k", "tmpfs"]).arg(folder.path()).stderr(Stdio::null());
        let mounted = mount.status().is_ok_and(|status| status.success());
        if !mounted {
            let _ = writeln!(std::io::stderr(), "skipped: a small file system cannot be mounted here");
        }
        mounted.then(|| SmallDisk(folder))
    }

    /// Fills it but for some kilobytes.
    fn fill(&self, free: usize) {
        let ballast = self.0.path().join("ballast");
        let _ = std::fs::write(&ballast, vec![0; 2 << 20]);
        let full = ballast.metadata().unwrap().len();
        std::fs::File::options()
            .write(true)
            .open(ballast)
            .unwrap()
            .set_len(full - (free as u64) * 1024)
            .unwrap();
    }
}

impl Drop for SmallDisk {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(self.0.path()).status();
    }
}

/// Runs that cannot write all leave what was there, and nothing under a temporary name.
fn assert_untouched(job: &Job, output: &Output, out: &Path, had_old: bool, reason: &str) {
    assert_eq!(output.status.code(), Some(3), "{}", words_of(output));
    assert!(words_of(output).contains(reason), "{}", words_of(output));
    let left: Files = if out.exists() { bytes_below(out).into_iter().collect() } else { Files::new() };
    let left: Files =
        left.into_iter().map(|(path, bytes)| (path.strip_prefix(out).unwrap().to_owned(), bytes)).collect();
    let before = if had_old { job.written[0].clone() } else { Files::new() };
    assert!(left == before, "left are {:?}", left.keys());
}

const LINES: [Line; 5] = [ASSESS, REPORT, DOCUMENT, ARCHIVE, PACKED];

#[test]
fn a_full_disk_exits_with_3_and_leaves_what_was_there() {
    for line in LINES {
        let job = Job::new(line);
        for (free, had_old) in [(0, false), (4, true), (12, false), (12, true)] {
            let Some(disk) = SmallDisk::new() else { return };
            let out = disk.0.path().join("out");
            std::fs::create_dir(&out).unwrap();
            if had_old {
                job.lay_old(&out);
            }
            disk.fill(free);
            let output = job.command(&out).output().unwrap();
            assert_untouched(&job, &output, &out, had_old, "the disk is full");
        }
    }
}

/// No file of the program may grow beyond so many blocks of 512 bytes.
#[test]
fn files_that_may_not_grow_exit_with_3_and_leave_what_was_there() {
    for line in LINES {
        let job = Job::new(line);
        for (blocks, had_old) in [(0, false), (1, true), (8, true)] {
            let out = tempfile::tempdir().unwrap();
            if had_old {
                job.lay_old(out.path());
            }
            let limited = job.command(out.path());
            let line = format!("ulimit -f {blocks}; exec \"$@\"");
            let output = Command::new("sh")
                .args(["-c", &line, "sh"])
                .arg(limited.get_program())
                .args(limited.get_args())
                .output();
            assert_untouched(&job, &output.unwrap(), out.path(), had_old, "larger than the system allows");
        }
    }
}
