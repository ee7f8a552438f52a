"""What does the app ask for?  Its shell (one page for every address), the service worker, and the packs."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, Flask, Response, current_app, jsonify, make_response, redirect, render_template, request

from shopfloor.settings import ROOT
from shopfloor.store import phones, shop
from shopfloor.web.doors import cookie_name, give_cookie, open_to_all, phones_only
from shopfloor.web.packs import PACKS, Packs
from shopfloor.web.shell import STYLES, Shelf

blueprint = Blueprint("phone", __name__)

SHELF = "facemark_shelf"


def attach(app: Flask) -> None:
    app.register_blueprint(blueprint)
    app.extensions[SHELF] = Shelf(ROOT / "static")
    app.extensions[PACKS] = Packs()


@blueprint.get("/phone/")
@blueprint.get("/p/<code>", endpoint="part")
@blueprint.get("/P/<code>", endpoint="scanned")
@open_to_all
def shell(code: str = "") -> Response:
    """The one page of the app; what it shows, it finds on the phone."""
    response = make_response(_page())
    response.headers["Cache-Control"] = "no-cache"
    return _unchanged(response)


@blueprint.get("/phone")
@open_to_all
def phone_without_slash() -> Any:
    return redirect("/phone/", 308)


@blueprint.get("/sw.js")
@open_to_all
def service_worker() -> Response:
    shelf: Shelf = current_app.extensions[SHELF]
    response = Response(shelf.worker(_page()), mimetype="text/javascript")
    # A service worker that a browser keeps can never be replaced by a better one.
    response.headers["Cache-Control"] = "no-cache"
    response.headers["Service-Worker-Allowed"] = "/"
    return _unchanged(response)


@blueprint.get(STYLES)
@open_to_all
def styles() -> Response:
    shelf: Shelf = current_app.extensions[SHELF]
    response = Response(shelf.styles(), mimetype="text/css")
    response.headers["Cache-Control"] = "no-cache"
    return _unchanged(response)


@blueprint.get("/manifest.webmanifest")
@open_to_all
def manifest() -> Response:
    sent = (ROOT / "static" / "manifest.webmanifest").read_bytes()
    response = Response(sent, mimetype="application/manifest+json")
    response.headers["Cache-Control"] = "no-cache"
    return _unchanged(response)


@blueprint.get("/packs")
@phones_only
def packs() -> Response:
    """Which packs there are, which contents each has now, and what the phones are called.

    Also gives the cookie another year to live.
    """
    keeper: Packs = current_app.extensions[PACKS]
    listed = [{"key": job.key, "name": job.name, "etag": etag} for job, etag in keeper.listed()]
    response = jsonify(
        generation=shop.read().generation,
        jobs=listed,
        phones={phone.id: phone.name for phone in phones.all()},
    )
    response.headers["Cache-Control"] = "no-store"
    give_cookie(response, request.cookies[cookie_name()])
    return response


@blueprint.get("/pack/<key>")
@phones_only
def pack(key: str) -> Response:
    """All that a phone needs of one job; 304 if it has these contents already."""
    keeper: Packs = current_app.extensions[PACKS]
    kept = keeper.get(key)
    response = Response(kept.json, mimetype="application/json")
    response.headers["Cache-Control"] = "private, no-cache"
    response.set_etag(kept.etag)
    response.make_conditional(request)
    return response


def _page() -> bytes:
    return render_template("phone.html").encode()


def _unchanged(response: Response) -> Response:
    """304 if the browser has it already."""
    response.add_etag()
    response.make_conditional(request)
    return response
