"""What happens to a part, and in which order?  The steps of its route, derived from its features.

Order of the cuts: mortises first, since the tenon is the easier one to fit to the other; cuts across the grain before
those along it, so that the later cut cleans the corner; grooves before tenons where they meet.
Source: milling and tear-out order of the trade (school texts of 1903-1911; a magazine on routing order).
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from .layout import marks
from .length import Length
from .part import Dado, Face, Feature, Groove, Hole, Line, Mortise, Rabbet, Tenon, Tongue

Said = tuple[str | Length, ...]
"""Text with lengths: words, and whole nanometres that are written in the reader's unit."""


class Step(NamedTuple):
    """One stop on the route: a stable key, its short name, what will be true afterwards, the numbers that matter."""

    key: str
    name: str
    done: str
    detail: Said = ()


CUTS: tuple[tuple[type[Feature], str, str, str], ...] = (
    (Mortise, "mortise", "Mortise cut", "Mortises cut"),
    (Dado, "dado", "Dado cut", "Dadoes cut"),
    (Rabbet, "rabbet", "Rabbet cut", "Rabbets cut"),
    (Groove, "groove", "Groove cut", "Grooves cut"),
    (Hole, "hole", "Hole bored", "Holes bored"),
    (Tenon, "tenon", "Tenon cut", "Tenons cut"),
    (Tongue, "tongue", "Tongue cut", "Tongues cut"),
)


def route(line: Line, *, joined: bool) -> tuple[Step, ...]:
    """The steps of a line's parts, in order; `joined` says whether a part of it has a mate to be fitted to."""
    steps = [
        Step("rough", "rough cut", "Rough cut", ("finished ", line.thickness, " × ", line.width, " × ", line.length)),
        Step("mill", "mill", "Milled", (line.thickness, " thick, ", line.width, " wide")),
        Step("length", "length", "Cut to length", (line.length, " long")),
    ]
    count = len({mark.at for mark in marks(line)})
    if line.features:
        words = f"{count} mark{'s' if count != 1 else ''} from the {line.datum or 'datum'}" if count else "no marks"
        steps.append(Step("mark", "mark out", "Marked out", (words,) if count else ()))
    for kind, name, one, many in CUTS:
        cuts = [feature for feature in line.features if isinstance(feature, kind)]
        if cuts:
            steps.append(Step(name, name, one if len(cuts) == 1 else many, _sizes(cuts)))
    if joined:
        steps.append(Step("fit", "fit", "Fitted"))
    glue, finish = Step("glue", "glue", "Glued up"), Step("finish", "finish", "Finished")
    # A panel held along both edges moves in its frame for years, and bare wood would show beside it: it is finished
    # before it is closed in.  Tongues at the ends alone (drawer sides and bottoms) are no reason.
    tongued = {feature.face for feature in line.features if isinstance(feature, Tongue)}
    steps.extend((finish, glue) if tongued >= {Face.FACE_EDGE, Face.FAR_EDGE} else (glue, finish))
    return tuple(steps)


def _sizes(cuts: Iterable[Feature]) -> Said:
    """The distinct sizes of some cuts of one kind, at most two of them; more are on the drawing."""
    distinct = list(dict.fromkeys(_size(cut) for cut in cuts))
    said: list[str | Length] = []
    for size in distinct[:2]:
        said.extend(("; ", *size) if said else size)
    if len(distinct) > 2:
        said.append("; more on the drawing")
    return tuple(said)


def _size(cut: Feature) -> Said:
    match cut:
        case Mortise():
            return (cut.width, " wide, ", cut.depth, " deep") if cut.depth else (cut.width, " wide, right through")
        case Hole():
            across = cut.diameter
            return (across, " across, ", cut.depth, " deep") if cut.depth else (across, " across, right through")
        case Tenon() | Tongue():
            return (cut.thickness, " thick, ", cut.length, " long")
        case Groove() | Dado() | Rabbet():
            return (cut.width, " wide, ", cut.depth, " deep")
