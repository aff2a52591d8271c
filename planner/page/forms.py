"""The three forms of the page: what they show, and where they go once they are taken."""

from collections.abc import Callable, Mapping
from http import HTTPStatus
from typing import Any

from flask import abort, redirect, render_template, request

from planner.domain.outcome import Outcome
from planner.errors import InputError, LedgerBusy, LedgerConflict
from planner.page.desk import Desk
from planner.page.slips import mending_of, own_of

_LARGE = (Outcome.PASS, Outcome.CRASH, Outcome.VOID)
"""The buttons that are tapped most."""
_OTHERS = tuple(outcome for outcome in Outcome if outcome not in _LARGE)
_SEEN = ("blank screen", "hang", "restarted by itself", "wrong colours", "error message")
"""Offered where it is asked what was seen; anything else may be typed."""
Fields = Mapping[str, str]


class Forms:
    """Pages with a form; refused, they say why and keep what was typed."""

    def __init__(self, desk: Desk) -> None:
        """Nothing is shown yet."""
        self._desk = desk

    def page(self, refused: str = "", typed: Fields | None = None) -> str:
        """The page beside the bench."""
        return _drawn("page.html", refused, view=self._desk.view(), typed=typed or {})

    def record(self) -> Any:
        """Take the answer to the run that was shown."""
        if request.method == "GET":  # the address of a refused form, opened anew
            return redirect("./", HTTPStatus.SEE_OTHER)
        return _taken(self._desk.record, "./", self.page)

    def own(self) -> Any:
        """The slip for a run that nobody asked for."""
        if request.method == "POST":
            return _taken(self._desk.record_own, "./", self._own)
        return self._own("", None)

    def mend(self, number: int) -> Any:
        """The slip for a run on record."""
        if request.method == "POST":
            return _taken(self._desk.mend, "../", lambda *told: self._mend(number, *told))
        return self._mend(number, "", None)

    def _own(self, refused: str, typed: Fields | None) -> str:
        _, history = self._desk.history()
        own = own_of(history)
        return _drawn("own.html", refused, own=own, typed=own.typed if typed is None else typed)

    def _mend(self, number: int, refused: str, typed: Fields | None) -> str:
        _, history = self._desk.history()
        mending = mending_of(history, number, self._desk.pending())
        if mending is None:
            abort(404, "No run of that number is on record.")
        told = mending.typed if typed is None else typed
        return _drawn("mend.html", refused, mending=mending, typed=told)


def _drawn(template: str, refused: str, **told: Any) -> str:
    offers = {"large": _LARGE, "others": _OTHERS, "seen": _SEEN}
    return render_template(template, refused=refused, **offers, **told)


def _taken(
    take: Callable[[Fields], None], to: str, show: Callable[[str, Fields], str]
) -> tuple[str, int] | Any:
    """Take the form and go back to the page; refused, show why with what was typed."""
    fields = request.form.to_dict()
    try:
        take(fields)
    except InputError as error:
        return show(str(error), fields), HTTPStatus.UNPROCESSABLE_ENTITY
    except (LedgerBusy, LedgerConflict) as error:
        return show(str(error), fields), HTTPStatus.SERVICE_UNAVAILABLE
    return redirect(to, HTTPStatus.SEE_OTHER)
