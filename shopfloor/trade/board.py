"""What is a board of the rack?  Its sizes as measured, what is cut around, and where it came from.

A board is measured from its *marked end*: a cross is chalked there, and everything along it is a distance from the
cross.  Looking along the board from the cross, with the better face up, its left edge is the near edge; the widths of
both ends are given, and what is cut around: places along it, over the whole width or between two distances from the
near edge.  A board says how thick its lumber is sold, and how it was sawn (flat, rift or quarter).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from enum import StrEnum
from typing import Any, NamedTuple

from ..errors import ShopError
from .fact import UNCONFIRMED, AnyFact, Fact, inch, mm
from .length import INCH, Length, write_exact
from .sources import CUSTOM
from .stock import Lumber, lumber_named

__all__ = ["END_TRIM", "FACTS", "OFFCUT_LENGTH", "OFFCUT_WIDTH", "SHORTEST", "SHOW_CLEAR", "Board", "Defect", "NoBoard",
           "Sawn", "Usable", "read_board", "write_board"]  # fmt: skip

END_TRIM = Fact(
    key="end-trim", subject="lumber", name="Trimmed off each end of a board", value=inch(1, 2), metric=mm("13"),
    range=(0, inch(3)), metric_range=(0, mm("75")), status=UNCONFIRMED, source=CUSTOM,
    note="Ends are checked and dirty; look for splits and take more.",
)  # fmt: skip
SHOW_CLEAR = Fact(
    key="show-clear", subject="lumber", name="A face that shows, clear of a defect by", value=inch(1), metric=mm("25"),
    range=(0, inch(4)), metric_range=(0, mm("100")), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
SHORTEST = Fact(
    key="shortest-sawn", subject="lumber", name="No piece shorter is sawn from a board to be ripped", value=inch(12),
    metric=mm("300"), range=(inch(8), inch(24)), metric_range=(mm("200"), mm("600")), status=UNCONFIRMED,
    source=CUSTOM, note="A reminder, never a permission: the stricter of the machines' manuals wins.",
)  # fmt: skip
OFFCUT_LENGTH = Fact(
    key="offcut-length", subject="lumber", name="An offcut is kept from a length of", value=inch(12), metric=mm("300"),
    range=(inch(6), inch(36)), metric_range=(mm("150"), mm("900")), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
OFFCUT_WIDTH = Fact(
    key="offcut-width", subject="lumber", name="An offcut is kept from a width of", value=inch(3, 2), metric=mm("40"),
    range=(inch(3, 4), inch(4)), metric_range=(mm("19"), mm("100")), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip

FACTS: tuple[AnyFact, ...] = (END_TRIM, SHOW_CLEAR, SHORTEST, OFFCUT_LENGTH, OFFCUT_WIDTH)

LONGEST: Length = 600 * INCH
WIDEST: Length = 60 * INCH
MOST_DEFECTS = 60
LONGEST_WORD = 60
LONGEST_NOTE = 500


class NoBoard(ShopError):
    """What was measured is no board."""

    code = "no-board"


class Sawn(StrEnum):
    """How the board lay in the log."""

    UNKNOWN = ""
    FLAT = "flat"
    RIFT = "rift"
    QUARTER = "quarter"


class Defect(NamedTuple):
    """What is cut around: from `start` to `end` along the board, and across it from `near` to `far` (both 0: all of
    its width)."""

    start: Length
    end: Length
    near: Length = 0
    far: Length = 0
    what: str = ""


class Usable(NamedTuple):
    """The rectangle that parts are cut from: so long, so wide, its near edge so far in from the board's."""

    length: Length
    width: Length
    inset: Length


@dataclass(frozen=True)
class Board:
    """One board of the rack.

    `mark` is what is chalked on it until it has a label.  `widths` are those of the marked end and of the other one.
    `sapwood` is what is ripped off along the near and the far edge.  An offcut has the id of the board that it is
    `of`, and lies `at` so far from that one's marked end.
    """

    id: str
    mark: str
    species: str
    lumber: Lumber
    length: Length
    widths: tuple[Length, Length]
    sapwood: tuple[Length, Length] = (0, 0)
    defects: tuple[Defect, ...] = ()
    sawn: Sawn = Sawn.UNKNOWN
    moisture: str = ""
    note: str = ""
    of: str = ""
    at: Length = 0

    @property
    def usable(self) -> Usable:
        """What is left once the edges are straight and the sapwood is off: as wide as the narrower end.

        Both edges of a tapering board are taken to be straight.  Nothing may be left: then it is no wider than 0.
        """
        near, far = self.sapwood
        return Usable(self.length, max(min(self.widths) - near - far, 0), near)


def read_board(identity: str, body: Mapping[str, Any]) -> Board:
    """A board as the floor wrote it down.  Raises NoBoard, naming the field, for one that cannot be.

    Lengths are whole nanometres.  Fields that are missing are as if nothing was said; unknown ones are passed over.
    """
    nominal = _length(body, "nominal", least=1)
    name = _word(body, "lumber")
    lumber = lumber_named(name) or Lumber(name or write_exact(nominal, "in"), nominal)
    if lumber.nominal != nominal:
        raise NoBoard(f"{name} lumber is not {write_exact(nominal, 'in')} thick", where="lumber")
    length = _length(body, "length", least=1)
    widths = _two(body, "widths", least=1)
    if max(widths) > WIDEST:
        raise NoBoard(f"no board is {write_exact(max(widths), 'in')} wide", where="width", do="Measure it again.")
    sapwood = _two(body, "sapwood") if body.get("sapwood") is not None else (0, 0)
    if sum(sapwood) > min(widths):
        raise NoBoard(
            f"the sapwood is {write_exact(sum(sapwood), 'in')} in all, and the board "
            f"{write_exact(min(widths), 'in')} wide",
            where="sapwood",
        )
    try:
        sawn = Sawn(body.get("sawn") or "")
    except ValueError:
        raise NoBoard(
            f'"{body.get("sawn")}" is no way to saw a log', where="sawn", do="Say flat, rift or quarter."
        ) from None
    return Board(
        identity, _word(body, "mark"), _word(body, "species"), lumber, length, widths, sapwood,
        _defects(body, length, max(widths)), sawn, _moisture(body), _word(body, "note", LONGEST_NOTE),
        _word(body, "of"), _length(body, "at") if body.get("at") else 0,
    )  # fmt: skip


def write_board(board: Board) -> dict[str, Any]:
    """The body of the entry that says all this; `read_board` gives the same board back."""
    return {
        "mark": board.mark,
        "species": board.species,
        "lumber": board.lumber.name,
        "nominal": board.lumber.nominal,
        "length": board.length,
        "widths": list(board.widths),
        "sapwood": list(board.sapwood),
        "defects": [
            {"from": one.start, "to": one.end, "near": one.near, "far": one.far, "what": one.what}
            for one in board.defects
        ],
        "sawn": board.sawn.value,
        "moisture": board.moisture,
        "note": board.note,
        "of": board.of,
        "at": board.at,
    }


def _length(body: Mapping[str, Any], name: str, least: Length = 0, field: str = "") -> Length:
    value = body.get(name)
    if type(value) is not int:
        raise NoBoard(f"no {field or name} is given", where=field or name, do="Measure it.")
    if not least <= value <= LONGEST:
        raise NoBoard(
            f"{write_exact(value, 'in')} is no {field or name} of a board" if abs(value) <= 10**15
            else f"the {field or name} is no size of a board",
            where=field or name, do=f"Give {'more than 0' if least else '0'} to 50 ft.",
        )  # fmt: skip
    return value


def _two(body: Mapping[str, Any], name: str, least: Length = 0) -> tuple[Length, Length]:
    value = body.get(name)
    if not isinstance(value, list) or len(value) != 2:
        raise NoBoard(f"{name} are not given for both sides", where=name, do="Measure both.")
    first, second = (_length({name: one}, name, least) for one in value)
    return first, second


def _word(body: Mapping[str, Any], name: str, longest: int = LONGEST_WORD) -> str:
    value = body.get(name) or ""
    if not isinstance(value, str):
        raise NoBoard(f"{name} is no text", where=name)
    if len(value) > longest:
        raise NoBoard(f"{name} is longer than {longest} characters", where=name, do="Say it shorter.")
    return value.strip()


def _moisture(body: Mapping[str, Any]) -> str:
    text = _word(body, "moisture").removesuffix("%").strip().replace(",", ".")
    if not text:
        return ""
    try:
        percent = Decimal(text)
        if percent.is_nan() or not 0 <= percent <= 200:
            raise InvalidOperation
    except InvalidOperation:
        raise NoBoard(f'"{text}" is no moisture of wood', where="moisture", do="Give percent, 0 to 200.") from None
    return text


def _defects(body: Mapping[str, Any], length: Length, width: Length) -> tuple[Defect, ...]:
    value = body.get("defects") or []
    if not isinstance(value, list) or len(value) > MOST_DEFECTS:
        raise NoBoard(f"more than {MOST_DEFECTS} places to cut around", where="defects", do="Join those that are near.")
    found = []
    for number, one in enumerate(value, start=1):
        if not isinstance(one, dict):
            raise NoBoard("a place to cut around is from here to there", where=f"defect {number}")
        start, end = (_length(one, name, field=f"place {number} to cut around") for name in ("from", "to"))
        near, far = (_length(one, name) if one.get(name) else 0 for name in ("near", "far"))
        if start >= end or start >= length:
            raise NoBoard(
                f"it begins {write_exact(start, 'in')} and ends {write_exact(end, 'in')} from the marked end, of "
                f"{write_exact(length, 'in')}",
                where=f"place {number} to cut around", do="Give where it begins, then where it ends.",
            )  # fmt: skip
        if far and near >= far:
            raise NoBoard("it is no wider than nothing", where=f"place {number} to cut around")
        found.append(Defect(start, min(end, length), near, min(far, width), _word(one, "what")))
    return tuple(sorted(found))
