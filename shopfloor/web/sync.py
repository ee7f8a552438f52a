"""How do phones hand over what they wrote, and fetch what others wrote?  The two halves of /sync.

What stands in `results` is on the disk, entry by entry.  There is no "all up to here".
"""

from __future__ import annotations

import json
from typing import Any

from flask import Blueprint, Response, g, request

from shopfloor.errors import ShopError
from shopfloor.store import journal, phones, shop
from shopfloor.store.moment import now_ms
from shopfloor.web import batch
from shopfloor.web.doors import phones_only

blueprint = Blueprint("sync", __name__)

LATEST = 2**53 - 1


class BadCursor(ShopError):
    """`after` or `limit` is no whole number."""

    code = "bad-cursor"


@blueprint.post("/sync")
@phones_only
def hand_over() -> Response:
    """Take entries into the journal.  Answers when they are committed, with a result for each, in order."""
    if (request.content_length or 0) > batch.MOST_BYTES:
        raise batch.too_large()
    request.max_content_length = batch.MOST_BYTES
    sent = batch.read(request.get_data(cache=False))
    now = now_ms()
    seen = _seen(sent.fields.get("generation"), sent.fields.get("seen"))
    kept = journal.keep(sent.entries, g.phone.id, now, _waiting(sent.fields.get("waiting")), seen)
    results = ",".join(_result(one) for one in kept)
    return _json(f'{{"generation":"{shop.read().generation}","server_now":{now},"results":[{results}]}}')


@blueprint.get("/sync")
@phones_only
def fetch() -> Response:
    """Rows after a rev.  A phone that knows another life of the database is told to start over.

    If it knows what this one does not hold, a life has ended without a word, for all phones.
    """
    after, limit = _whole("after", 0), _whole("limit", journal.MOST_ROWS)
    generation = shop.read().generation
    known = request.args.get("generation", generation)
    page = journal.page(after, limit)
    phones.seen(g.phone.id, _waiting(request.args.get("waiting", type=int)))
    seen = _seen(known, request.args.get("seen"))
    if known == generation and (after > page.latest or (seen is not None and not journal.holds(seen))):
        generation = shop.renew_generation(generation)
    if known != generation:
        return _json(f'{{"generation":"{generation}","server_now":{now_ms()},"start_over":true}}')
    more = "true" if page.more else "false"
    return _json(
        f'{{"generation":"{generation}","server_now":{now_ms()},'
        f'"entries":[{",".join(page.texts)}],"next":{page.next},"more":{more}}}'
    )


def _result(kept: journal.Kept) -> str:
    if kept.set_aside:
        return json.dumps({"id": kept.id, "rev": kept.rev, "set_aside": kept.set_aside})
    return f'{{"id":"{kept.id}","rev":{kept.rev}}}'


def _whole(name: str, usual: int) -> int:
    text = request.args.get(name)
    if text is None:
        return usual
    if not (text.isascii() and text.isdigit() and len(text) <= 16 and int(text) <= LATEST):
        raise BadCursor(
            f"{text[:20]!r} is no whole number", where=name, do="Send the number that the last answer gave."
        )
    return int(text)


def _seen(generation: Any, said: Any) -> journal.Seen | None:
    """What a phone says it knows, "REV:ID"; None if it says nothing that can be looked up."""
    if not isinstance(generation, str) or not isinstance(said, str):
        return None
    rev, colon, identity = said.partition(":")
    if not (colon and rev.isascii() and rev.isdigit() and len(rev) <= 16):
        return None
    return journal.Seen(generation, int(rev), identity)


def _waiting(said: Any) -> int | None:
    return said if type(said) is int and 0 <= said <= LATEST else None


def _json(text: str) -> Response:
    return Response(text, mimetype="application/json", headers={"Cache-Control": "no-store"})
