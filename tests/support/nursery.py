"""The process that `forked` has others forked from: everything imported, nothing done.

    nursery.py NUMBER-OF-A-SOCKET

It ends when the other side of that socket does. Each request is a fork: the child leaves the loop
and ends as any Python does, by running its module or code at the top of this file.
"""

from __future__ import annotations

import gc
import importlib
import io
import os
import pickle
import pkgutil
import runpy
import signal
import socket
import struct
import sys
import time
from contextlib import suppress
from pathlib import Path
from typing import Any


def _import_all() -> None:
    for name in ("numpy.random", "psycopg", "scipy.special"):
        with suppress(ImportError):
            importlib.import_module(name)
    import fitlog

    for found in pkgutil.walk_packages(fitlog.__path__, "fitlog."):
        if "__main__" not in found.name and ".versions." not in found.name:
            importlib.import_module(found.name)


def serve(line: socket.socket) -> dict[str, Any] | None:
    """Fork whatever is asked for; return in each child what it is to be, at the end nothing."""
    while True:
        head, ends, _, _ = socket.recv_fds(line, 4, 3)
        if not head:
            return None
        told = line.recv(struct.unpack("i", head)[0], socket.MSG_WAITALL)
        reading, writing = os.pipe()
        between = os.fork()
        if between == 0:
            child = os.fork()
            if child == 0:
                os.close(reading)
                os.close(writing)
                line.close()
                asked: dict[str, Any] = pickle.loads(told)
                return {**asked, "streams": dict(zip(asked["streams"], ends, strict=True))}
            os.write(writing, struct.pack("i", child))
            os._exit(0)
        for number in (writing, *ends):
            os.close(number)
        pid = os.read(reading, 4)
        os.close(reading)
        os.waitpid(between, 0)  # from now on its child is a child of whoever asked
        line.sendall(pid)


def become(asked: dict[str, Any]) -> None:
    """Be as a process is that was started so."""
    if asked["apart"]:
        os.setsid()
    streams = asked["streams"]
    for number in range(3):
        if number in streams:
            os.dup2(streams[number], number)
        else:
            os.close(number)
    for end in streams.values():
        os.close(end)
    if asked["terminal"]:
        import fcntl
        import termios

        fcntl.ioctl(0, termios.TIOCSCTTY, 0)
    for signum in (signal.SIGTERM, signal.SIGHUP):
        signal.signal(signum, signal.SIG_DFL)
    signal.signal(signal.SIGINT, signal.default_int_handler)
    os.umask(asked["mask"])
    os.chdir(asked["folder"])
    os.environ.clear()
    os.environ.update(asked["environment"])
    time.tzset()
    for number, name in enumerate(("stdin", "stdout", "stderr")):
        was = getattr(sys, name)
        stream = None
        if number in streams:
            raw = io.FileIO(number, "w" if number else "r", closefd=False)
            plain = isinstance(was.buffer, io.FileIO)  # as PYTHONUNBUFFERED asks for
            kind: Any = io.BufferedWriter if number else io.BufferedReader
            stream = io.TextIOWrapper(
                raw if plain else kind(raw),
                encoding=was.encoding,
                errors=was.errors,
                line_buffering=number == 2 or os.isatty(number),
                write_through=was.write_through,
            )
            stream.mode = was.mode
        setattr(sys, name, stream)
        setattr(sys, f"__{name}__", stream)


def main(number: int) -> dict[str, Any] | None:
    """Import everything and say so, then serve on the socket of this number."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _import_all()
    gc.collect()
    gc.freeze()
    with socket.socket(fileno=number) as line:
        line.sendall(b"!")
        return serve(line)


if __name__ == "__main__":
    _asked = main(int(sys.argv[1]))
    if _asked is not None:
        become(_asked)
        _how, _what, *_rest = _asked["arguments"]
        if _how == "-m":
            sys.argv = [_what, *_rest]
            sys.path[0] = str(Path.cwd())
            del _asked
            runpy.run_module(_what, run_name="__main__", alter_sys=True)
        else:
            sys.argv = ["-c", *_rest]
            sys.path[0] = ""
            exec(compile(_what, "<string>", "exec"), {"__name__": "__main__"})
