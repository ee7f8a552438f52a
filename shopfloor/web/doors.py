"""Who may come in?  Three doors: open to all (no data behind it), phones that have joined, and the office.

A route is the office's unless it says otherwise, so that a new one is shut until someone opens it.  The office is
whoever sits at the computer that serves the shop.  Every request must name a host that we are called by (a page from
elsewhere that points its own name at us gets nothing), and what changes something must come from our own pages.
"""

from __future__ import annotations

import logging
from collections.abc import Callable
from enum import StrEnum
from typing import Any, TypeVar
from urllib.parse import urlsplit

from flask import Blueprint, Flask, Response, current_app, g, jsonify, request

from shopfloor.errors import ShopError
from shopfloor.settings import Settings, is_loopback
from shopfloor.store import phones, shop
from shopfloor.store.moment import now_ms
from shopfloor.web.slow import Slow

log = logging.getLogger("facemark.doors")
blueprint = Blueprint("doors", __name__)

View = TypeVar("View", bound=Callable[..., Any])

COOKIE = "facemark_phone"
COOKIE_LIVES = 400 * 24 * 3600
"""Seconds; browsers cut longer ones to 400 days."""
SAFE = frozenset({"GET", "HEAD", "OPTIONS"})
MOST_JOIN_BYTES = 4096


class Door(StrEnum):
    OPEN = "open"
    PHONES = "phones"
    OFFICE = "office"


class WrongHost(ShopError):
    code = "wrong-host"


class WrongOrigin(ShopError):
    code = "wrong-origin"


class OfficeOnly(ShopError):
    code = "office-only"


class NotJoined(ShopError):
    code = "not-joined"


class Withdrawn(ShopError):
    code = "withdrawn"


class TooManyTries(ShopError):
    code = "too-many-tries"


class BadRequest(ShopError):
    code = "bad-request"


def open_to_all(view: View) -> View:
    """Mark a view that anyone may call: there is nothing of the shop's behind it."""
    view.door = Door.OPEN  # type: ignore[attr-defined]
    return view


def phones_only(view: View) -> View:
    """Mark a view for phones that have joined; `g.phone` is the one that calls."""
    view.door = Door.PHONES  # type: ignore[attr-defined]
    return view


def door_of(app: Flask, endpoint: str | None) -> Door:
    """Which door a route is behind.  An address that leads nowhere is open: there is nothing but a 404."""
    if endpoint is None or endpoint == "static":
        return Door.OPEN
    door: Door = getattr(app.view_functions[endpoint], "door", Door.OFFICE)
    return door


def attach(app: Flask) -> None:
    app.before_request(_check)
    app.register_blueprint(blueprint)
    # Five wrong codes a minute from one address, and thirty from all: ten minutes are 300 guesses at 32^8.
    app.extensions["facemark_tries"] = Slow(each=5, together=30, per_ms=60_000)


def settings() -> Settings:
    given: Settings = current_app.config["FACEMARK"]
    return given


def cookie_name() -> str:
    return f"__Host-{COOKIE}" if settings().secure else COOKIE


def give_cookie(response: Response, token: str) -> None:
    response.set_cookie(
        cookie_name(),
        token,
        max_age=COOKIE_LIVES,
        path="/",
        secure=settings().secure,
        httponly=True,
        samesite="Strict",
    )


def is_office() -> bool:
    """True if the request comes from the computer that serves the shop."""
    remote = request.remote_addr or ""
    return is_loopback(remote) or remote == settings().host


def _check() -> None:
    _check_host()
    if request.method not in SAFE:
        _check_origin()
    door = door_of(current_app, request.endpoint)
    if door is Door.PHONES:
        g.phone = _phone()
    elif door is Door.OFFICE and not is_office():
        raise OfficeOnly("this page is for the office", do="Open it on the computer that serves the shop.")


def _check_host() -> None:
    given = settings()
    allowed = {"127.0.0.1", "localhost", "::1", given.host.lower(), *(name.lower() for name in given.names)}
    try:
        host = urlsplit(f"//{request.host}").hostname
    except ValueError:
        host = None
    if host not in allowed:
        log.warning("refused: host %r from %s", request.host[:80], request.remote_addr)
        raise WrongHost("this computer is not called that", do="Open the address that the office shows.")


def _check_origin() -> None:
    origin = request.headers.get("Origin")
    if origin is None:
        good = request.headers.get("Sec-Fetch-Site", "same-origin") in ("same-origin", "none")
    else:
        good = origin.lower() == f"{request.scheme}://{request.host}".lower()
    if not good:
        log.warning("refused: origin %r from %s", (origin or "")[:80], request.remote_addr)
        raise WrongOrigin("this came from a page of another address", do="Use the shop's own pages.")


def _phone() -> phones.Phone:
    token = request.cookies.get(cookie_name(), "")
    phone = phones.by_token(token) if token else None
    if phone is None:
        raise NotJoined("this phone has not joined the shop", do="Ask the office for a code and join.")
    if phone.withdrawn_ms is not None:
        log.warning("refused: phone %s is withdrawn", phone.id)
        raise Withdrawn("this phone was withdrawn by the office", do="Ask the office for a code and join again.")
    return phone


@blueprint.post("/join")
@open_to_all
def join() -> Response:
    """A phone comes with the office's one-time code and is given a cookie."""
    request.max_content_length = MOST_JOIN_BYTES
    asked = request.get_json()
    if (
        not isinstance(asked, dict)
        or not isinstance(asked.get("code"), str)
        or not isinstance(asked.get("name", ""), str)
    ):
        raise BadRequest("a phone joins with a code and a name", do='Send {"code": "...", "name": "..."}.')
    tries: Slow = current_app.extensions["facemark_tries"]
    who = request.remote_addr or ""
    if not tries.may(who, now_ms()):
        raise TooManyTries("that were too many wrong codes", do="Wait a minute, then try again.")
    try:
        joined = phones.join(asked["code"], asked.get("name", ""))
    except phones.BadJoinCode:
        tries.count(who, now_ms())
        log.warning("refused: join code from %s", who)
        raise
    log.info("joined: phone %s", joined.device)
    ours = shop.read()
    response = jsonify(
        device=joined.device,
        incarnation=joined.incarnation,
        shop=ours.name,
        shop_id=ours.id,
        generation=ours.generation,
        server_now=now_ms(),
    )
    give_cookie(response, joined.token)
    return response
