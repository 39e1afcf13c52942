"""The shell's edge: errors become one sentence and an exit code, in words or as JSON; nothing is a
traceback.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Sequence
from typing import Any, NoReturn

from typer.core import TyperCommand, TyperGroup
from typer.exceptions import Abort, TyperException

from ...errors import NOT_UNDERSTOOD, REFUSED, FitlogError
from ...texts import tell

INTERRUPTED = 130


class Shell(TyperGroup):
    """The command group whose `main` owns every way out."""

    def main(
        self,
        args: Sequence[str] | None = None,
        prog_name: str | None = None,
        complete_var: str | None = None,
        standalone_mode: bool = True,
        windows_expand_args: bool = True,
        **extra: Any,
    ) -> Any:
        """Run one command; exit with its documented code."""
        _stand_in_for_closed_streams()
        given = list(sys.argv[1:] if args is None else args)
        if not standalone_mode:
            return super().main(given, prog_name, complete_var, standalone_mode=False, **extra)
        for stream in (sys.stdout, sys.stderr):
            if hasattr(stream, "reconfigure") and "utf" not in (stream.encoding or "").lower():
                stream.reconfigure(errors="backslashreplace")
        return _leave(self._run(given, prog_name, complete_var, extra))

    def invoke(self, ctx: Any) -> Any:
        """Run the command; a reader that has gone away is no error."""
        try:
            return super().invoke(ctx)
        except BrokenPipeError:
            return 0

    def _run(
        self,
        args: list[str],
        prog_name: str | None,
        complete_var: str | None,
        extra: dict[str, Any],
    ) -> int:
        try:
            code = super().main(
                args, prog_name or "fitlog", complete_var, standalone_mode=False, **extra
            )
            if code == INTERRUPTED:
                print(
                    tell(
                        "\nfitlog: interrupted: whatever was answered is in the log, nothing is "
                        "half written"
                    ),
                    file=sys.stderr,
                )
            return code if isinstance(code, int) else 0
        except FitlogError as error:
            complain(error.code, error.message, error.hint, as_json="--json" in args)
            return error.exit_code
        except Abort:
            print(tell("\nfitlog: interrupted"), file=sys.stderr)
            return INTERRUPTED
        except TyperException as error:
            return _usage(error, args)
        except (
            SystemExit
        ):  # the framework's answer to a reader that went away while help was printed
            return 0
        except OSError as error:
            return _unwritable(error)


class MaybeNumber(TyperCommand):
    """A command with an option --again whose number may be left out: it then means the last one."""

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Read the arguments, with "last" put in where no number follows."""
        full: list[str] = []
        for word, following in zip(args, [*args[1:], ""], strict=False):
            full.append(word)
            if word == "--again" and not (following.isdecimal() or following == "last"):
                full.append("last")
        return super().parse_args(ctx, full)


def _stand_in_for_closed_streams() -> None:
    """Give a process started without standard streams harmless ones, before a log's file takes
    their numbers.
    """
    if sys.stdout is not None and sys.stderr is not None:
        return
    while (spare := os.open(os.devnull, os.O_RDWR)) < 3:
        pass
    os.close(spare)
    sys.stdout = sys.stdout or open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123, SIM115
    sys.stderr = sys.stderr or open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123, SIM115


def _unwritable(error: OSError) -> int:
    message = tell(
        "the answer could not be written out ({strerror}); what was logged stays logged",
        strerror=error.strerror,
    )
    complain("unwritable-output", message, tell("see it with fitlog next"), as_json=False)
    return REFUSED


def _usage(error: TyperException, args: list[str]) -> int:
    if type(error).__name__ == "NoArgsIsHelpError":
        print(error.format_message())
        return 0
    context = getattr(error, "ctx", None)
    path = context.command_path if context is not None else "fitlog"
    message = error.format_message().rstrip(".").replace("\n", " ")
    complain(
        "usage",
        message[:1].lower() + message[1:],
        tell("see {path} --help", path=path),
        as_json="--json" in args,
    )
    return NOT_UNDERSTOOD


def complain(code: str, message: str, hint: str, *, as_json: bool) -> None:
    """Print a refusal: one sentence on standard error, or one JSON document on standard output."""
    from ...render.screen import plain

    if as_json:
        print(json.dumps({"error": {"code": code, "message": message, "hint": hint}}))
    else:
        print("fitlog: " + plain(f"{message}: {hint}" if hint else message), file=sys.stderr)


def _leave(code: int) -> NoReturn:
    """Exit; a reader that closed the pipe is no error, and must not make one while Python shuts
    down.
    """
    try:
        sys.stdout.flush()
    except OSError as error:
        let_go_of_output()
        if not isinstance(error, BrokenPipeError) and code == 0:
            code = _unwritable(error)
    sys.exit(code)


def let_go_of_output() -> None:
    """Send what standard output still holds nowhere, so that it cannot fail again while Python
    shuts down.
    """
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
