"""Keys from a POSIX terminal: no echo, no line, no escape sequence taken for an answer."""

from __future__ import annotations

import sys

if sys.platform != "win32":
    import os
    import select
    import signal
    import termios
    import time
    import tty
    from contextlib import suppress
    from types import FrameType, TracebackType
    from typing import Any

    from .hung_up import HungUp

    _ESC = 0x1B
    _REST = 0.1  # s: how long the rest of an arrow key may be on its way
    _LATE = 1.0  # s: the rest of one that was split on a slow line is still no answer

    class PosixKeys:
        """The terminal behind a file descriptor, while it is held in a `with` block."""

        def __init__(self, fd: int) -> None:
            self.fd = fd
            self._before: list[Any] = []
            self._handlers: dict[int, Any] = {}
            self._woken = self._waker = self._old_waker = -1
            self._escaped = -_LATE

        def __enter__(self) -> PosixKeys:
            self._before = termios.tcgetattr(self.fd)
            self._woken, self._waker = os.pipe()
            os.set_blocking(self._waker, False)
            try:
                self._old_waker = signal.set_wakeup_fd(self._waker, warn_on_full_buffer=False)
                for number, handler in (
                    (signal.SIGTERM, self._end),
                    (signal.SIGHUP, self._end),
                    (signal.SIGTSTP, self._pause),
                    (signal.SIGWINCH, self._ignore),
                ):
                    self._handlers[number] = signal.signal(number, handler)
                tty.setcbreak(self.fd, termios.TCSANOW)
            except BaseException:
                self._restore()
                raise
            return self

        def __exit__(
            self,
            kind: type[BaseException] | None,
            error: BaseException | None,
            trace: TracebackType | None,
        ) -> None:
            self._restore()

        def read(self) -> str:
            """Wait for a key; see `keys.Terminal`."""
            ready, _, _ = select.select([self.fd, self._woken], [], [])
            if self.fd not in ready:
                os.read(self._woken, 64)
                return "resize"
            byte = self._byte(None)
            if byte is None:
                raise HungUp(signal.SIGHUP)
            if byte == _ESC:
                return self._escape()
            if chr(byte) in "[O" and time.monotonic() - self._escaped < _LATE:
                return self._swallow(byte)
            return self._character(byte)

        def drop(self) -> None:
            """Forget what was typed and not yet read."""
            with suppress(termios.error):  # a terminal that has gone away says so at the next read
                termios.tcflush(self.fd, termios.TCIFLUSH)

        def _byte(self, seconds: float | None) -> int | None:
            """Return the next byte; None when there is none in time, or none ever."""
            if seconds is not None and not select.select([self.fd], [], [], seconds)[0]:
                return None
            try:
                found = os.read(self.fd, 1)
            except OSError:
                return None
            return found[0] if found else None

        def _character(self, byte: int) -> str:
            if byte == 0x0C:  # Ctrl-L asks for a fresh screen
                return "resize"
            if byte < 0x80:
                return chr(byte)
            while select.select([self.fd], [], [], 0)[0] and self._byte(0) is not None:
                pass  # the rest of a letter beyond ASCII, which is no answer
            return "other"

        def _escape(self) -> str:
            byte = self._byte(_REST)
            if byte is None:
                self._escaped = time.monotonic()
                return "esc"
            if byte == _ESC:
                return self._escape()
            return self._swallow(byte) if chr(byte) in "[O" else "other"

        def _swallow(self, byte: int) -> str:
            """Read the rest of an arrow or function key: ECMA-48, 5.4, a control sequence ends at
            0x40 to 0x7E.
            """
            following = self._byte(_REST)
            if (
                chr(byte) == "[" and following is not None and chr(following) == "["
            ):  # a console's own F1 to F5
                following = self._byte(_REST)
            while chr(byte) == "[" and following is not None and not 0x40 <= following <= 0x7E:
                following = self._byte(_REST)
            return "other"

        def _restore(self) -> None:
            with suppress(termios.error):  # gone already
                termios.tcsetattr(self.fd, termios.TCSADRAIN, self._before)
            for number, handler in self._handlers.items():
                signal.signal(number, handler)
            self._handlers.clear()
            if self._waker >= 0:
                signal.set_wakeup_fd(self._old_waker)
                os.close(self._woken)
                os.close(self._waker)
                self._woken = self._waker = -1

        def _end(self, number: int, _frame: FrameType | None) -> None:
            raise HungUp(number)

        def _ignore(self, _number: int, _frame: FrameType | None) -> None:
            """The wakeup has told of it already."""

        def _pause(self, _number: int, _frame: FrameType | None) -> None:
            """Ctrl-Z: give the terminal back while paused, then take it again; a fresh frame
            follows.
            """
            termios.tcsetattr(self.fd, termios.TCSADRAIN, self._before)
            os.kill(os.getpid(), signal.SIGSTOP)
            tty.setcbreak(self.fd, termios.TCSANOW)
