"""Which phones come in, and what of theirs could not be understood?  Adding a phone, withdrawing one, set aside."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from flask import Response, redirect, request, url_for
from markupsafe import Markup
from werkzeug.wrappers import Response as BaseResponse

from shopfloor.errors import ShopError
from shopfloor.paper.qr import QUIET, Symbol, outline, symbol
from shopfloor.settings import is_loopback
from shopfloor.store import journal, phones
from shopfloor.web import batch, doors
from shopfloor.web.office_pages import blueprint, live_page, names_of_phones, page, phones_say
from shopfloor.web.office_words import who

MOST_SHOWN = 200
"""Entries on the page of what was set aside; the older ones are counted."""
LONGEST_SHOWN = 600
"""Letters of each of them."""


@blueprint.get("/phones")
def all_phones() -> Response:
    """The phones that have joined, when each called last, and what it has still to send."""
    known = phones.all()
    return live_page("office/phones.html", tuple(known), lambda: _phones(known))


@blueprint.post("/phones/code")
def new_code() -> Response:
    """Show a one-time code.  It stands on this page only: what we keep is its hash."""
    code = phones.new_code()
    given = doors.settings()
    shown = _phones(phones.all())
    shown |= {
        "code": code.text,
        "qr": _svg(symbol(code.qr)),
        "expires": code.expires_ms,
        "address": f"{given.address}/phone/",
        "only_here": is_loopback(given.called),
    }
    return page("office/phones.html", **shown)


@blueprint.post("/phones/<id>/withdraw")
def withdraw(id: str) -> BaseResponse:
    """From now on this phone gets nothing more."""
    phones.withdraw(id)
    return redirect(url_for("office.all_phones"), 303)


@blueprint.post("/phones/outbox")
def saved_outbox() -> Response:
    """Take in the outbox of a phone that can reach us no more, from its file: the same as if it had sent it."""
    file = request.files.get("outbox")
    shown: dict[str, Any] = {}
    status = 200
    try:
        saved = batch.read_saved(file.read() if file else b"")
        before = journal.latest_rev()
        kept = [one for entries in _batches(saved.entries) for one in journal.keep(entries)]
        new = sum(one.rev > before and not one.set_aside for one in kept)
        shown["taken"] = {"new": new, "known": len(kept) - new - sum(bool(one.set_aside) for one in kept)}
        shown["taken"]["aside"] = sum(bool(one.set_aside) for one in kept)
    except ShopError as error:
        shown["trouble"], status = error, 400
    answer = page("office/phones.html", **_phones(phones.all()), **shown)
    answer.status_code = status
    return answer


def _batches(entries: list[journal.Offered]) -> Iterator[list[journal.Offered]]:
    """As many at a time as a phone would send, so that no phone waits long for the one writer."""
    for start in range(0, len(entries), batch.MOST_ENTRIES):
        yield entries[start : start + batch.MOST_ENTRIES]


@blueprint.get("/set-aside")
def set_aside() -> Response:
    """What was kept but not understood, the latest first."""

    def gather() -> dict[str, Any]:
        names, kept = names_of_phones(), journal.all_set_aside()
        shown = [
            {
                "at": one.received_ms,
                "who": who(one.phone, names) if one.phone else "",
                "reason": one.reason,
                "text": one.text[:LONGEST_SHOWN] + ("…" if len(one.text) > LONGEST_SHOWN else ""),
            }
            for one in kept[:MOST_SHOWN]
        ]
        return {"entries": shown, "more": max(0, len(kept) - MOST_SHOWN)}

    return live_page("office/set_aside.html", (journal.latest_rev(),), gather)


def _phones(known: list[phones.Phone]) -> dict[str, Any]:
    shown = [
        {
            "id": phone.id,
            "name": phone.name,
            "seen": phone.last_seen_ms,
            "withdrawn": phone.withdrawn_ms,
            "outbox": _outbox(phone.waiting),
        }
        for phone in known
    ]
    return {"phones": shown, "phones_say": phones_say()}


def _outbox(waiting: int | None) -> str:
    if waiting is None:
        return "has not said"
    return f"{waiting} to send" if waiting else "all sent"


def _svg(code: Symbol) -> Markup:
    """A QR symbol as inline SVG, one unit a module, dark on white in the dark shop, too: cameras expect it so."""
    whole = code.size + 2 * QUIET
    loops = ("M" + "L".join(f"{x + QUIET} {y + QUIET}" for x, y in loop) + "Z" for loop in outline(code.modules))
    return Markup(
        '<svg viewBox="0 0 {0} {0}" role="img" aria-label="The code as a QR symbol">'
        '<path fill="#fff" d="M0 0h{0}v{0}H0z"/><path fill="#000" fill-rule="evenodd" d="{1}"/></svg>'
    ).format(whole, "".join(loops))
