//! The terminal: taken once, given back whatever happens, and watched for going away.

use std::io::{self, Stdout, Write};
use std::sync::Once;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;

use crossterm::event::{
    self, DisableBracketedPaste, EnableBracketedPaste, Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers,
};
use crossterm::terminal::{EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode};
use crossterm::{cursor, execute};
use ratatui::backend::CrosstermBackend;
use ratatui::{Frame, Terminal};

/// What reaches the screen from outside.
pub(super) enum Message {
    /// A key, a paste, another size.
    Event(Event),
    /// Ctrl-Z.
    Suspend,
    /// SIGTERM.
    Terminate,
    /// The terminal has gone away.
    HangUp,
}

/// Whether the terminal is ours; giving it back twice would move the cursor of what came before.
static TAKEN: AtomicBool = AtomicBool::new(false);

/// The terminal while it is ours.
pub(super) struct Screen {
    terminal: Terminal<CrosstermBackend<Stdout>>,
    messages: Receiver<Message>,
}

impl Screen {
    /// Takes the terminal. From now on it is given back on every way out, a panic too.
    pub(super) fn take() -> io::Result<Self> {
        chain_panic_hook();
        // The library drops bold and reverse together with the colours when NO_COLOR is set; the theme does it better.
        crossterm::style::force_color_output(true);
        let (sender, messages) = channel();
        claim()?;
        watch_for_signals(sender.clone())?;
        watch_for_hang_up(sender.clone());
        read_events(sender);
        let terminal = Terminal::new(CrosstermBackend::new(io::stdout()));
        match terminal {
            Ok(terminal) => Ok(Self { terminal, messages }),
            Err(error) => {
                give_back();
                Err(error)
            }
        }
    }

    /// Draws a frame.
    pub(super) fn draw(&mut self, render: impl FnOnce(&mut Frame<'_>)) -> io::Result<()> {
        self.terminal.draw(render).map(|_| ())
    }

    /// Waits for the next message; nothing wakes it in between.
    pub(super) fn next(&self) -> Message {
        self.messages.recv().unwrap_or(Message::HangUp)
    }

    /// Returns a message that is there already.
    pub(super) fn pending(&self) -> Option<Message> {
        self.messages.try_recv().ok()
    }

    /// Rings the bell. It is never the only sign.
    #[expect(clippy::unused_self, reason = "the bell belongs to the screen that was taken")]
    pub(super) fn bell(&self) -> io::Result<()> {
        let mut out = io::stdout();
        out.write_all(b"\x07")?;
        out.flush()
    }

    /// Gives the terminal back, stops as Ctrl-Z does, and takes it again afterwards.
    pub(super) fn suspend(&mut self) -> io::Result<()> {
        give_back();
        stop_here()?;
        claim()?;
        let size = self.terminal.size()?;
        // Clears and draws everything anew without asking the terminal for its cursor.
        self.terminal.resize(size.into())
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        give_back();
    }
}

/// Returns whether a failure means that the terminal has gone away.
pub(super) fn is_gone(error: &io::Error) -> bool {
    /// EIO: what writing to a terminal gives whose other end is closed.
    const INPUT_OUTPUT: i32 = 5;
    error.raw_os_error() == Some(INPUT_OUTPUT) || error.kind() == io::ErrorKind::BrokenPipe
}

fn claim() -> io::Result<()> {
    enable_raw_mode()?;
    TAKEN.store(true, Ordering::SeqCst);
    execute!(io::stdout(), EnterAlternateScreen, EnableBracketedPaste)
}

/// Gives the terminal back, once. As much as possible is tried; nobody can be told when it fails.
fn give_back() {
    if !TAKEN.swap(false, Ordering::SeqCst) {
        return;
    }
    let _ = execute!(io::stdout(), DisableBracketedPaste, LeaveAlternateScreen, cursor::Show);
    let _ = disable_raw_mode();
}

/// A panic gives the terminal back first, so that its message stands on the normal screen. No log is touched.
fn chain_panic_hook() {
    static HOOKED: Once = Once::new();
    HOOKED.call_once(|| {
        let before = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |info| {
            give_back();
            before(info);
        }));
    });
}

fn read_events(sender: Sender<Message>) {
    thread::spawn(move || {
        while let Ok(event) = event::read() {
            let message = match &event {
                Event::Key(key) if key.kind == KeyEventKind::Release => continue,
                Event::Key(key) if is_control(key, 'z') => Message::Suspend,
                _ => Message::Event(event),
            };
            if sender.send(message).is_err() {
                return;
            }
        }
        let _ = sender.send(Message::HangUp);
    });
}

fn is_control(key: &KeyEvent, letter: char) -> bool {
    key.code == KeyCode::Char(letter) && key.modifiers == KeyModifiers::CONTROL
}

#[cfg(unix)]
fn watch_for_signals(sender: Sender<Message>) -> io::Result<()> {
    let mut signals = signal_hook::iterator::Signals::new([signal_hook::consts::SIGTERM])?;
    thread::spawn(move || {
        for _ in signals.forever() {
            let _ = sender.send(Message::Terminate);
        }
    });
    Ok(())
}

#[cfg(not(unix))]
fn watch_for_signals(_: Sender<Message>) -> io::Result<()> {
    Ok(())
}

/// A closed window leaves the event reader spinning; this watcher sleeps until the terminal hangs up.
#[cfg(unix)]
fn watch_for_hang_up(sender: Sender<Message>) {
    thread::spawn(move || {
        use rustix::event::{PollFd, PollFlags, poll};
        let stdin = io::stdin();
        loop {
            let mut watched = [PollFd::new(&stdin, PollFlags::empty())];
            match poll(&mut watched, None) {
                Ok(_) => {}
                Err(rustix::io::Errno::INTR) => continue,
                Err(_) => return,
            }
            let gone = PollFlags::HUP | PollFlags::ERR | PollFlags::NVAL;
            if watched.iter().any(|one| one.revents().intersects(gone)) {
                let _ = sender.send(Message::HangUp);
                return;
            }
        }
    });
}

#[cfg(not(unix))]
fn watch_for_hang_up(_: Sender<Message>) {}

#[cfg(unix)]
fn stop_here() -> io::Result<()> {
    signal_hook::low_level::emulate_default_handler(signal_hook::consts::SIGTSTP)
}

#[cfg(not(unix))]
fn stop_here() -> io::Result<()> {
    Ok(())
}
