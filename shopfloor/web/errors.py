"""How is an error told?  A phone's door answers with one JSON shape, a page with a page; both say one sentence."""

from __future__ import annotations

import json
import logging
from typing import Any

from flask import Flask, Response, render_template, request
from jinja2 import TemplateNotFound
from markupsafe import escape
from werkzeug.exceptions import HTTPException, InternalServerError

from shopfloor.errors import ShopError
from shopfloor.store.faults import CannotJustNow

log = logging.getLogger("facemark")

STATUS = {
    "no-such-job": 404,
    "no-such-phone": 404,
    "no-such-part": 404,
    "no-such-stack": 404,
    "no-such-board": 404,
    "no-such-plan": 404,
    "not-joined": 401,
    "withdrawn": 401,
    "bad-join-code": 403,
    "too-many-tries": 429,
    "wrong-host": 403,
    "wrong-origin": 403,
    "office-only": 403,
    "batch-too-large": 413,
    "store-busy": 503,
}
"""The HTTP status of a ShopError by its code; every other one is a 400."""

JSON_PATHS = ("/sync", "/packs", "/pack/", "/join", "/health")

WORDS = {
    400: ("this cannot be read", "Send it again, or go back and try once more."),
    404: ("there is no such page", "Go to the list of jobs."),
    405: ("this address does not work that way", ""),
    413: ("this is too much at once", "Send it in smaller pieces."),
    415: ("this is not JSON", "Send it with Content-Type: application/json."),
    500: ("something went wrong in here; it is written in the log", "Try again."),
}
"""What the plain HTTP errors say: what is wrong, and what to do."""


class StoreBusy(ShopError):
    """The database could not be written just now.  Nothing is lost: whoever sent something still has it."""

    code = "store-busy"


def attach(app: Flask) -> None:
    """Let every error of this app be told in one of the two ways."""
    app.register_error_handler(ShopError, _shop_error)
    app.register_error_handler(HTTPException, _http_error)
    app.register_error_handler(CannotJustNow, _store_error)
    app.register_error_handler(Exception, _our_mistake)


def wants_json() -> bool:
    return request.path.startswith(JSON_PATHS) or request.accept_mimetypes.best == "application/json"


def _shop_error(error: ShopError) -> Response:
    response = answer(error.as_json(), STATUS.get(error.code, 400))
    if response.status_code == 429:
        response.headers["Retry-After"] = "60"
    return response


def _http_error(error: HTTPException) -> Response:
    status = error.code or 500
    if status < 400:  # a redirect is an exception, too
        return Response(error.get_response(request.environ).response, status, error.get_headers(request.environ))
    what, do = WORDS.get(status, (error.name.lower(), ""))
    code = error.name.lower().replace(" ", "-")
    says = f"{what}. {do}".strip() if do else f"{what}."
    return answer({"code": code, "what": what, "where": "", "do": do, "says": says}, status)


def _store_error(error: CannotJustNow) -> Response:
    log.error("database: %s", error.orig)
    busy = StoreBusy("the database cannot be written just now", do="Try again in a moment; nothing is lost.")
    response = answer(busy.as_json(), 503)
    response.headers["Retry-After"] = "2"
    return response


def _our_mistake(error: Exception) -> Response:
    log.exception("%s %s", request.method, request.path)
    return _http_error(InternalServerError(original_exception=error))


def answer(error: dict[str, str], status: int) -> Response:
    """One error as the one who asked wants it: JSON for an app, a page for a person."""
    if wants_json():
        return Response(json.dumps({"error": error}), status, mimetype="application/json")
    return Response(_page(error, status), status, mimetype="text/html")


def _page(error: dict[str, Any], status: int) -> str:
    try:
        return render_template("error.html", error=error, status=status)
    except TemplateNotFound:
        return f"<!doctype html><html lang=en><title>Facemark</title><p>{escape(error['says'])}</p></html>"
