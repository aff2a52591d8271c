"""A session at one prompt: ask, record, ask again, until the study closes or the person leaves."""

from typing import TYPE_CHECKING

from planner.cli.console import BUSY, DONE, MISTAKE, NOTHING_LEFT
from planner.cli.guided.answer import Answer, Complaint, Order, Wish
from planner.cli.guided.desk import Desk
from planner.cli.guided.doubts import Doubt, doubt
from planner.cli.guided.grammar import understood
from planner.cli.guided.pen import Pen
from planner.cli.guided.view import View
from planner.cli.guided.words import NO, YES
from planner.errors import InputError, LedgerError
from planner.report.text import guided, guided_help

if TYPE_CHECKING:
    from planner.study import Study


class _Left(Exception):
    """The person wants to leave."""


class Session:
    """One person, one study, one prompt."""

    def __init__(self, study: "Study", desk: Desk) -> None:
        """Nothing is said or written before `run`."""
        self._study = study
        self._desk = desk
        self._view = View(study, desk)
        self._pen = Pen(study, desk)
        self._doubted: tuple[str, Answer] | None = None
        """The prompt and the answer that was last asked about."""

    def run(self) -> int:
        """Hold the session; the exit code."""
        self._view.open()
        try:
            while self._goes_on():
                line: str | None = self._desk.ask(self._prompt())
                while line is not None:
                    line = self._take(line)
        except (EOFError, _Left):
            if self._view.pending is not None or not self._view.closed:
                self._desk.say(self.leaving())
        return self._code()

    def leaving(self) -> str:
        """What is pending, and that nothing is lost."""
        return self._view.leaving()

    def _code(self) -> int:
        if self._view.fault is not None:
            return BUSY if isinstance(self._view.fault, LedgerError) else MISTAKE
        return NOTHING_LEFT if self._view.closed else DONE

    def _goes_on(self) -> bool:
        """Look at the study anew; whether there is anything to ask for or to take back."""
        if self._pen.mended is None:
            self._view.look(self._pen.ours)
        return not self._view.closed or self._view.pending is not None or bool(self._pen.ours)

    def _prompt(self) -> str:
        if self._pen.mended is not None:
            return f"run {self._pen.mended} anew> "
        if self._view.pending is not None:
            return f"run {self._view.pending.number}> "
        return "closed> " if self._view.closed else "no run> "

    def _take(self, line: str) -> str | None:
        """Act on a line; gives a line that was typed in place of a reply, to be acted on next."""
        pending = self._view.pending
        workload = pending.workload if pending else ""
        meaning = understood(line, self._study.history.definition, workload)
        if isinstance(meaning, Answer):
            return self._answer(meaning)
        if isinstance(meaning, Complaint):
            self._pen.complain(meaning.text)
        else:
            self._obey(meaning)
        return None

    def _answer(self, answer: Answer) -> str | None:
        mending, own = self._pen.mended is not None, answer.settings is not None
        if not (own or mending) and self._view.pending is None:
            self._pen.complain("no run is pending; to tell one of your own: own pass")
            return None
        asked = (self._prompt(), answer)
        if asked != self._doubted and (odd := self._doubt(answer)):
            self._doubted = asked
            self._view.settle()
            self._desk.say(guided.doubt_text(odd.seconds, odd.score, odd.best, self._desk.width()))
            reply = self._desk.ask("sure? y or n> ").strip()
            if reply.casefold() in NO:
                self._desk.tell("Nothing was recorded.")
                return None
            if reply.casefold() not in YES:
                return reply
        self._doubted = None
        if self._pen.mend(answer) if mending else self._pen.record(answer, self._view.pending):
            self._view.forget()
        return None

    def _doubt(self, answer: Answer) -> Doubt:
        """What is odd about an answer to the run at the prompt."""
        mended, pending = self._pen.mended, self._view.pending
        history = self._study.history
        asked = mended is None and answer.settings is None
        told = history.by_number.get(mended or 0) or (pending if asked else None)
        workload = told.workload if told else history.definition.workload.name
        earlier = [r for r in history.runs if r.workload == workload and r.number != mended]
        return doubt(answer, earlier, self._view.seconds_shown() if asked else None)

    def _obey(self, order: Order) -> None:
        wish, width = order.wish, self._desk.width()
        if wish is Wish.QUIT:
            raise _Left
        if wish is Wish.UNDO:
            self._pen.step_back()
        elif wish is Wish.NOTE:
            self._pen.note(order.words)
        elif wish is Wish.HELP:
            self._desk.show(guided_help.help_text(self._study.history.definition, width))
        elif wish is Wish.SHOW:
            self._desk.show(self._view.standing(order.words == "all"))
        elif wish is Wish.PLOT:
            self._draw()
        elif self._pen.mended is not None:
            self._pen.keep()
            self._view.forget()
        else:
            self._go_on(wish)

    def _go_on(self, wish: Wish) -> None:
        """See the run again, or be told how to go on without an answer."""
        pending = self._view.pending
        if wish is Wish.AGAIN or self._view.fault is not None:
            self._view.show_again()
        elif wish is Wish.NOTHING and self._view.closed:
            raise _Left
        elif pending is None:
            self._pen.complain("no run is pending")
        elif wish is Wish.SKIP:
            self._desk.say(self._view.skipping(pending))
        else:
            self._desk.tell(f"How did run {pending.number} end? ? shows what may be typed.")

    def _draw(self) -> None:
        try:
            self._desk.say(self._desk.draw())
        except InputError as error:
            self._pen.complain(str(error))
