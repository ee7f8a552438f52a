"""What if a part came out short?  The office's answer for a length as it was typed: where the error lands."""

from __future__ import annotations

from typing import NamedTuple

from shopfloor.trade.document import length_reader
from shopfloor.trade.length import Length
from shopfloor.trade.part import Job
from shopfloor.trade.reading import Doubt, doubt
from shopfloor.trade.sheet import Sheet
from shopfloor.trade.short import Landed, landed

MOST = 60
"""So many letters of what was typed are looked at: no length is written with more."""


class Short(NamedTuple):
    """What was `typed`, and either what is `wrong` with it, or why it is `asked` about, or where the error `landed`."""

    typed: str
    wrong: str = ""
    asked: Doubt | None = None
    real: Length = 0
    landed: Landed | None = None


def short(job: Job, sheet: Sheet, typed: str, sure: bool) -> Short | None:
    """What a typed length means for a part; None if nothing was typed.  `sure` takes a length that would be asked
    about."""
    typed = typed.strip()[:MOST]
    if not typed:
        return None
    try:
        real = length_reader(job.unit)(typed)
    except ValueError as err:
        what, _, do = str(err).partition("\n")
        return Short(typed, wrong=f"{what}. {do}".strip())
    if real <= 0:
        return Short(typed, wrong="A part has a length above zero.")
    asked = None if sure else doubt(sheet.line.length, real, job.unit)
    return Short(typed, asked=asked, real=real, landed=None if asked else landed(job, sheet.part.key, real))
