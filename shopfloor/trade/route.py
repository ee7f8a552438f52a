"""What happens to a part, and in which order?  The steps of its route, derived from its features.

Order of the cuts: mortises first, since the tenon is the easier one to fit to the other; cuts across the grain before
those along it, so that the later cut cleans the corner; grooves before tenons where they meet; joints before tapers
and chamfers, since those take away the surfaces that joints are measured from.
Source: milling and tear-out order of the trade (school texts of 1903-1911; a magazine on routing order).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from .layout import marks
from .length import Length
from .part import (
    EDGES,
    ENDS,
    Bridle,
    Chamfer,
    Dado,
    Feature,
    Groove,
    HalfLap,
    Hole,
    HoleRow,
    Line,
    LooseTenon,
    Mortise,
    OpenMortise,
    Pins,
    Rabbet,
    Roundover,
    Tails,
    Taper,
    Tenon,
    Tongue,
)

Said = tuple[str | Length, ...]
"""Text with lengths: words, and whole nanometres that are written in the reader's unit."""


class Step(NamedTuple):
    """One stop on the route: a stable key, its short name, what will be true afterwards, the numbers that matter."""

    key: str
    name: str
    done: str
    detail: Said = ()


class Cut(NamedTuple):
    """A step that cuts: the kinds of feature it makes, its key and name, and what is true when one or many are cut."""

    kinds: tuple[type[Feature], ...]
    key: str
    name: str
    one: str
    many: str


CUTS: tuple[Cut, ...] = (
    Cut((Mortise,), "mortise", "mortise", "Mortise cut", "Mortises cut"),
    Cut((LooseTenon,), "loose-tenon", "loose tenon", "Loose tenon's mortise cut", "Loose tenons' mortises cut"),
    Cut((Dado,), "dado", "dado", "Dado cut", "Dadoes cut"),
    Cut((HalfLap,), "half-lap", "half lap", "Half lap cut", "Half laps cut"),
    Cut((Bridle,), "bridle", "bridle", "Bridle cut", "Bridles cut"),
    Cut((Rabbet,), "rabbet", "rabbet", "Rabbet cut", "Rabbets cut"),
    Cut((Groove,), "groove", "groove", "Groove cut", "Grooves cut"),
    Cut((Hole, HoleRow), "hole", "hole", "Hole bored", "Holes bored"),
    Cut((OpenMortise,), "open-mortise", "open mortise", "Open mortise cut", "Open mortises cut"),
    Cut((Tenon,), "tenon", "tenon", "Tenon cut", "Tenons cut"),
    Cut((Tongue,), "tongue", "tongue", "Tongue cut", "Tongues cut"),
    Cut((Tails,), "tails", "tails", "Tails cut", "Tails cut"),
    Cut((Pins,), "pins", "pins", "Pins cut", "Pins cut"),
    Cut((Taper,), "taper", "taper", "Taper cut", "Tapers cut"),
    Cut((Chamfer,), "chamfer", "chamfer", "Chamfer cut", "Chamfers cut"),
    Cut((Roundover,), "roundover", "roundover", "Roundover cut", "Roundovers cut"),
)
"""In the order in which they are made."""


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
    for kinds, key, name, one, many in CUTS:
        cuts = [feature for feature in line.features if isinstance(feature, kinds)]
        if cuts:
            single = len(cuts) == 1 and not isinstance(cuts[0], HoleRow)
            steps.append(Step(key, name, one if single else many, (*_sizes(cuts), *_across_first(cuts))))
    if joined:
        steps.append(Step("fit", "fit", "Fitted"))
    glue, finish = Step("glue", "glue", "Glued up"), Step("finish", "finish", "Finished")
    # A panel held along both edges moves in its frame for years, and bare wood would show beside it: it is finished
    # before it is closed in.  Tongues at the ends alone (drawer sides and bottoms) are no reason.
    tongued = {feature.face for feature in line.features if isinstance(feature, Tongue)}
    steps.extend((finish, glue) if tongued >= {*EDGES} else (glue, finish))
    return tuple(steps)


def _across_first(cuts: Sequence[Feature]) -> Said:
    """Of tongues all round: the cut along the grain takes off the corner that the one across it broke."""
    faces = {cut.face for cut in cuts if isinstance(cut, Tongue)}
    return ("; ends first, then edges",) if faces & {*ENDS} and faces & {*EDGES} else ()


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
            return (cut.width, " wide, ", *_deep(cut.depth))
        case LooseTenon():
            return (cut.width, " wide, ", cut.depth, " deep, loose tenon ", cut.tenon, " long")
        case Hole() | HoleRow():
            return (cut.diameter, " across, ", *_deep(cut.depth))
        case Tenon() | Tongue():
            return (cut.thickness, " thick, ", cut.length, " long")
        case Groove() | Dado() | Rabbet():
            return (cut.width, " wide, ", cut.depth, " deep")
        case HalfLap():
            return (cut.length, " long, ", cut.depth, " deep")
        case OpenMortise():
            return (cut.width, " wide, ", cut.depth, " deep")
        case Bridle():
            return (cut.thickness, " thick, ", cut.length, " long")
        case Tails():
            return (f"{cut.count}, 1 in {cut.slope}, ", cut.length, " long")
        case Pins():
            sockets = f"{cut.count} socket{'s' if cut.count != 1 else ''}, 1 in {cut.slope}, "
            return (sockets, *_deep(cut.depth))
        case Taper():
            return ("from ", cut.start, " on, ", cut.depth, f" off at the {cut.to}")
        case Chamfer():
            return (cut.size, " wide")
        case Roundover():
            return (cut.size, " radius")


def _deep(depth: Length) -> Said:
    return (depth, " deep") if depth else ("right through",)
