"""The page's routes: the page, the mark of the ledger, the form, two files."""

from functools import partial
from http import HTTPStatus
from pathlib import Path
from typing import Any

from flask import Flask, Response, redirect, render_template, request, send_from_directory
from markupsafe import Markup
from werkzeug.exceptions import HTTPException

from planner.domain.outcome import Outcome
from planner.errors import InputError, LedgerBusy, LedgerConflict, PlannerError
from planner.page.desk import Desk
from planner.page.door import Door, guard
from planner.report.text.layout import clean

_FILES = Path(__file__).parent / "files"
_LARGE = (Outcome.PASS, Outcome.CRASH, Outcome.VOID)
"""The buttons that are tapped most."""


def page_app(desk: Desk, door: Door) -> Flask:
    """The page as a WSGI application."""
    app = Flask(__name__, static_folder=None)
    app.jinja_env.finalize = _printable
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    guard(app, door)
    at = "/<key>" if door.key else ""
    app.add_url_rule(f"{at}/", "page", partial(_page, desk))
    app.add_url_rule(f"{at}/mark", "mark", partial(_mark, desk))
    app.add_url_rule(f"{at}/record", "record", partial(_record, desk), methods=["GET", "POST"])
    for file in ("page.css", "page.js"):
        app.add_url_rule(f"{at}/{file}", file, partial(send_from_directory, _FILES, file))
    app.register_error_handler(HTTPException, _refused)
    app.register_error_handler(PlannerError, _trouble)
    return app


def _page(
    desk: Desk, refused: str = "", typed: dict[str, str] | None = None, status: int = HTTPStatus.OK
) -> tuple[str, int]:
    view, fault = desk.view()
    others = [outcome for outcome in Outcome if outcome not in _LARGE]
    told: dict[str, Any] = {"refused": refused, "typed": typed or {}, "fault": fault}
    return render_template("page.html", view=view, large=_LARGE, others=others, **told), status


def _mark(desk: Desk) -> Response:
    return Response(desk.mark(), mimetype="text/plain")


def _record(desk: Desk) -> Any:
    """Take the form and go back to the page; refused, show why with what was typed."""
    if request.method == "GET":  # the address of a refused form, opened anew
        return redirect("./", HTTPStatus.SEE_OTHER)
    fields = request.form.to_dict()
    try:
        desk.record(fields)
    except InputError as error:
        return _page(desk, str(error), fields, HTTPStatus.UNPROCESSABLE_ENTITY)
    except (LedgerBusy, LedgerConflict) as error:
        return _page(desk, str(error), fields, HTTPStatus.SERVICE_UNAVAILABLE)
    return redirect("./", HTTPStatus.SEE_OTHER)


def _refused(error: HTTPException) -> Response:
    """Why in plain words, nothing of the request repeated."""
    return Response(f"{error.description}\n", error.code, mimetype="text/plain")


def _trouble(error: PlannerError) -> tuple[str, int]:
    return render_template("trouble.html", error=str(error)), HTTPStatus.INTERNAL_SERVER_ERROR


def _printable(value: Any) -> Any:
    return clean(value) if isinstance(value, str) and not isinstance(value, Markup) else value
