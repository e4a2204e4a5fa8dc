//! The border to the machine: the only file that knows the terminal, the environment and the standard streams.

use crate::failure::Failure;
use std::ffi::OsString;
use std::io::{ErrorKind, IsTerminal, Write};

/// Columns of a page that no terminal limits.
const PAGE_COLUMNS: usize = 100;
/// Columns below which a page is not squeezed further.
const FEWEST_COLUMNS: usize = 60;

/// Where results and talk go, and how wide the page is.
pub struct Border<'a> {
    results: Sink<'a>,
    talk: Sink<'a>,
    width: usize,
}

/// A stream to which text goes, coloured only where a terminal shows it and `NO_COLOR` does not object.
enum Sink<'a> {
    Out,
    Err,
    Kept(&'a mut Vec<u8>),
}

impl Sink<'_> {
    fn write(&mut self, text: &str) -> std::io::Result<()> {
        // Taking colours out costs more than computing most studies; data have none.
        let coloured = text.contains('\u{1b}');
        match self {
            Sink::Out if coloured => all(anstream::stdout(), text),
            Sink::Out => all(std::io::stdout(), text),
            Sink::Err => all(anstream::stderr(), text),
            Sink::Kept(bytes) => {
                bytes.extend_from_slice(anstream::adapter::strip_str(text).to_string().as_bytes());
                Ok(())
            }
        }
    }
}

fn all(mut stream: impl Write, text: &str) -> std::io::Result<()> {
    stream.write_all(text.as_bytes())?;
    stream.flush()
}

/// A seed from the machine's clock, short enough to be typed again.
pub(crate) fn seed_of_the_clock() -> u64 {
    let now = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).unwrap_or_default();
    // Spread by a multiplication (Knuth's constant), so that seeds a moment apart do not look alike.
    (now.as_nanos() as u64).wrapping_mul(6_364_136_223_846_793_005) >> 34
}

/// The words of the process's command line.
pub fn arguments() -> impl Iterator<Item = OsString> {
    std::env::args_os()
}

impl Border<'static> {
    /// The streams of this process.
    pub fn of_process() -> Self {
        survive_limits();
        Border { results: Sink::Out, talk: Sink::Err, width: terminal_columns() }
    }
}

impl<'a> Border<'a> {
    /// Results and talk as a pipe gets them, kept in two buffers.
    pub fn captured(results: &'a mut Vec<u8>, talk: &'a mut Vec<u8>) -> Self {
        Border { results: Sink::Kept(results), talk: Sink::Kept(talk), width: PAGE_COLUMNS }
    }

    /// The same with another page width.
    pub fn with_width(mut self, columns: usize) -> Self {
        self.width = columns.max(FEWEST_COLUMNS);
        self
    }

    /// Columns of the page.
    pub(crate) fn width(&self) -> usize {
        self.width
    }

    /// Prints a result.
    pub(crate) fn print(&mut self, text: &str) -> Result<(), Failure> {
        self.results.write(text).map_err(|error| match error.kind() {
            ErrorKind::BrokenPipe => Failure::ReaderGone,
            _ => Failure::output(&error),
        })
    }

    /// How a long piece of work comes on: one line that is written over, where a terminal shows it.
    pub(crate) fn progress(&self) -> impl Fn(usize, usize) + use<> {
        let shown = matches!(self.talk, Sink::Err) && std::io::stderr().is_terminal();
        move |done, of| {
            if shown {
                let mut talk = std::io::stderr();
                let line = progress_line(done, of);
                let _ = write!(talk, "\r{line}\u{1b}[K{}", if done >= of { "\r\u{1b}[K" } else { "" });
                let _ = talk.flush();
            }
        }
    }

    /// Says something that is no result; where nobody listens there is nobody to tell.
    pub(crate) fn say(&mut self, text: &str) {
        let _ = self.talk.write(text);
    }
}

/// A file that may not grow any further fails like any other write, and does not end the process half-way.
fn survive_limits() {
    #[cfg(unix)]
    {
        let heard = std::sync::Arc::new(std::sync::atomic::AtomicBool::new(false));
        let _ = signal_hook::flag::register(signal_hook::consts::SIGXFSZ, heard);
    }
}

/// Cells of the bar.
const BAR: usize = 30;

/// As `[=========>          ] 3.4 of 12.0 million readings`.
fn progress_line(done: usize, of: usize) -> String {
    let filled = (BAR * done / of.max(1)).min(BAR);
    let millions = |count: usize| format!("{:.1}", count as f64 / 1e6);
    format!("[{:<BAR$}] {} of {} million readings", "=".repeat(filled), millions(done), millions(of))
}

fn terminal_columns() -> usize {
    let out = std::io::stdout();
    let columns = out.is_terminal().then(|| terminal_size::terminal_size_of(&out)).flatten();
    columns.map_or(PAGE_COLUMNS, |(width, _)| usize::from(width.0).clamp(FEWEST_COLUMNS, PAGE_COLUMNS))
}
