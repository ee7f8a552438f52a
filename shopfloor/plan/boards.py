"""Which part comes out of which board?  What is asked, and what a plan says: the contract of the search.

**Asked** is a `Task`: parts wanted at their rough size, each by itself and with its own key; boards, each of them there
once; groups of parts whose grain belongs together; and the saw: its rule, its kerf, what it may not cut.  One species
and one thickness a task: whoever asks has sorted the wood before.  Lengths are whole nanometres.

**A board lies flat**, its marked end to the left: x runs along it from the marked end, y across it from the reference
edge, which is straight.  Its grain runs along x, and so does each part's length; nothing is ever turned.  A board
that is cut already is given as what remains: a rectangle, a board of its own.

**Two rules.**  *Rip first*: the whole board is ripped into strips, each strip is crosscut into parts.  *Crosscut
first*: the board is crosscut into sections, each section is ripped, each strip crosscut; whoever may do that may rip
first as well.  Under both a part that is narrower than its strip is ripped to width when it is free, and so are parts
that lie side by side.

**Kerf.**  A cut takes away `kerf` from `at` on; what is below `at` and what is beyond `at + kerf` are left.  It may
take less where the wood ends within it.  So a part fits a board of its own length with no cut at all.

**Groups.**  In sequence: one after the other along one board, in the order given, a kerf between.  Side by side:
across one board in the order given, all beginning at the same x.  Neighbours: either of the two.

**A plan** (`Plan`) has a `BoardPlan` for each board that is opened, with its pieces and its cuts in the order in
which they are made.  Piece 0 is the board itself, and each cut names the piece that it cuts and the one or two that
it gives.  Pieces that no cut cuts are parts, offcuts or waste.  `least` is proven: no plan under the rule that places
the same parts opens less board area than that; it is None where parts are left over.  What is left over is named,
with why.

Text is `Says`: strings, and whole numbers that are lengths, so that whoever shows it chooses the unit (`said` reads
it out).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from ..errors import ShopError
from ..trade.board import Defect
from ..trade.length import Length, write_exact
from ..trade.sawing import Area, BoardPlan, Cut, Piece, Role, Way

__all__ = [
    "Area",
    "BoardPlan",
    "Cut",
    "Defect",
    "Group",
    "Kin",
    "LeftOver",
    "NoTask",
    "Piece",
    "Plan",
    "Plank",
    "Role",
    "Rule",
    "Saw",
    "Says",
    "Task",
    "Wanted",
    "Way",
    "Why",
    "said",
]

Says = tuple[str | Length, ...]


class NoTask(ShopError):
    """What was asked cannot be planned at all: two parts with one key, a kerf below zero."""

    code = "no-board-task"


class Rule(StrEnum):
    """What is cut first."""

    RIP_FIRST = "rip first"
    CROSSCUT_FIRST = "crosscut first"


class Kin(StrEnum):
    """How parts of one group lie to each other."""

    SEQUENCE = "in sequence"
    SIDE_BY_SIDE = "side by side"
    NEIGHBOURS = "neighbours"


class Why(StrEnum):
    """Why a part is left over."""

    TOO_LONG = "too long"
    TOO_WIDE = "too wide"
    NO_BOARD = "no board takes it"
    NOT_ITS_BOARD = "its board does not take it"
    ITS_GROUP = "its group fits no board"
    NOT_ENOUGH = "not enough wood"
    STOPPED = "not planned"


@dataclass(frozen=True)
class Wanted:
    """A part at its rough size.  `board`: the key of the board that the maker pinned it to.  `show`: a clear face is
    wanted, away from defects."""

    key: str
    length: Length
    width: Length
    name: str = ""
    board: str = ""
    show: bool = False


@dataclass(frozen=True)
class Plank:
    """A board as the search sees it: a rectangle with straight edges.  `trim` is lost at the marked end and the
    other."""

    key: str
    length: Length
    width: Length
    name: str = ""
    defects: tuple[Defect, ...] = ()
    trim: tuple[Length, Length] = (0, 0)

    @property
    def area(self) -> Area:
        return self.length * self.width


@dataclass(frozen=True)
class Group:
    """Parts whose grain belongs together, in their order: from the marked end on, or from the reference edge."""

    key: str
    parts: tuple[str, ...]
    kin: Kin = Kin.SEQUENCE
    name: str = ""


@dataclass(frozen=True)
class Saw:
    """How the shop cuts.

    `least_section`: nothing shorter is crosscut from the board to be ripped.  `least_strip`: nothing shorter is
    ripped at all, be it a board, a section or a part to its width.  `clear`: so far a show part keeps from every
    defect.  `offcut`: the length and the width from which on a remainder is kept.
    """

    kerf: Length
    rule: Rule = Rule.RIP_FIRST
    least_section: Length = 0
    least_strip: Length = 0
    clear: Length = 0
    offcut: tuple[Length, Length] = (300_000_000, 40_000_000)


@dataclass(frozen=True)
class Task:
    """What is to be planned: one species, one thickness."""

    wanted: tuple[Wanted, ...]
    planks: tuple[Plank, ...]
    saw: Saw
    groups: tuple[Group, ...] = ()


@dataclass(frozen=True)
class LeftOver:
    """A part that no board gives, and why, in one sentence."""

    part: str
    why: Why
    says: Says


@dataclass(frozen=True)
class Plan:
    """The plan.  Boards stand in the order of the task; `notes` say what is odd about the task, a sentence each."""

    rule: Rule
    kerf: Length
    boards: tuple[BoardPlan, ...]
    left_over: tuple[LeftOver, ...] = ()
    least: Area | None = None
    notes: tuple[Says, ...] = ()

    @property
    def used(self) -> Area:
        """The area of the boards that are opened."""
        return sum(each.area for each in self.boards)

    @property
    def parts_area(self) -> Area:
        return sum(piece.area for each in self.boards for piece in each.parts)

    @property
    def offcuts_area(self) -> Area:
        return sum(piece.area for each in self.boards for piece in each.offcuts)

    @property
    def waste(self) -> Area:
        """What is neither part nor offcut: kerfs, trimmings, defects, slivers."""
        return self.used - self.parts_area - self.offcuts_area

    @property
    def gap(self) -> float | None:
        """How much more than the proven least is opened, as a share of it; 0 is proven best, None where nothing is
        proven."""
        return None if not self.least else max(self.used - self.least, 0) / self.least

    @property
    def settings(self) -> tuple[int, int]:
        """At how many different widths the fence stands, and at how many different lengths the stop, over all boards.

        A setting is the size of what is measured off: the lower piece, unless it is waste.
        """
        ripped, crosscut = set(), set()
        for board in self.boards:
            for cut in board.cuts:
                low = board.pieces[cut.low] if cut.low is not None else None
                if low is not None and low.role not in (Role.WASTE, Role.OFFCUT):
                    if cut.way is Way.RIP:
                        ripped.add(low.width)
                    else:
                        crosscut.add(low.length)
        return len(ripped), len(crosscut)

    @property
    def complete(self) -> bool:
        return not self.left_over


def said(text: Says, unit: str = "in") -> str:
    """Text with its lengths written out.

    >>> said(("the longest board is ", 2_438_400_000))
    'the longest board is 96 in'
    """
    return "".join(each if isinstance(each, str) else write_exact(each, unit) for each in text)
