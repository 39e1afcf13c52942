"""A command on a terminal of a given width, as a person sees it."""

from __future__ import annotations

import fcntl
import os
import pty
import re
import select
import signal
import struct
import sys
import termios
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from threading import Thread
from unittest.mock import patch

import forked
from shop import Shop, command_line

ESCAPE = re.compile(r"\x1b\[[0-9;?]*[A-Za-z]")
PATIENCE = 60.0  # s of silence after which a command hangs: far above what any takes


def on_terminal(shop: Shop, *args: str, columns: int = 40, **env: str) -> tuple[int, str]:
    """Run a command on a terminal of this width; return its exit code and all that was shown.

    It runs in this process, whose standard streams are the terminal meanwhile.
    """
    leader, follower = _pair(columns)
    shown: list[bytes] = []
    reader = Thread(target=_see, args=(leader, shown))
    reader.start()
    try:
        with patch.dict(os.environ, _world(shop, env), clear=True), _at(follower, env):
            command_line().main(list(args), "fitlog")
        raise AssertionError(f"{args} returned instead of exiting")
    except SystemExit as end:
        code = end.code
    finally:
        reader.join()
    assert isinstance(code, int), f"{args} exited with {code!r}"
    return code, _text(shown)


def asked(shop: Shop, *args: str, typed: str, columns: int = 100, **env: str) -> tuple[int, str]:
    """Run a command that asks something as a process at a terminal of its own; return as above.

    typed: what the user answers; "^C" stands for an interruption.
    """
    leader, follower = _pair(columns)
    running = forked.Popen(
        shop.command(*args),
        env=_world(shop, env),
        stdin=follower,
        stdout=follower,
        stderr=follower,
        start_new_session=True,
    )
    os.close(follower)
    shown: list[bytes] = []
    try:
        for part in _parts(leader):
            shown.append(part)
            if typed and b"".join(shown).rstrip().endswith(b":"):
                if typed == "^C":
                    _until_it_waits(running.pid)
                    running.send_signal(signal.SIGINT)
                else:
                    os.write(leader, typed.encode())
                typed = ""
        return shell_code(running.wait(PATIENCE)), _text(shown)
    finally:
        running.kill()
        running.wait()
        os.close(leader)


def _pair(columns: int) -> tuple[int, int]:
    """A new terminal of this width: the side that sees it, and the side of whoever works at it."""
    leader, follower = pty.openpty()
    fcntl.ioctl(follower, termios.TIOCSWINSZ, struct.pack("HHHH", 24, columns, 0, 0))
    return leader, follower


def _world(shop: Shop, env: dict[str, str]) -> dict[str, str]:
    return shop.environment(**{"TERM": "xterm-256color", **env})


@contextmanager
def _at(follower: int, env: dict[str, str]) -> Iterator[None]:
    """Make a terminal the standard streams of this process for a while; it is closed then."""
    coding = env.get("PYTHONIOENCODING", "utf-8")
    with ExitStack() as undo:
        for number, name in enumerate(("stdin", "stdout", "stderr")):
            kept = os.dup(number)
            undo.callback(os.close, kept)
            undo.callback(os.dup2, kept, number)
            os.dup2(follower, number)
            stream = open(  # noqa: SIM115
                number,
                "w" if number else "r",
                encoding=coding,
                errors="backslashreplace" if number == 2 else "strict",
                closefd=False,
            )
            undo.enter_context(patch.object(sys, name, stream))
            undo.enter_context(stream)
        os.close(follower)
        yield


def _see(leader: int, shown: list[bytes]) -> None:
    """Gather what is shown; hang up at its end, or on a command that waits for ever."""
    try:
        shown.extend(_parts(leader))
    finally:
        os.close(leader)


def _parts(leader: int) -> Iterator[bytes]:
    """What is shown, part by part, until the other side is closed, which Linux reports as an
    error.
    """
    while select.select([leader], [], [], PATIENCE)[0]:
        try:
            part = os.read(leader, 65536)
        except OSError:
            return
        if not part:
            return
        yield part
    raise AssertionError("the command waits for ever")


def _until_it_waits(pid: int) -> None:
    """Wait until a process that has just asked sleeps over its reading.

    The interpreter looks for signals before that reading: one that comes after its last look, and
    before the reading has begun, it notices only with the next key.
    """
    until = time.monotonic() + PATIENCE
    while Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0] != "S":
        assert time.monotonic() < until, "the command is busy for ever"
        time.sleep(0.01)


def _text(shown: list[bytes]) -> str:
    return b"".join(shown).decode().replace("\r\n", "\n")


def shell_code(code: int) -> int:
    """The exit code as a shell sees it: Python may end itself with the signal after all was said,
    which is 130 too.
    """
    return 128 - code if code < 0 else code
