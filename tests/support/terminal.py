"""A command on a terminal of a given width, as a person sees it."""

from __future__ import annotations

import fcntl
import os
import pty
import re
import select
import signal
import struct
import subprocess
import termios

from shop import Shop

ESCAPE = re.compile(r"\x1b\[[0-9;?]*[A-Za-z]")


def on_terminal(
    shop: Shop, *args: str, columns: int = 40, typed: str = "", **env: str
) -> tuple[int, str]:
    """Run a command on a terminal of this width; return its exit code and all that was shown.

    typed: what the user answers when asked; "^C" stands for an interruption.
    """
    leader, follower = pty.openpty()
    fcntl.ioctl(follower, termios.TIOCSWINSZ, struct.pack("HHHH", 24, columns, 0, 0))
    running = subprocess.Popen(
        shop.command(*args),
        env=shop.environment(TERM="xterm-256color", **env),
        stdin=follower,
        stdout=follower,
        stderr=follower,
        start_new_session=True,
    )
    os.close(follower)
    shown = b""
    while part := _read(leader):
        shown += part
        if typed and shown.rstrip().endswith(b":"):
            if typed == "^C":
                running.send_signal(signal.SIGINT)
            else:
                os.write(leader, typed.encode())
            typed = ""
    os.close(leader)
    return shell_code(running.wait(timeout=60)), shown.decode().replace("\r\n", "\n")


def _read(leader: int) -> bytes:
    """What is shown next; nothing when the other side is closed, which Linux reports as
    an error.
    """
    if not select.select([leader], [], [], 60)[0]:
        raise AssertionError("the command waits for ever")
    try:
        return os.read(leader, 65536)
    except OSError:
        return b""


def shell_code(code: int) -> int:
    """The exit code as a shell sees it: Python may end itself with the signal after all was said,
    which is 130 too.
    """
    return 128 - code if code < 0 else code
