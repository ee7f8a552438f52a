"""Where is a rod cut, to fit the paper?  Its tiles, and the joints between them where no mark is near.

A tile runs from one joint to the next.  Past its lower joint it goes on for a flap, with whatever marks are there: the
next tile is cut off at the joint, laid on the flap, and taped.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass

from ..errors import ShopError
from ..trade.length import Length
from .label_sheets import INCH, MM

MARGIN: Length = 8 * MM
"""Blank along the paper's edge: more than any office printer leaves white."""
HEAD: Length = 17 * MM
"""What stands at the head of every page."""
TAB: Length = 16 * MM
"""Above the zero, to be folded down and hooked over the end of the wood."""
LEAD: Length = 5 * MM
"""Above a joint, to be cut off."""
FLAP: Length = 12 * MM
"""Past a joint, to lay the next tile on."""
FOOT: Length = 6 * MM
"""Past the far end."""
CLEAR: Length = 8 * MM
"""So far from a joint a mark is not disturbed by what stands there."""
SWAY: Length = 25 * MM
"""So far a joint may be from where the tiles would be equally long."""


SLACK: Length = 30 * MM
"""So much a rod's tiles hold more than its length, or it has one tile more: or no joint could move from a mark."""


class UnknownPaper(ShopError):
    """No paper has that name."""

    code = "unknown-paper"


@dataclass(frozen=True)
class Paper:
    """A page, all sizes in nanometres."""

    name: str
    width: Length
    height: Length

    @property
    def room(self) -> Length:
        """How high a tile can be with all that belongs to it."""
        return self.height - 2 * MARGIN - HEAD


PAPERS = {"a4": Paper("A4", 210 * MM, 297 * MM), "letter": Paper("Letter", 17 * INCH // 2, 11 * INCH)}
"""The papers that are offered, by name."""


def paper(name: str) -> Paper:
    """The paper of that name.  Raises UnknownPaper."""
    if name.lower() not in PAPERS:
        raise UnknownPaper(f'there is no paper "{name[:20]}"', where="paper", do="Choose a4 or letter.")
    return PAPERS[name.lower()]


@dataclass(frozen=True)
class Tile:
    """From `start` to `end`, distances from the datum end; the `nth` of how many."""

    start: Length
    end: Length
    nth: tuple[int, int]

    @property
    def first(self) -> bool:
        return self.nth[0] == 1

    @property
    def last(self) -> bool:
        return self.nth[0] == self.nth[1]

    @property
    def above(self) -> Length:
        """How much of the strip there is above the start: the tab at the datum end, or the lead."""
        return TAB if self.first else LEAD

    @property
    def below(self) -> Length:
        """How much there is past the end: the flap, or a little wood-free paper."""
        return FOOT if self.last else FLAP

    @property
    def height(self) -> Length:
        return self.above + self.end - self.start + self.below


def tiles(length: Length, marks: Sequence[Length], room: Length) -> tuple[Tile, ...]:
    """The tiles of a rod, each no higher than `room`; `marks` rise from the datum end.

    The tiles are nearly equally long, and a joint keeps clear of marks where it can: it is at the place within `SWAY`
    that is nearest and clear enough, or else the farthest from any mark.
    """
    if TAB + length + FOOT <= room:
        return (Tile(0, length, (1, 1)),)
    most = room - LEAD - FLAP  # what a tile holds; the first holds a little less
    less = TAB - LEAD
    count = -(-(length + less + SLACK) // most)
    joints = [0]
    for number in range(1, count):
        left = count - number
        equal = joints[-1] + (length - joints[-1]) // (left + 1)
        low = max(equal - SWAY, length - left * most)
        high = min(equal + SWAY, joints[-1] + most - (less if number == 1 else 0))
        joints.append(_clear(min(max(equal, low), high), low, high, marks))
    joints.append(length)
    return tuple(Tile(joints[i], joints[i + 1], (i + 1, count)) for i in range(count))


def _clear(wanted: Length, low: Length, high: Length, marks: Sequence[Length]) -> Length:
    """A place for a joint: whole millimetres up or down from the wanted one, the nearest that is clear enough."""
    best, most = wanted, -1
    for step in range(0, SWAY + 1, MM):
        for place in (wanted + step, wanted - step):
            if not low <= place <= high:
                continue
            i = bisect_left(marks, place)
            clear = min((abs(place - mark) for mark in marks[max(0, i - 1) : i + 1]), default=CLEAR)
            if clear >= CLEAR:
                return place
            if clear > most:
                best, most = place, clear
    return best
