"""What the dialogue does: deeds become entries of the log, and the log says where it stands."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from ...domain import Advice, Remark, Verdict
from ...errors import FitlogError, Refused
from ...language.doubts import Doubt
from ...render.bench import TAKES_BACK, Scene
from ...service.asked import Reported, named
from ...service.possible import check_settings
from ...service.reader.cuts import Dialled, changed
from ...service.slips import doubts_on
from ...texts import tell
from ..cli.session import Session
from . import Deed, View, about_last, last_word, stand
from .deeds import TELLING, TYPED, told_by


class Table:
    """One set-up at the machine. Nothing here outlives the process that is not in the log."""

    def __init__(self, session: Session, number: int | None) -> None:
        """number: of the set-up, None for the current one. Raises Refused: damaged-log where nobody
        knows what a bare number is to this person.
        """
        self.session, self.reader = session, session.reader
        self.setup, self.bench = session.at(number)
        self.advice: Advice | None = None
        self.held: dict[str, float] = {}
        self.steps: tuple[Remark, ...] = ()
        self.turn: tuple[Remark, ...] = ()
        self.top, self._stale, self._held = "", False, session.held()
        self._deeds: dict[str, Callable[[Deed], None]] = {
            **dict.fromkeys(TELLING, self._tell),
            "undo": self._undo,
            "finish": self._finish,
        }

    def look(self) -> View:
        """Read the log and return where the dialogue stands; the advice on the next piece is then
        the one last shown.
        """
        self._held.look()
        setup = self.bench.current(self.setup.number)
        at, told = stand(setup), about_last(setup)
        kind = setup.plan.family.by_aspect.get(at.at)
        spoils = kind is not None and kind.shown_last
        self.turn = self.bench.before_spoiling(setup) if spoils else ()
        if at != stand(self.setup):
            self.held = {}
        if at.at in ("settings", "over"):
            answer = self.bench.look_at(setup)
            self.advice, self.setup = answer.advice, answer.setup
            if answer.unkept is not None:
                self.top = tell(
                    "This advice could not be kept in the log ({why}).",
                    why=answer.unkept.message,
                )
        else:
            self.advice, self.setup = None, setup
        self.steps = (
            self.advice.steps
            if self.advice is not None
            else self.bench.steps(replace(setup, shown=told[0].settings) if told else setup)
        )
        ready = self.advice is not None and self.advice.status == "ready"
        return View(setup.plan.family, at, last_word(setup), ready)

    def opened(self) -> View:
        """Return the first view; raises Refused for a set-up that has ended."""
        view = self.look()
        self.bench.require_open(self.setup)
        cuts = self.setup.cuts
        self.top = (
            tell("Newest entry: {entry}{back}", entry=named(cuts[-1]), back=TAKES_BACK)
            if cuts
            else tell("Nothing is logged of it yet.")
        )
        if self.setup.by not in ("", self.session.by):
            self.top = tell("Started by {by}. {top}", by=self.setup.by, top=self.top)
        return view

    def do(self, view: View, deed: Deed) -> View:
        """Do a deed and return the view after it. What is refused leaves the view as it was, with
        the sentence below.
        """
        if deed.kind == "setting":
            return self._hold(view, deed)
        try:
            fresh = self._if_moved_on()
            if fresh is not None:
                return fresh
            self._held.require_file()
            self._deeds[deed.kind](deed)
            self._held.require_file()
        except Doubted as doubt:
            return replace(view, asked=deed, line=doubt.line)
        except FitlogError as error:
            return replace(view, line=tell("Not logged: {sentence}", sentence=_sentence(error)))
        try:
            return self.look()
        except FitlogError as error:  # it is logged; what follows from it is read with the next key
            self._stale = True
            return replace(
                view,
                mode="",
                line=tell(
                    "That is logged, but {sentence}. Any key looks again.",
                    sentence=_sentence(error),
                ),
            )

    def scene(self, view: View) -> Scene:
        """Return all that a frame shows."""
        dial = (
            self.setup.shown.changed(**self.held).on_scale(self.setup.plan.machine)
            if self.held
            else {}
        )
        return Scene(
            self.setup,
            view,
            self.bench.ruler,
            self.advice,
            {name: dial[name] for name in self.held},
            self.steps,
            self.turn,
            self.top,
        )

    def farewell(self) -> str:
        """Return where the dialogue was left."""
        at, number = stand(self.setup), self.setup.number
        if at.at == "over":
            return tell(
                "Set-up {number} is {outcome}.",
                number=number,
                outcome=self.setup.outcome or tell("undone"),
            )
        where = (
            tell("piece {piece} is to be cut", piece=at.piece)
            if at.at == "settings"
            else tell("the {at} of piece {piece} is to be judged", at=at.at, piece=at.piece)
        )
        return tell(
            "Set-up {number}: {where}; fitlog bench goes on there.", number=number, where=where
        )

    def _if_moved_on(self) -> View | None:
        """Return a fresh view when the log says other than the screen; the deed was meant for what
        it showed.
        """
        stale, before = self._stale, (self.setup.cuts, self.setup.outcome, self.setup.undone)
        if not stale and not self._held.moved_on:
            return None
        view = self.look()
        self._stale = False
        if stale:
            self.top = tell("Read again from the log.")
            return view
        if (self.setup.cuts, self.setup.outcome, self.setup.undone) == before:
            return None
        self.top = tell("Another window has written to this set-up.")
        return replace(view, line=tell("Not logged: look at how it stands now, then press again."))

    def _hold(self, view: View, deed: Deed) -> View:
        """Keep a setting as really set, until the piece is cut; it passes the checks that it will
        be logged by.
        """
        try:
            named, _ = changed(self.reader, self.setup, {deed.what: Dialled(deed.text)})
            self._doubt(Reported(Verdict(), changed=named), deed)
            check_settings(
                self.setup.plan,
                self.setup.shown.changed(**{**self.held, **named}),
                named,
                {},
            )
            self.held |= named
        except Doubted as doubt:
            return replace(view, asked=deed, line=doubt.line)
        except FitlogError as error:
            return replace(view, line=_sentence(error))
        return replace(view, mode="", field="", typed="", line="")

    def _doubt(self, told: Reported, deed: Deed) -> None:
        """Raise Doubted for what no shop would mean, unless it was confirmed by a key of
        its own.
        """
        for doubt in () if deed.meant else doubts_on(self.bench, self.setup, told):
            raise Doubted(doubt)

    def _record(self, told: Reported) -> None:
        self.top = tell(
            "logged: {entry}{back}",
            entry=named(self.bench.record(self.setup, told)),
            back=TAKES_BACK,
        )

    def _tell(self, deed: Deed) -> None:
        """Log what a deed tells of a piece, and let go of the settings that it was cut at."""
        if deed.kind == "number" and last_word(self.setup) is None:
            return
        told = told_by(deed, self.setup, self.reader, self.held, self.advice)
        if deed.kind in TYPED:
            self._doubt(told, deed)
        self._record(told)
        if deed.kind == "cut":
            self.held = {}

    def _undo(self, _deed: Deed) -> None:
        if not self.setup.cuts and self.setup.outcome is None:
            raise Refused(
                "nothing-to-undo",
                "no piece of set-up {number} is left to take back",
                "the start itself goes with fitlog undo, outside this dialogue",
                number=self.setup.number,
            )
        self.top = tell("Taken back: {what}.", what=self.bench.take_back(self.setup))

    def _finish(self, _deed: Deed) -> None:
        self.bench.finish(self.setup)
        self.top = tell("logged: finished{back}", back=TAKES_BACK)


class Doubted(Exception):
    """Something typed that no shop would mean; `line` asks about it."""

    def __init__(self, doubt: Doubt) -> None:
        super().__init__(doubt.question)
        self.line = tell(
            "{question} y takes it as typed, BACKSPACE mends it.", question=doubt.question
        )


def _sentence(error: FitlogError) -> str:
    return f"{error.message}: {error.hint}" if error.hint else error.message
