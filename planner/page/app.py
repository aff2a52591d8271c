"""The page's routes: the page, the slips, the news, the pictures, three files."""

from functools import partial
from http import HTTPStatus
from pathlib import Path
from typing import Any

from flask import Flask, Response, abort, render_template, send_from_directory
from markupsafe import Markup
from werkzeug.exceptions import HTTPException

from planner.errors import PlannerError
from planner.page.desk import Desk
from planner.page.door import Door, guard
from planner.page.forms import Forms
from planner.page.gallery import Gallery
from planner.page.news import News
from planner.page.ties import cell, tied
from planner.report.text.layout import clean

_FILES = Path(__file__).parent / "files"
_SVG_POLICY = "default-src 'none'; style-src 'unsafe-inline'; font-src data:"
"""A picture opened by itself has its styles in it, and no scripts."""


def page_app(desk: Desk, door: Door) -> Flask:
    """The page as a WSGI application."""
    app = Flask(__name__, static_folder=None)
    app.jinja_env.finalize = _printable
    app.jinja_env.filters |= {"tied": tied, "cell": cell}
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    guard(app, door)
    at = "/<key>" if door.key else ""
    gallery = Gallery(desk.history)
    forms = Forms(desk)
    rule = partial(_add, app, at)
    rule("/", forms.page)
    rule("/record", forms.record, post=True)
    rule("/own", forms.own, post=True)
    rule("/mend/<int:number>", forms.mend, post=True)
    rule("/news", partial(_news, News(desk)))
    rule("/pictures", partial(_pictures, gallery))
    rule("/picture/<name>.svg", partial(_picture, gallery))
    for file in ("page.css", "page.js", "icon.svg"):
        rule(f"/{file}", partial(send_from_directory, _FILES, file))
    app.register_error_handler(HTTPException, _refused)
    app.register_error_handler(PlannerError, _trouble)
    return app


def _add(app: Flask, at: str, path: str, view: Any, post: bool = False) -> None:
    app.add_url_rule(f"{at}{path}", path, view, methods=["GET", "POST"] if post else ["GET"])


def _news(news: News) -> Response:
    told = news.listen()
    if told is None:
        abort(503, "Too many pages listen already.")
    return Response(told, mimetype="text/event-stream")


def _pictures(gallery: Gallery) -> str:
    head, framed = gallery.listed()
    return render_template("pictures.html", of=head, framed=framed)


def _picture(gallery: Gallery, name: str) -> Response:
    drawn = gallery.svg(name)
    if drawn is None:
        abort(404, "There is no such picture here.")
    headers = {"Content-Security-Policy": _SVG_POLICY}
    return Response(drawn, mimetype="image/svg+xml", headers=headers)


def _refused(error: HTTPException) -> Response:
    """Why in plain words, nothing of the request repeated."""
    return Response(f"{error.description}\n", error.code, mimetype="text/plain")


def _trouble(error: PlannerError) -> tuple[str, int]:
    return render_template("trouble.html", error=str(error)), HTTPStatus.INTERNAL_SERVER_ERROR


def _printable(value: Any) -> Any:
    return clean(value) if isinstance(value, str) and not isinstance(value, Markup) else value
