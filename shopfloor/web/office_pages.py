"""What do all pages of the office share?  The blueprint, the words that templates use, and pages that are sent once.

A page that can change while somebody looks at it is asked for again every two seconds (static/office/live.js); it is
answered with 304 until something it shows has changed, and the journal is not folded for that.
"""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Callable
from datetime import datetime
from typing import Any

from flask import Blueprint, Response, make_response, render_template, request

from shopfloor.errors import ShopError
from shopfloor.store import desk, phones
from shopfloor.trade.code import show
from shopfloor.trade.part import Job, Line
from shopfloor.web import office_words as words

blueprint = Blueprint("office", __name__)

STARTED = secrets.token_hex(8)
"""New with every start, so that no page of an older program is taken for this one's."""


class NoSuchStack(ShopError):
    """The job has no stack of that number."""

    code = "no-such-stack"


class NoSuchPart(ShopError):
    """The job has no part of that code, or no longer."""

    code = "no-such-part"


class NothingToSettle(ShopError):
    """Nobody has said anything about that step."""

    code = "nothing-to-settle"


blueprint.add_app_template_filter(words.moment, "moment")
blueprint.add_app_template_filter(words.length, "length_in")
blueprint.add_app_template_filter(words.said, "said")
blueprint.add_app_template_filter(words.exactly, "exactly")
blueprint.add_app_template_filter(words.sentence, "sentence")
blueprint.add_app_template_filter(show, "show_code")


@blueprint.app_template_filter("size_of")
def _size_of(line: Line, job: Job) -> Any:
    return words.size(line.thickness, line.width, line.length, job)


@blueprint.after_request
def _own_forms(answer: Response) -> Response:
    # Under "no-referrer" a browser sends the origin "null" with a form, and the doors take it for a stranger.
    answer.headers["Referrer-Policy"] = "same-origin"
    return answer


def page(template: str, **shown: Any) -> Response:
    """A page as it is now."""
    answer = make_response(render_template(template, **shown))
    answer.headers["Cache-Control"] = "no-store"
    return answer


def live_page(template: str, state: tuple[object, ...], gather: Callable[[], dict[str, Any]]) -> Response:
    """A page that follows the floor.  `state` is all that it depends on, cheaply; `gather` is called only when that
    has changed since the browser asked last."""
    today = datetime.now().astimezone().date()
    tag = hashlib.sha256(repr((STARTED, today, template, state)).encode()).hexdigest()[:32]
    if request.if_none_match.contains_weak(tag):
        answer = Response(status=304)
    else:
        answer = make_response(render_template(template, **gather()))
    answer.set_etag(tag, weak=True)
    answer.headers["Cache-Control"] = "private, no-cache"
    return answer


def names_of_phones() -> dict[str, str]:
    """What each device that writes entries is called."""
    return {phone.id: phone.name for phone in phones.all()} | {desk.OFFICE: "the office"}


def phones_say() -> str:
    """How many phones there are, and whether they have handed over everything, as far as they have told us."""
    joined = [phone for phone in phones.all() if phone.withdrawn_ms is None]
    if not joined:
        return "no phone yet"
    waiting = sum(phone.waiting or 0 for phone in joined)
    silent = sum(phone.waiting is None for phone in joined)
    told = [f"{len(joined)} phone{'s' if len(joined) != 1 else ''}"]
    if waiting:
        told.append(f"{waiting} to send")
    if silent:
        told.append(f"{silent} {'have' if silent > 1 else 'has'} not said")
    return ", ".join(told if len(told) > 1 else [*told, "all sent"])
