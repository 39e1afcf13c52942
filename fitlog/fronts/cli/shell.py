"""The shell's edge: errors become one sentence and an exit code, in words or as JSON; nothing is a
traceback.
"""

from __future__ import annotations

import io
import json
import os
import sys
import time
from collections.abc import Collection, Mapping, Sequence
from contextlib import suppress
from typing import Any, ClassVar, NoReturn

from typer.core import TyperCommand, TyperGroup
from typer.exceptions import Abort, Exit, TyperException

from ...errors import FitlogError, NotUnderstood, Refused
from ...texts import ENGLISH, LANGUAGE, LANGUAGES, tell
from .joined import joined

INTERRUPTED = 130
_WHOLE = 1000  # characters of a command's first sentence: all of them
_DAY = 86_400  # s; no clock of a place is a day off UTC


class _Beside(io.TextIOWrapper):
    """Standard error: what cannot be said there is not said, and changes no exit code."""

    def write(self, text: str, /) -> int:
        """Write a text, or let go of it."""
        try:
            return super().write(text)
        except OSError:
            self._let_go()
            return len(text)

    def flush(self) -> None:
        """Send on what was said, or let go of it."""
        try:
            super().flush()
        except OSError:
            self._let_go()

    def _let_go(self) -> None:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, self.fileno())
        os.close(nowhere)


class Shell(TyperGroup):
    """The command group whose `main` owns every way out. groups: the commands' names by the
    heading that the help shows them under.
    """

    groups: ClassVar[Mapping[str, Collection[str]]] = {}

    def format_commands(self, ctx: Any, formatter: Any) -> None:
        """Write the commands in groups, each with its whole first sentence."""
        for title, names in self.groups.items():
            told = [(name, self.commands[name]) for name in names if name in self.commands]
            rows = [(name, command.get_short_help_str(_WHOLE)) for name, command in told]
            if rows:
                with formatter.section(tell(title)):
                    formatter.write_dl(rows)

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
        _mind_the_clock()
        given = list(sys.argv[1:] if args is None else args)
        if not standalone_mode:
            return super().main(
                joined(given), prog_name, complete_var, standalone_mode=False, **extra
            )
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
            _speak(self)
            code = super().main(
                joined(args), prog_name or "fitlog", complete_var, standalone_mode=False, **extra
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
            complain(error, as_json=_wants_json(args))
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


def _speak(group: TyperGroup) -> None:
    """Tell the help of every command and option in the language at hand, and take in what the
    families say; raise `NotUnderstood` ("unknown-language") for one that there is not.
    """
    if LANGUAGE == ENGLISH:
        return
    if LANGUAGE not in LANGUAGES:
        raise NotUnderstood(
            "unknown-language",
            "the language {language!r} of FITLOG_LANGUAGE is not known",
            "leave it out, or choose from {known}",
            language=LANGUAGE,
            known=", ".join(LANGUAGES),
        )
    from ...families.telling import speak

    speak()
    _tell_help(group)


def _tell_help(command: Any) -> None:
    for each in (command, *command.params):
        if getattr(each, "help", None):
            each.help = tell(each.help)
    for part in getattr(command, "commands", {}).values():
        _tell_help(part)


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
    their numbers; and one whose standard error may fail, another that does not.
    """
    if None in (sys.stdin, sys.stdout, sys.stderr):
        while (spare := os.open(os.devnull, os.O_RDWR)) < 3:
            pass
        os.close(spare)
        sys.stdin = sys.stdin or open(os.devnull, encoding="utf-8")  # noqa: PTH123, SIM115
        sys.stdout = sys.stdout or open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123, SIM115
        sys.stderr = sys.stderr or open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123, SIM115
    elif (said := sys.__stderr__) is sys.stderr and said is not None:
        sys.stderr = _Beside(
            open(said.fileno(), "wb", closefd=False),  # noqa: SIM115
            encoding=said.encoding,
            errors=said.errors,
            line_buffering=True,
        )


def _mind_the_clock() -> None:
    """Show times in UTC where TZ names a place that cannot be."""
    if max(abs(time.timezone), abs(time.altzone)) >= _DAY:
        os.environ["TZ"] = "UTC"
        time.tzset()


def _unwritable(error: OSError) -> int:
    with suppress(OSError):
        let_go_of_output()
    refusal = Refused(
        "unwritable-output",
        "the answer could not be written out ({strerror}); what was logged stays logged",
        "see it with fitlog next",
        strerror=error.strerror,
    )
    complain(refusal, as_json=False)
    return refusal.exit_code


def _usage(error: TyperException, args: list[str]) -> int:
    if type(error).__name__ == "NoArgsIsHelpError":
        print(error.format_message())
        return 0
    context = getattr(error, "ctx", None)
    path = context.command_path if context is not None else "fitlog"
    message = error.format_message().rstrip(".").replace("\n", " ")
    refusal = NotUnderstood(
        "usage",
        "{message}",
        "see {path} --help",
        message=message[:1].lower() + message[1:],
        path=path,
    )
    complain(refusal, as_json=_wants_json(args))
    return refusal.exit_code


def _wants_json(args: Sequence[str]) -> bool:
    return "--json" in args[: args.index("--") if "--" in args else None]


def complain(error: FitlogError, *, as_json: bool) -> None:
    """Print a refusal: one sentence on standard error, or one JSON document on standard output."""
    from ...render.screen import Screen, plain

    if as_json:
        print(json.dumps(told(error)))
    else:
        said = f"{error.message}: {error.hint}" if error.hint else error.message
        screen, said = Screen(sys.stderr), "fitlog: " + plain(said)
        # A wide terminal breaks it where it likes, so that a command in it can be copied.
        for row in screen.wrapped(said, "  ") if screen.narrow else [said]:
            print(row, file=sys.stderr)


def told(error: FitlogError) -> dict[str, dict[str, object]]:
    """Return a refusal as what a JSON document says of it; choices: what may be typed instead, only
    where something may.
    """
    said = {"code": error.code, "message": error.message, "hint": error.hint}
    choices = [choice.say for choice in error.choices]
    return {"error": {**said, **({"choices": choices} if choices else {})}}


def put_refused(document: Mapping[str, object], error: FitlogError) -> NoReturn:
    """Print the one document of a command that found out something and is refused all the same:
    what it found, and the `error`; end the command with its exit code.
    """
    from .session import put_json

    put_json({**document, **told(error)})
    raise Exit(error.exit_code)


def _leave(code: int) -> NoReturn:
    """Exit; a reader that closed the pipe is no error, and must not make one while Python shuts
    down.
    """
    try:
        sys.stdout.flush()
    except OSError as error:
        if isinstance(error, BrokenPipeError) or code:
            let_go_of_output()
        else:
            code = _unwritable(error)
    sys.exit(code)


def let_go_of_output() -> None:
    """Send what standard output still holds nowhere, so that it cannot fail again while Python
    shuts down.
    """
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
