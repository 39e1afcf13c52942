"""Processes of fitlog's own that are forked from one that has imported it: a start that takes a
fifth of a real one, for tests that are about what a command does and not about its start.

A forked process is a child of the one that asked for it: signals, exit code, streams, terminal and
group are its own. What a Python reads at its start (paths, locale, PYTHON*) must be as the nursery
had it; another environment gets a real start. Kept real: whatever is killed at a random moment.
"""

from __future__ import annotations

import atexit
import ctypes
import fcntl
import os
import pickle
import pty
import socket
import struct
import subprocess
import sys
import termios
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from threading import Lock
from typing import Any

import pexpect
from ptyprocess import PtyProcess

ROOT = Path(__file__).resolve().parents[2]
# What of the environment of the tests no process of their own has.
DROPPED = ("COLUMNS", "LINES", "NO_COLOR", "PYTHONIOENCODING", "PYTHONWARNINGS")
_ORPHANS_COME_HERE = 36  # PR_SET_CHILD_SUBREAPER of Linux' prctl
_READ_AT_THE_START = ("PYTHON", "LC_", "LANG", "FITLOG_LANGUAGE", "OPENBLAS", "FORCE_COLOR", "MPL")


class Nursery:
    """The process that others are forked from, and how it is asked; it ends with this one."""

    def __init__(self) -> None:
        environment = {k: v for k, v in os.environ.items() if k not in DROPPED}
        environment["PYTHONPATH"] = str(ROOT)
        self._as, self._user, self._turn = _kept(environment), os.geteuid(), Lock()
        self._line, its = socket.socketpair()
        with its:
            self._process = subprocess.Popen(
                [sys.executable, Path(__file__).with_name("nursery.py"), str(its.fileno())],
                env=environment,
                stdin=subprocess.DEVNULL,
                pass_fds=[its.fileno()],
            )
        atexit.register(self._end)
        assert self._line.recv(1), "nothing can be forked here"

    def _end(self) -> None:
        self._line.close()
        self._process.wait(60)

    def serves(self, command: Any, env: dict[str, str] | None) -> bool:
        """Whether a start of this command, in this environment, would be the same."""
        return (
            isinstance(command, list)
            and all(isinstance(part, str) for part in command)
            and command[0] == sys.executable
            and command[1] in ("-m", "-c")
            and _kept(dict(os.environ) if env is None else env) == self._as
            and os.geteuid() == self._user
        )

    def child(self, asked: dict[str, Any], streams: dict[int, int]) -> int:
        """Fork a process with these standard streams, by number; return its own number."""
        told = pickle.dumps({**asked, "streams": list(streams)})
        with self._turn:
            head = struct.pack("i", len(told))
            socket.send_fds(self._line, [head], list(streams.values()))
            self._line.sendall(told)
            return int(struct.unpack("i", self._line.recv(4, socket.MSG_WAITALL))[0])


def _kept(environment: dict[str, str]) -> dict[str, str]:
    return {k: v for k, v in environment.items() if k.startswith(_READ_AT_THE_START)}


@cache
def nursery() -> Nursery | None:
    """The one of this process; None where a system has no such thing as an adopted orphan."""
    if not sys.platform.startswith("linux"):
        return None
    if ctypes.CDLL(None).prctl(_ORPHANS_COME_HERE, 1, 0, 0, 0) != 0:
        return None
    return Nursery()


class Popen(subprocess.Popen[Any]):
    """A process as `subprocess` gives one, forked where that is the same.

    closed: numbers of standard streams that are closed from the start.
    """

    def __init__(self, command: list[Any], *, closed: Sequence[int] = (), **options: Any) -> None:
        self._closed = closed
        super().__init__(command, **options)

    def _execute_child(self, args: Any, *rest: Any) -> None:
        (_, preexec_fn, _, pass_fds, cwd, env, _, _, shell) = rest[:9]
        to_child, ours_in, ours_out, from_child, ours_err, errors = rest[9:15]
        apart = rest[20]
        near = nursery()
        odd = preexec_fn or pass_fds or shell
        if odd or near is None or not near.serves(args, env):
            assert not self._closed, "only a forked process can have them closed"
            super()._execute_child(args, *rest)  # type: ignore[misc]
            return
        ends = dict(enumerate((to_child, from_child, errors)))
        streams = {n: n if end == -1 else end for n, end in ends.items() if n not in self._closed}
        self.pid = near.child(_asked(args, cwd, env, apart), streams)
        self._child_created = True
        self._close_pipe_fds(to_child, ours_in, ours_out, from_child, ours_err, errors)  # type: ignore[attr-defined]


def _asked(
    command: list[str], cwd: Any, env: dict[str, str] | None, apart: bool, terminal: bool = False
) -> dict[str, Any]:
    mask = os.umask(0)
    os.umask(mask)
    return {
        "arguments": command[1:],
        "folder": str(cwd or Path.cwd()),
        "environment": dict(os.environ) if env is None else dict(env),
        "mask": mask,
        "apart": apart,
        "terminal": terminal,
    }


def run(command: list[Any], *, timeout: float = 60, **options: Any) -> Any:
    """As `subprocess.run`, forked where that is the same."""
    if options.pop("capture_output", False):
        options.update(stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    with Popen(command, **options) as running:
        try:
            out, err = running.communicate(timeout=timeout)
        except BaseException:
            running.kill()
            raise
    return subprocess.CompletedProcess(command, running.returncode, out, err)


def spawn(
    command: list[str], *, env: dict[str, str], dimensions: tuple[int, int], **options: Any
) -> pexpect.spawn:
    """As `pexpect.spawn`, forked where that is the same."""
    near = nursery()
    if near is None or not near.serves(command, env):
        return pexpect.spawn(command[0], command[1:], env=env, dimensions=dimensions, **options)
    leader, follower = pty.openpty()
    fcntl.ioctl(follower, termios.TIOCSWINSZ, struct.pack("HHHH", *dimensions, 0, 0))
    pid = near.child(_asked(command, None, env, True, True), dict.fromkeys(range(3), follower))
    os.close(follower)
    made = pexpect.spawn(None, **options)
    made.ptyproc = PtyProcess(pid, leader)
    made.pid, made.child_fd = pid, leader
    made.terminated = made.closed = False
    return made
