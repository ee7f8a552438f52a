"""How does the office say it?  Lengths with set fractions, moments, and what an entry of the journal means in words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any

from markupsafe import Markup, escape

from shopfloor.journal.entry import HELD, LIFTED, MEASURED, NOTED, SPOILED, STEP_DONE, STEP_UNDONE
from shopfloor.trade.length import INCH, Length, parts_of_inches, spoken, write, write_exact, write_mm
from shopfloor.trade.part import Job, Unit
from shopfloor.trade.route import Said, Step

MINUS = "−"
FINEST = 64
"""The finest line of a tape."""


def length(nm: Length, job: Job) -> Markup:
    """A length in the job's unit, its fraction set small with the numerator raised, and read aloud as words."""
    if job.unit is Unit.MM:
        return Markup('<span class="length">{}</span>').format(write_mm(nm))
    return _inches(nm, job.denominator)


def _inches(nm: Length, of: int) -> Markup:
    whole, numerator, denominator, mark = parts_of_inches(abs(nm), of)
    fraction = Markup("")
    if numerator:
        fraction = Markup(
            '<span class="frac"><span class="num">{}</span><span class="slash">⁄</span>'
            '<span class="den">{}</span></span>'
        ).format(numerator, denominator)
    number = Markup("{}{}{}").format(MINUS if nm < 0 else "", whole if whole or not numerator else "", fraction)
    return Markup('<span class="length" role="img" aria-label="{}"><span aria-hidden="true">{}{}</span></span>').format(
        spoken(nm, Unit.INCH, of), number, f" {mark}" if mark else ""
    )


def exact_length(nm: Length, job: Job) -> Markup:
    """A length as it is, never nearly: fractions down to 1/64, else decimals; its unit if that is not the job's."""
    if job.unit is Unit.INCH and nm % (INCH // FINEST) == 0:
        return _inches(nm, FINEST)
    text = write_exact(abs(nm), job.unit).removesuffix(f" {job.unit}")
    return Markup('<span class="length">{}{}</span>').format(MINUS if nm < 0 else "", text)


def said(text: Said, job: Job) -> Markup:
    """Text with lengths: words as they are, whole numbers as lengths."""
    return Markup("").join(length(piece, job) if isinstance(piece, int) else escape(piece) for piece in text)


def exactly(text: Said, job: Job) -> Markup:
    """The same for a sum, which must add up as it is read."""
    return Markup("").join(exact_length(piece, job) if isinstance(piece, int) else escape(piece) for piece in text)


def size(thickness: Length | None, width: Length, long: Length, job: Job) -> Markup:
    """Thickness × width × length; a thickness that is still to be given is a line to write on."""
    sizes = (thickness, width, long)
    return Markup(" × ").join("__" if one is None else length(one, job) for one in sizes)


def moment(ms: int) -> Markup:
    """A moment in the office's own time, to the minute; "at an unknown time" where a clock wrote nonsense."""
    try:
        when = datetime.fromtimestamp(ms / 1000).astimezone()
    except (OverflowError, OSError, ValueError):
        return Markup("at an unknown time")
    return Markup('<time datetime="{}">{}</time>').format(when.isoformat(timespec="seconds"), _short(when))


def _short(when: datetime) -> str:
    now = datetime.now().astimezone()
    if when.date() == now.date():
        return f"{when:%H:%M}"
    return f"{when.day} {when:%b %H:%M}" if when.year == now.year else f"{when.day} {when:%b %Y %H:%M}"


def sentence(text: object) -> str:
    """A sentence of ours with a capital at its start.

    >>> sentence("row 3, Length: no length."), sentence("")
    ('Row 3, Length: no length.', '')
    """
    words = str(text)
    return words[:1].upper() + words[1:]


def who(device: str, names: Mapping[str, str]) -> str:
    """The name that a phone was given when it joined; the start of its own mark if it is not in our list.

    >>> who("d1", {"d1": "Bench phone"}), who("ffffeeeeddddcccc", {})
    ('Bench phone', 'a phone we do not know (ffffeeee)')
    """
    return names.get(device) or f"a phone we do not know ({device[:8]})"


def entry_says(entry: Mapping[str, Any], route: Iterable[Step], job: Job) -> str:
    """What an entry of the journal says, in words; `route` gives those for the steps of its part, `job` the unit.

    Whatever the fold takes in has its words here; the rest needs a newer version.
    """
    done = {step.key: step.done for step in route}
    kind, body = entry["kind"], entry["body"]
    if entry["v"] == 1:
        step, text = body.get("step"), body.get("text")
        if kind == STEP_DONE and isinstance(step, str):
            return done.get(step, f"{step}: done")
        if kind == STEP_UNDONE and isinstance(step, str):
            return f"Undone: {done[step].lower() if step in done else step}"
        if kind == NOTED:
            return f"Note: {text}" if isinstance(text, str) and text else "A note without words"
        if kind in (HELD, SPOILED):
            return f"{'Held' if kind == HELD else 'Spoiled'}{reason(body)}"
        if kind == LIFTED and isinstance(body.get("lifts"), list):
            return "Free again"
        if kind == MEASURED:
            nm, what = body.get("nm"), body.get("what")
            named = f"Measured {what}" if isinstance(what, str) and what else "Measured"
            return f"{named}: {write(nm, job.unit, job.denominator)}" if type(nm) is int else f"{named}, without a size"
    return f"Something that needs a newer version of Facemark ({kind}, version {entry['v']})"


def reason(body: Mapping[str, Any]) -> str:
    """The reason that a remark gives, with its colon; nothing if it gives none.

    >>> reason({"reason": "a check at the far end"}), reason({})
    (': a check at the far end', '')
    """
    text = body.get("reason")
    return f": {text}" if isinstance(text, str) and text else ""
