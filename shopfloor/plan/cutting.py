"""In which order is a board cut?  From where everything lies to pieces and cuts, in the order of the saw.

What lies where is a `Lay`: sections along the board (one, the whole board, where it is ripped first), in each its
strips from the reference edge on, in each strip runs of blocks one after the other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from ..trade.length import Length
from .boards import BoardPlan, Cut, Piece, Plank, Role, Saw, Way
from .lots import Lot, Shape

__all__ = ["Lay", "Run", "SectionLay", "StripLay", "board_plan"]


@dataclass(frozen=True)
class Run:
    """Blocks one after the other, a kerf between, the first at x = `start`."""

    start: Length
    shapes: tuple[Shape, ...]


@dataclass(frozen=True)
class StripLay:
    """A strip, its edge nearer to the reference edge at `y`."""

    y: Length
    width: Length
    runs: tuple[Run, ...]

    def shapes(self) -> Iterator[Shape]:
        for run in self.runs:
            yield from run.shapes


@dataclass(frozen=True)
class SectionLay:
    """A section of the board and its strips, which rise in y."""

    start: Length
    end: Length
    strips: tuple[StripLay, ...]


@dataclass(frozen=True)
class Lay:
    """What lies on a board: sections, which rise in x.  One that is the whole board is not crosscut first."""

    sections: tuple[SectionLay, ...]

    def shapes(self) -> Iterator[Shape]:
        for section in self.sections:
            for strip in section.strips:
                yield from strip.shapes()


class _Sawing:
    """A board on the saw: pieces come apart one by one."""

    def __init__(self, plank: Plank, kerf: Length) -> None:
        self.kerf = kerf
        self.pieces = [Piece(0, Role.BOARD, 0, 0, plank.length, plank.width)]
        self.cuts: list[Cut] = []

    def crosscut(self, of: int, at: Length) -> tuple[int | None, int | None]:
        piece = self.pieces[of]
        low = self._new(replace(piece, length=at - piece.x))
        high = self._new(replace(piece, x=at + self.kerf, length=piece.x + piece.length - at - self.kerf))
        return self._done(Way.CROSSCUT, at, of, low, high)

    def rip(self, of: int, at: Length) -> tuple[int | None, int | None]:
        piece = self.pieces[of]
        low = self._new(replace(piece, width=at - piece.y))
        high = self._new(replace(piece, y=at + self.kerf, width=piece.y + piece.width - at - self.kerf))
        return self._done(Way.RIP, at, of, low, high)

    def _new(self, piece: Piece) -> int | None:
        if piece.length <= 0 or piece.width <= 0:
            return None
        self.pieces.append(replace(piece, number=len(self.pieces), role=Role.WASTE, part=""))
        return len(self.pieces) - 1

    def _done(self, way: Way, at: Length, of: int, low: int | None, high: int | None) -> tuple[int | None, int | None]:
        self.cuts.append(Cut(len(self.cuts) + 1, way, at, of, low, high))
        return low, high

    def stretch(self, of: int, start: Length, end: Length) -> tuple[int, int | None]:
        """Crosscut `start` to `end` out of a piece: the number of what was wanted, and of what is beyond it."""
        piece, beyond = self.pieces[of], None
        if piece.x < start:
            _, after = self.crosscut(of, start - self.kerf)
            assert after is not None
            of, piece = after, self.pieces[after]
        if end < piece.x + piece.length:
            before, beyond = self.crosscut(of, end)
            assert before is not None
            of = before
        return of, beyond

    def lane(self, of: int, start: Length, end: Length) -> tuple[int, int | None]:
        """The same across: rip y = `start` to `end` out of a piece."""
        piece, beyond = self.pieces[of], None
        if piece.y < start:
            _, after = self.rip(of, start - self.kerf)
            assert after is not None
            of, piece = after, self.pieces[after]
        if end < piece.y + piece.width:
            before, beyond = self.rip(of, end)
            assert before is not None
            of = before
        return of, beyond

    def named(self, number: int, role: Role, part: str = "") -> None:
        if role is Role.PART or self.pieces[number].role is Role.WASTE:
            self.pieces[number] = replace(self.pieces[number], role=role, part=part)


def board_plan(plank: Plank, lay: Lay, lots: tuple[Lot, ...], given: dict[int, int], saw: Saw) -> BoardPlan:
    """The board cut as it lies.  `given` counts for each lot how many of its units are given out; it is counted on."""
    sawing = _Sawing(plank, saw.kerf)
    rest: int | None = 0
    for section in lay.sections:
        assert rest is not None
        own, rest = sawing.stretch(rest, section.start, section.end)
        sawing.named(own, Role.SECTION)
        todo: list[tuple[int, StripLay]] = []
        left: int | None = own
        for strip in section.strips:
            assert left is not None
            number, left = sawing.lane(left, strip.y, strip.y + strip.width)
            sawing.named(number, Role.STRIP)
            todo.append((number, strip))
        for number, strip in todo:
            _crosscut(sawing, number, strip, lots, given)
    inner = {cut.of for cut in sawing.cuts}
    for piece in sawing.pieces:
        kept = piece.length >= saw.offcut[0] and piece.width >= saw.offcut[1]
        if piece.role is Role.WASTE and piece.number in inner:
            sawing.pieces[piece.number] = replace(piece, role=Role.REST)
        elif piece.number not in inner and piece.role is not Role.PART:
            role = Role.OFFCUT if kept else Role.WASTE
            sawing.pieces[piece.number] = replace(piece, role=role)
    return BoardPlan(plank.key, plank.area, tuple(sawing.pieces), tuple(sawing.cuts))


def _crosscut(sawing: _Sawing, number: int, strip: StripLay, lots: tuple[Lot, ...], given: dict[int, int]) -> None:
    """A strip into its blocks, and each block into its parts."""
    left: int | None = number
    for run in strip.runs:
        x = run.start
        for shape in run.shapes:
            unit = lots[shape.lot].units[given.get(shape.lot, 0)]
            given[shape.lot] = given.get(shape.lot, 0) + 1
            # Parts in sequence are crosscut one by one; what lies side by side comes off as one block.
            abreast = any(member.y for member in shape.members)
            for member in shape.members[:1] if abreast else shape.members:
                assert left is not None
                length = shape.length if abreast else member.length
                block, left = sawing.stretch(left, x, x + length)
                if abreast:
                    sawing.named(block, Role.BLOCK)
                    _rip_apart(sawing, block, strip.y, shape, unit)
                else:
                    _to_width(sawing, block, strip.y, member.width, unit[member.nth])
                x += length + sawing.kerf


def _to_width(sawing: _Sawing, block: int, y: Length, width: Length, part: str) -> None:
    own, _ = sawing.lane(block, y, y + width)
    if own != block:
        sawing.named(block, Role.BLOCK)
    sawing.named(own, Role.PART, part)


def _rip_apart(sawing: _Sawing, block: int, y: Length, shape: Shape, unit: tuple[str, ...]) -> None:
    left: int | None = block
    for member in shape.members:
        assert left is not None
        lane, left = sawing.lane(left, y + member.y, y + member.y + member.width)
        start = sawing.pieces[lane].x
        own, _ = sawing.stretch(lane, start, start + member.length)
        if own != lane:
            sawing.named(lane, Role.BLOCK)
        sawing.named(own, Role.PART, unit[member.nth])
