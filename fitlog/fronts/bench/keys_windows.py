"""Keys from a Windows console."""

from __future__ import annotations

import sys

if sys.platform == "win32":
    import msvcrt

    class WindowsKeys:
        """Reads keys without echo. Ctrl-C arrives as a key there and interrupts as it does
        elsewhere.
        """

        def read(self) -> str:
            """Wait for a key; see `keys.Terminal`."""
            key = msvcrt.getwch()
            if key in ("\x00", "\xe0"):  # an arrow or function key: its second half says which
                msvcrt.getwch()
                return "other"
            if key == "\x03":
                raise KeyboardInterrupt
            return "esc" if key == "\x1b" else "resize" if key == "\x0c" else key

        def drop(self) -> None:
            """Forget what was typed and not yet read."""
            while msvcrt.kbhit():
                msvcrt.getwch()
