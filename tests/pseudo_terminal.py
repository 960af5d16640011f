"""A program in a pseudo terminal of its own: keys in as bytes, what it paints out, its exit code at the end."""

from __future__ import annotations

import os
import select
import struct
import subprocess
import sys
import time

_PATIENCE = 120.0


class PseudoTerminal:
    """A Python program, given as its text and arguments, in a terminal of so many rows and columns."""

    def __init__(self, code: str, *arguments: str, rows: int, columns: int) -> None:
        # These modules are not on every system; who has no pseudo terminals does not come here.
        import fcntl
        import pty
        import termios

        self._ours, theirs = pty.openpty()
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
        environment = {**os.environ, "TERM": "xterm-256color", "COLORTERM": "truecolor"}
        self.started = time.perf_counter()
        self._painted = b""
        self._process = subprocess.Popen(
            [sys.executable, "-c", code, *arguments],
            stdin=theirs, stdout=theirs, stderr=theirs, env=environment, start_new_session=True,
        )  # fmt: skip
        os.close(theirs)

    def shows(self, text: str) -> float:
        """Seconds from its start until a text is on the screen."""
        seen, wanted = b"", text.encode()
        while wanted not in seen:
            given_up = time.perf_counter() - self.started > _PATIENCE or self._process.poll() is not None
            painted = self.some(1.0)
            assert painted or not given_up, f"{text!r} never came: {self._painted[-2_000:]!r}"
            seen += painted
        return time.perf_counter() - self.started

    def types(self, keys: str) -> None:
        """Sends keys in one burst, as a keyboard does; nothing happens where the program has ended."""
        os.write(self._ours, keys.encode())

    def settle(self, seconds: float) -> None:
        """Waits until it has painted nothing for so long."""
        while self.some(seconds):
            pass

    def some(self, patience: float) -> bytes:
        """What it paints next, waiting for it so many seconds at most; nothing where it paints nothing or has ended."""
        ready, _, _ = select.select([self._ours], [], [], patience)
        try:
            painted = os.read(self._ours, 65536) if ready else b""
        except OSError:  # nobody holds the other side any more
            return b""
        self._painted += painted
        return painted

    def ended(self) -> tuple[int, str]:
        """Its exit code, once it ends, and all that it painted and said."""
        self.settle(_PATIENCE)
        return self._process.wait(_PATIENCE), self._painted.decode(errors="replace")

    def close(self) -> None:
        """Ends the program and its terminal."""
        self._process.kill()
        self._process.wait()
        os.close(self._ours)
