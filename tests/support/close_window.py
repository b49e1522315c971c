"""Runs a program in a terminal, closes the terminal while the program ignores SIGHUP, and prints how it ended."""
import fcntl, os, pty, select, signal, struct, sys, termios, time

child, master = pty.fork()
if child == 0:
    signal.signal(signal.SIGHUP, signal.SIG_IGN)
    fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    os.execv(sys.argv[1], sys.argv[1:])
seen = b""
while b"revision-current" not in seen:
    if not select.select([master], [], [], 10)[0]:
        os.kill(child, signal.SIGKILL)
        sys.exit("nothing came")
    seen += os.read(master, 4096)
os.close(master)
for _ in range(1000):
    ended, status = os.waitpid(child, os.WNOHANG)
    if ended:
        print("ended", os.waitstatus_to_exitcode(status))
        sys.exit(0)
    time.sleep(0.01)
os.kill(child, signal.SIGKILL)
print("it lives on")
