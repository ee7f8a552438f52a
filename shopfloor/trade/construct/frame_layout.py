"""Where do the rails and uprights of a frame lie?  The places that its parts are built on, and what cannot be made.

A frame is laid out in axes of its own: u along its rails from the datum, v down from its top, w from its face side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from .. import part as trade
from ..length import Length
from ..part import Box, Line, Part, Placement, Stock
from .derived import Impossible, Working, minus, plus
from .frame_choices import Frame, Groove, Panel
from .made import Gathered, part_of
from .share import places, shared
from .space import Cut

__all__ = ["MIRROR", "UPRIGHT", "Column", "Layout", "Setting"]

UPRIGHT = "+Y -X +Z"
"""A muntin, stile or panel in a frame's own axes: its length runs down, its face edge looks to the far end."""
MIRROR = "+Y +X +Z"


@dataclass(frozen=True)
class Setting:
    """Where a frame stands and what it is called.

    `stands` turns its own axes u, v, w into the piece's.  `ends` names where u starts and ends ("front", "back").
    `legs` are the keys of the two parts that it stands between; empty if it has stiles.  `cuts` begins the keys of
    what is cut into them ("side-").  `line` and `part` begin its own keys ("left-", "left."), `place` its places.
    """

    assembly: str
    line: str
    part: str
    place: str
    ends: tuple[str, str]
    stands: Placement
    legs: tuple[str, str] | tuple[()] = ()
    cuts: str = ""
    face_side: str = "inside"


@dataclass(frozen=True)
class Column:
    """The clear space between two uprights: from `low` to `high` along u, and the parts at either side."""

    low: Length
    high: Length
    mates: tuple[str, str]


class Layout:
    """A frame, its columns and fields; `out` gathers the lines, cuts and joints of what is built on it."""

    def __init__(self, frame: Frame, width: Length, height: Length, setting: Setting, work: Working) -> None:
        self.frame, self.setting, self.work = frame, setting, work
        self.width, self.height = width, height
        self.out = Gathered()
        self.key = setting.line
        self.stub = frame.tenon.length == 0
        self.groove = frame.groove if frame.panel else None
        self.check()
        self.tenon = self.tenon_length()
        self.tenon_lies = self.work.eased(
            f"{self.key}tenon.thickness", "stub tenon" if self.stub else "tenon",
            "groove" if self.stub else "mortise", frame.tenon.offset, frame.tenon.thickness, frame.thickness,
        )  # fmt: skip
        self.columns, self.column = self.laid_columns()
        self.tops, self.fields = self.laid_rails()

    def check(self) -> None:
        frame, work, tenon = self.frame, self.work, self.frame.tenon
        if not frame.rails:
            raise Impossible("a frame without rails", where=self.key + "rails", do="Give it one rail at least.")
        if bool(frame.panel) != bool(frame.groove):
            raise Impossible("a panel needs a groove, and a groove a panel", where=self.key + "panel", do="Give both.")
        if frame.panel and len(frame.rails) < 2:
            raise Impossible("a panel needs a rail above and below", where=self.key + "rails", do="Give two at least.")
        if bool(self.setting.legs) == bool(frame.stiles) or len(frame.stiles) == 1:
            count = f"{len(frame.stiles)} stile{'' if len(frame.stiles) == 1 else 's'}"
            do = "Between legs there are none; otherwise two at least."
            raise Impossible(f"it has {count}", where=self.key + "stiles", do=do)
        if self.stub and not frame.panel:
            do = "Give the tenons a length."
            raise Impossible("stub tenons sit in a groove, and there is none", where=self.key + "tenon.length", do=do)
        wrong = [count for count in frame.muntins if not 0 <= count <= 100]
        if wrong or (frame.muntins and (not frame.panel or len(frame.muntins) != len(frame.rails) - 1)):
            do = f"Give {len(frame.rails) - 1} numbers from 0 to 100, one for each field." if frame.panel else ""
            raise Impossible("the muntins do not fit the fields", where=self.key + "muntins", do=do)
        behind = f"{work.size(tenon.offset)} behind the face side of {work.size(frame.thickness)} stock"
        work.at_most(
            self.key + "tenon.thickness", "a tenon", tenon.thickness, frame.thickness - tenon.offset, behind
        )  # fmt: skip
        if self.groove and frame.panel:
            self.check_groove(self.groove, frame.panel)

    def check_groove(self, groove: Groove, panel: Panel) -> None:
        work = self.work
        if self.stub and (self.frame.tenon.thickness, self.frame.tenon.offset) != (groove.width, groove.offset):
            do = f"{work.size(groove.width)} thick and {work.size(groove.offset)} behind the face side would do."
            where = self.key + "tenon.thickness"
            raise Impossible("a stub tenon does not lie in the groove that takes it", where=where, do=do)
        work.at_most(self.key + "groove.width", "a groove", groove.width, self.frame.thickness - groove.offset,
                     f"{work.size(groove.offset)} behind the face side")  # fmt: skip
        narrow = min(self.frame.rails)
        work.less_than(self.key + "groove.depth", "a groove", groove.depth, narrow, "for the narrowest rail")
        for name, gap in (("beside", panel.beside), ("ends", panel.ends)):
            where = f"{self.key}panel.{name}"
            work.less_than(where, "a clearance of", gap, groove.depth, f"in a groove {work.size(groove.depth)} deep")
        work.less_than(self.key + "groove.clear", "a clearance of", groove.clear, groove.depth, "for a stub tenon")
        work.at_most(self.key + "panel.set_back", "setting the panel back by", panel.set_back, groove.offset,
                     "for its tongue")  # fmt: skip
        lies = groove.offset - panel.set_back
        least = lies + groove.width - (0 if lies else 2 * work.fit.groove)
        work.at_least(self.key + "panel.thickness", "a panel", panel.thickness, least, "for its tongue")

    def tenon_length(self) -> Length:
        tenon, work = self.frame.tenon, self.work
        if not self.stub:
            return tenon.length
        assert self.groove
        name, terms = "stub tenon", (plus("groove", self.groove.depth), minus("clearance", tenon.extra))
        return work.length(self.key + "stub", name, *terms)

    def laid_columns(self) -> tuple[list[Column], Length]:
        """The clear spaces between uprights, and the one width that each has."""
        frame, work, key = self.frame, self.work, self.setting.part
        if self.setting.legs:
            return [Column(0, self.width, self.setting.legs)], self.width
        names = self.stile_names()
        count = len(frame.stiles) - 1
        each = work.length(
            self.key + "between-stiles", "between the stiles", plus("width", self.width),
            *(minus("stile", wide, times) for wide, times in _counted(frame.stiles)), over=count,
        )  # fmt: skip
        starts = places(frame.stiles, [each] * count, self.width)
        ends = [start + wide for start, wide in zip(starts, frame.stiles, strict=True)]
        return [
            Column(end, start, (key + low, key + high))
            for (end, start), (low, high) in zip(zip(ends, starts[1:], strict=False), pairwise(names), strict=True)
        ], each

    def stile_names(self) -> list[str]:
        count = len(self.frame.stiles)
        low, high = self.setting.ends
        middle = ["stile-middle"] if count == 3 else [f"stile-{nth}" for nth in range(2, count)]
        return [f"stile-{low}", *middle, f"stile-{high}"]

    def laid_rails(self) -> tuple[list[Length], list[Length]]:
        """Where each rail's upper edge is, from the top, and the height of each field."""
        rails = self.frame.rails
        if len(rails) == 1:
            self.work.at_most(self.key + "rails", "a rail", rails[0], self.height, f"for {self.work.size(self.height)}")
            return [0], []
        fields = shared(
            self.work, self.key + "field", "between the rails", "height", self.height,
            [minus("rail", wide, times) for wide, times in _counted(rails)], self.frame.fields, len(rails) - 1,
        )  # fmt: skip
        return places(rails, fields, self.height), fields

    def rail_names(self) -> list[str]:
        count = len(self.frame.rails)
        middle = ["middle"] if count == 3 else [f"middle-{nth}" for nth in range(1, count - 1)]
        return ["top", *middle, "bottom"] if count > 1 else ["top"]

    def meet_rails(self, own: str, row: int, column: int, tip: Length, *, lettered: bool, shoulder: Length = 0) -> None:
        """What stands in a field enters the rail above and the one below."""
        names = self.rail_names()
        suffix = f"-{column + 1}" if len(self.columns) > 1 else ""
        for end, nth in (("top", row), ("bottom", row + 1)):
            both = 0 < nth < len(names) - 1
            taken = ("panel-below" if end == "top" else "panel-above") if both else "panel"
            self.out.meet(f"{self.key}{own}-{end}", f"{self.setting.part}{own}/{end}",
                          f"{self.setting.part}{names[nth]}-rail{suffix}/{taken}", tip, shoulder, lettered)  # fmt: skip

    def pocket(self, column: Column, side: int, name: str) -> str:
        """The key of a cut in an upright.  A stile between two columns takes rails from both sides."""
        if self.setting.legs:
            return self.setting.cuts + name
        nth = self.columns.index(column)
        inner = (side == 0 and nth > 0) or (side == 1 and nth < len(self.columns) - 1)
        return f"{name}-{self.setting.ends[1 - side]}" if inner else name

    def openings(self, column: int, count: int) -> list[tuple[Length, Length]]:
        """The openings between the muntins of one column, along u, each place rounded once."""
        here, wide = self.columns[column], self.frame.muntin
        free = here.high - here.low - count * wide
        edges = [here.low + nth * wide + free * (nth + 1) // (count + 1) for nth in range(count + 1)]
        starts = [here.low, *(edge + wide for edge in edges[:-1])]
        return list(zip(starts, edges, strict=True))

    def each_muntin(self, row: int, count: int) -> Iterator[tuple[int, int, str]]:
        """Column, number within it and key of each muntin of a field."""
        rows = sum(map(bool, self.frame.muntins)) > 1
        many = len(self.columns) * count > 1
        for column in range(len(self.columns)):
            for nth in range(count):
                name = "muntin" + (f"-{row + 1}" if rows else "")
                yield column, nth, name + (f"-{column * count + nth + 1}" if many else "")

    def of(self, columns: Sequence[Column], count: int) -> str:
        return (
            self.setting.place
            if len(columns) == 1
            else f"{self.setting.place}, {count} from the {self.setting.ends[0]}"
        )

    def part(self, key: str, place: str, stands: Placement) -> Part:
        return part_of(key, place, stands, self.setting.stands)

    def cut(self, part: str, key: str, kind: type[trade.Mortise] | type[trade.Groove], box: Box, way: str) -> None:
        self.out.cuts.append(Cut(part, key, kind, self.setting.stands.box(box), _turned(way, self.setting.stands)))

    def line(self, key: str, name: str, stock: Stock, datum: str, edge: str, features: Sequence[trade.Feature],
             parts: Sequence[Part], panel: Panel | None = None) -> None:  # fmt: skip
        species = (panel.species if panel else "") or self.frame.species
        self.out.lines.append(Line(
            key, self.setting.assembly, name, *stock, species=species, datum=datum, face_side=self.setting.face_side,
            face_edge=edge, group=panel.group if panel else "", note=panel.note if panel else "",
            features=tuple(features), parts=tuple(parts),
        ))  # fmt: skip


def _turned(way: str, stands: Placement) -> str:
    """A direction of the frame's own axes in the piece's."""
    own = stands.axes.split()["XYZ".index(way[1])]
    return own if way[0] == "+" else ("-" if own[0] == "+" else "+") + own[1]


def _counted(widths: Sequence[Length]) -> list[tuple[Length, int]]:
    """Equal widths together, in their order."""
    return [(wide, widths.count(wide)) for wide in dict.fromkeys(widths)]
