"""How long is each rail, how wide each panel?  A frame of rails, stiles and muntins, with or without panels.

A frame is laid out in axes of its own: u along its rails from the datum, v down from its top, w from its face side.
It stands between legs, or has stiles of its own; either way what its rails enter is asked for the mortises.
Sources: geometry; panels by panel.py (width = opening + 2 x (groove - clearance)).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from .. import part as trade
from ..length import Length
from ..part import Box, Face, Line, Part, Placement, Stock
from .derived import Impossible, Working, minus, plus
from .frame_choices import Frame, Groove, Panel
from .made import Gathered, part_of
from .share import places, shared
from .space import Cut

__all__ = ["Setting", "build"]

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
class _Column:
    """The clear space between two uprights: from `low` to `high` along u, and the parts at either side."""

    low: Length
    high: Length
    mates: tuple[str, str]


def build(frame: Frame, width: Length, height: Length, setting: Setting, work: Working) -> Gathered:
    """The lines, cuts and joints of a frame.

    `width` is the clear width between legs, or the outside width over stiles; `height` is over the rails.
    Raises Impossible.
    """
    return _Layout(frame, width, height, setting, work).gathered()


class _Layout:
    def __init__(self, frame: Frame, width: Length, height: Length, setting: Setting, work: Working) -> None:
        self.frame, self.setting, self.work = frame, setting, work
        self.width, self.height = width, height
        self.out = Gathered()
        self.key = setting.line
        self.stub = frame.tenon.length == 0
        self.groove = frame.groove if frame.panel else None
        self.check()
        self.tenon = self.tenon_length()
        self.columns, self.column = self.laid_columns()
        self.tops, self.fields = self.laid_rails()

    # --- what cannot be made

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
            do = f"{len(frame.rails) - 1} fields take that many numbers, each from 0 to 100." if frame.panel else ""
            raise Impossible("the muntins do not fit the fields", where=self.key + "muntins", do=do)
        behind = f"{work.size(tenon.offset)} behind the face side of {work.size(frame.thickness)} stock"
        work.at_most(
            self.key + "tenon.thickness", "a tenon", tenon.thickness, frame.thickness - tenon.offset, behind
        )  # fmt: skip
        if self.groove and frame.panel:
            self.check_groove(self.groove, frame.panel)

    def check_groove(self, groove: Groove, panel: Panel) -> None:
        work = self.work
        work.at_most(self.key + "groove.width", "a groove", groove.width, self.frame.thickness - groove.offset,
                     f"{work.size(groove.offset)} behind the face side")  # fmt: skip
        narrow = min(self.frame.rails)
        work.at_most(self.key + "groove.depth", "a groove", groove.depth, narrow - 1, "for the narrowest rail")
        for name, gap in (("beside", panel.beside), ("ends", panel.ends)):
            where = f"{self.key}panel.{name}"
            work.at_most(where, "a clearance of", gap, groove.depth - 1, f"in a groove {work.size(groove.depth)} deep")
        work.at_most(self.key + "groove.clear", "a clearance of", groove.clear, groove.depth - 1, "for a stub tenon")
        work.at_most(self.key + "panel.set_back", "setting the panel back by", panel.set_back, groove.offset,
                     "for its tongue")  # fmt: skip
        work.at_least(self.key + "panel.thickness", "a panel", panel.thickness,
                      groove.offset - panel.set_back + groove.width, "for its tongue")  # fmt: skip

    # --- the places of things

    def tenon_length(self) -> Length:
        tenon, work = self.frame.tenon, self.work
        if not self.stub:
            return tenon.length
        assert self.groove
        name, terms = "stub tenon", (plus("groove", self.groove.depth), minus("clearance", tenon.extra))
        return work.length(self.key + "stub", name, *terms)

    def laid_columns(self) -> tuple[list[_Column], Length]:
        """The clear spaces between uprights, and the one width that each has."""
        frame, work, key = self.frame, self.work, self.setting.part
        if self.setting.legs:
            return [_Column(0, self.width, self.setting.legs)], self.width
        names = self.stile_names()
        count = len(frame.stiles) - 1
        each = work.length(
            self.key + "between-stiles", "between the stiles", plus("width", self.width),
            *(minus("stile", wide, times) for wide, times in _counted(frame.stiles)), over=count,
        )  # fmt: skip
        starts = places(frame.stiles, [each] * count, self.width)
        ends = [start + wide for start, wide in zip(starts, frame.stiles, strict=True)]
        return [
            _Column(end, start, (key + low, key + high))
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

    # --- the parts

    def gathered(self) -> Gathered:
        for nth, name in enumerate(self.rail_names()):
            self.rail(nth, name)
        for row, count in enumerate(self.frame.muntins):
            if count:
                self.muntins(row, count)
        if self.frame.panel:
            self.panels(self.frame.panel)
        if self.frame.stiles:
            self.stiles()
        if self.groove:
            self.grooves(self.groove)
        return self.out

    def rail(self, nth: int, name: str) -> None:
        frame, tenon, work = self.frame, self.frame.tenon, self.work
        wide, key, (low, high) = frame.rails[nth], f"{self.key}{name}-rail", self.setting.ends
        grooved = self.groove.depth if self.groove else 0
        above = grooved if nth else 0
        below = grooved if nth < len(frame.rails) - 1 else 0
        shoulders = 0 if self.stub else (not above) + (not below)
        length = work.length(
            f"{key}.length", "rail", plus("opening", self.column), plus("tenon", self.tenon, 2)
        )  # fmt: skip
        across = work.length(
            f"{key}.tenon-width", "tenon", plus("rail", wide), minus("groove", grooved, bool(above) + bool(below)),
            minus("shoulder", tenon.shoulder, shoulders),
        )  # fmt: skip
        edge = above or (0 if self.stub else tenon.shoulder)
        size = (self.tenon, tenon.offset, tenon.thickness, edge, across)
        features: list[trade.Feature] = [
            trade.Tenon(low, Face.DATUM_END, *size),
            trade.Tenon(high, Face.FAR_END, *size),
        ]
        grooves = [face for face, has in ((Face.FACE_EDGE, above), (Face.FAR_EDGE, below)) if has]
        for face in grooves if self.groove else ():
            assert self.groove
            called = "panel" if len(grooves) == 1 else {Face.FACE_EDGE: "panel-above"}.get(face, "panel-below")
            features.append(trade.Groove(called, face, self.groove.offset, self.groove.width, self.groove.depth))
        parts = []
        for count, column in enumerate(self.columns, 1):
            at = (column.low + (column.high - column.low - length) // 2, self.tops[nth], 0)
            own = f"{self.setting.part}{name}-rail" + (f"-{count}" if len(self.columns) > 1 else "")
            parts.append(self.part(own, self.of(self.columns, count), Placement(at=at)))
            self.enter_rail(own, f"{self.key}{name}" + (f"-{count}" if len(self.columns) > 1 else ""), column, name,
                            self.tops[nth] + edge, across)  # fmt: skip
        title = "Rail" if len(frame.rails) == 1 else f"{name.split('-')[0].capitalize()} rail"
        self.line(key, title, Stock(frame.thickness, wide, length), low, "top", features, parts)

    def enter_rail(self, own: str, joint: str, column: _Column, name: str, top: Length, across: Length) -> None:
        """The two joints of a rail with its uprights; stub tenons sit in the groove that the panel has."""
        tenon = self.frame.tenon
        deep = self.tenon + tenon.extra
        spans = ((column.low - deep, column.low, "-X"), (column.high, column.high + deep, "+X"))
        for side, (start, end, way) in enumerate(spans):
            taken = self.pocket(column, side, "panel" if self.stub else name)
            self.out.meet(f"{joint}-{self.setting.ends[side]}", f"{own}/{self.setting.ends[side]}",
                          f"{column.mates[side]}/{taken}", tenon.extra)  # fmt: skip
            if not self.stub:
                box = Box(start, end, top, top + across, tenon.offset, tenon.offset + tenon.thickness)
                self.cut(column.mates[side], taken, trade.Mortise, box, way)

    def muntins(self, row: int, count: int) -> None:
        frame, work, groove = self.frame, self.work, self.groove
        assert groove
        rows = sum(map(bool, frame.muntins)) > 1
        key = f"{self.key}muntin" + (f"-{row + 1}" if rows else "")
        stub = work.length(f"{key}.stub", "stub tenon", plus("groove", groove.depth), minus("clearance", groove.clear))
        length = work.length(
            f"{key}.length", "muntin", plus("between the rails", self.fields[row]), plus("tenon", stub, 2)
        )  # fmt: skip
        across = work.length(f"{key}.tenon-width", "tenon", plus("muntin", frame.muntin),
                             minus("groove", groove.depth, 2))  # fmt: skip
        size = (stub, groove.offset, groove.width, groove.depth, across)
        low, high = self.setting.ends
        channel = (groove.offset, groove.width, groove.depth)
        features: list[trade.Feature] = [
            trade.Tenon("top", Face.DATUM_END, *size),
            trade.Tenon("bottom", Face.FAR_END, *size),
            trade.Groove(high, Face.FACE_EDGE, *channel),
            trade.Groove(low, Face.FAR_EDGE, *channel),
        ]
        parts = []
        top = self.tops[row] + frame.rails[row] + (self.fields[row] - length) // 2
        for column, nth, own in self.each_muntin(row, count):
            at = self.openings(column, count)[nth][1] + frame.muntin
            parts.append(self.part(self.setting.part + own, self.middle(own, count), Placement(UPRIGHT, (at, top, 0))))
            self.meet_rails(own, row, column, groove.clear, lettered=True)
        self.line(key, "Muntin", Stock(frame.thickness, frame.muntin, length), "top", high, features, parts)

    def meet_rails(self, own: str, row: int, column: int, tip: Length, *, lettered: bool, shoulder: Length = 0) -> None:
        """What stands in a field enters the rail above and the one below."""
        names = self.rail_names()
        suffix = f"-{column + 1}" if len(self.columns) > 1 else ""
        for end, nth in (("top", row), ("bottom", row + 1)):
            both = 0 < nth < len(names) - 1
            taken = ("panel-below" if end == "top" else "panel-above") if both else "panel"
            self.out.meet(f"{self.key}{own}-{end}", f"{self.setting.part}{own}/{end}",
                          f"{self.setting.part}{names[nth]}-rail{suffix}/{taken}", tip, shoulder, lettered)  # fmt: skip

    def panels(self, panel: Panel) -> None:
        """A line for each size of panel: tongues all round, free to move in their grooves."""
        frame, groove, work = self.frame, self.groove, self.work
        assert groove
        low, high = self.setting.ends
        sizes: dict[tuple[Length, Length], list[Part]] = {}
        widths: dict[int, Length] = {}
        lengths: dict[Length, Length] = {}
        for row, field in enumerate(self.fields):
            count = frame.muntins[row] if frame.muntins else 0
            if count not in widths:
                widths[count] = self.panel_width(panel, count, len(widths))
            if field not in lengths:
                key = f"{self.key}panel.length" + (f"-{row + 1}" if lengths else "")
                lengths[field] = work.length(
                    key, "panel", plus("between the rails", field), plus("groove", groove.depth, 2),
                    minus("clearance", panel.ends, 2),
                )  # fmt: skip
            wide, long = widths[count], lengths[field]
            top = self.tops[row] + frame.rails[row] + (field - long) // 2
            for column in range(len(self.columns)):
                for nth, (start, end) in enumerate(self.openings(column, count)):
                    own, place = self.panel_name(row, column, nth, count)
                    at = (start + (end - start - wide) // 2 + wide, top, panel.set_back)
                    made = self.part(self.setting.part + own, place, Placement(UPRIGHT, at))
                    sizes.setdefault((wide, long), []).append(made)
                    self.meet_rails(own, row, column, panel.ends, lettered=False, shoulder=panel.ends)
                    self.meet_uprights(own, row, column, nth, count, panel.beside)
        tongue = (groove.depth, groove.offset - panel.set_back, groove.width)
        faces = (("top", Face.DATUM_END), ("bottom", Face.FAR_END), (high, Face.FACE_EDGE), (low, Face.FAR_EDGE))
        features = [trade.Tongue(name, face, *tongue) for name, face in faces]
        for nth, ((wide, long), parts) in enumerate(sizes.items()):
            key = f"{self.key}panel" + (f"-{nth + 1}" if len(sizes) > 1 else "")
            stock = Stock(panel.thickness, wide, long)
            self.line(key, "Panel", stock, "top", high, features, parts, panel)

    def panel_width(self, panel: Panel, muntins: int, nth: int) -> Length:
        groove, work = self.groove, self.work
        assert groove
        suffix = f"-{nth + 1}" if nth else ""
        opening = self.column
        if muntins:
            opening = work.length(
                f"{self.key}opening{suffix}", "opening", plus("between the uprights", self.column),
                minus("muntin", self.frame.muntin, muntins), over=muntins + 1,
            )  # fmt: skip
        return work.length(
            f"{self.key}panel.width{suffix}", "panel", plus("opening", opening), plus("groove", groove.depth, 2),
            minus("clearance", panel.beside, 2),
        )  # fmt: skip

    def meet_uprights(self, own: str, row: int, column: int, nth: int, count: int, clear: Length) -> None:
        """The two long edges of a panel, in a muntin or in what stands at the side."""
        low, high = self.setting.ends
        stands = {at: name for at_column, at, name in self.each_muntin(row, count) if at_column == column}
        mates = self.columns[column].mates
        before = f"{self.setting.part}{stands[nth - 1]}/{high}" if nth else None
        after = f"{self.setting.part}{stands[nth]}/{low}" if nth < count else None
        here = self.columns[column]
        for end, taken in (
            (low, before or f"{mates[0]}/{self.pocket(here, 0, 'panel')}"),
            (high, after or f"{mates[1]}/{self.pocket(here, 1, 'panel')}"),
        ):
            self.out.meet(f"{self.key}{own}-{end}", f"{self.setting.part}{own}/{end}", taken, clear, clear, False)

    def stiles(self) -> None:
        """The stiles of its own: the two outer ones are a pair, mirror images of each other, if they are as wide."""
        frame, names = self.frame, self.stile_names()
        low, high = self.setting.ends
        starts = [0, *(column.high for column in self.columns)]
        made = []
        for nth, (name, wide, start) in enumerate(zip(names, frame.stiles, starts, strict=True)):
            last = nth == len(names) - 1
            stands = Placement(MIRROR, (start, 0, 0)) if last else Placement(UPRIGHT, (start + wide, 0, 0))
            made.append(self.part(self.setting.part + name, name.removeprefix("stile-"), stands))
        length = self.work.length(f"{self.key}stile.length", "stile", plus("height", self.height))
        outer = [([made[0], made[-1]], "stile")]
        if frame.stiles[0] != frame.stiles[-1]:
            outer = [([made[0]], f"stile-{low}"), ([made[-1]], f"stile-{high}")]
        for parts, key in outer:
            wide = frame.stiles[0 if parts[0] is made[0] else -1]
            self.line(self.key + key, "Stile", Stock(frame.thickness, wide, length), "top", "inside", [], parts)
        for part, name, wide in list(zip(made, names, frame.stiles, strict=True))[1:-1]:
            stock = Stock(frame.thickness, wide, length)
            self.line(self.key + name, "Stile", stock, "top", high, [], [part])

    def grooves(self, groove: Groove) -> None:
        """The grooves in the uprights: from the bottom of the upper rail's groove to that of the lower one's."""
        top = 0 if self.stub else self.tops[0] + self.frame.rails[0] - groove.depth
        bottom = self.height if self.stub else self.tops[-1] + groove.depth
        across = (groove.offset, groove.offset + groove.width)
        for column in self.columns:
            spans = ((column.low - groove.depth, column.low, "-X"), (column.high, column.high + groove.depth, "+X"))
            for side, (start, end, way) in enumerate(spans):
                box = Box(start, end, top, bottom, *across)
                self.cut(column.mates[side], self.pocket(column, side, "panel"), trade.Groove, box, way)

    # --- small things

    def pocket(self, column: _Column, side: int, name: str) -> str:
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

    def panel_name(self, row: int, column: int, nth: int, count: int) -> tuple[str, str]:
        """The key and the place of a panel: by its end if there are two beside each other, by numbers if more."""
        place, across = self.setting.place, (count + 1) * len(self.columns)
        at = column * (count + 1) + nth
        if len(self.fields) == 1 and across == 1:
            return "panel", place
        if len(self.fields) == 1 and across == 2:
            end = self.setting.ends[at]
            return f"panel-{end}", f"{place} {end}"
        if across == 1:
            return f"panel-{row + 1}", f"{place}, field {row + 1}"
        return f"panel-{row + 1}-{at + 1}", f"{place}, field {row + 1}, {at + 1} from the {self.setting.ends[0]}"

    def middle(self, own: str, count: int) -> str:
        numbers = own.removeprefix("muntin").lstrip("-")
        return f"{self.setting.place}, " + (f"muntin {numbers}" if numbers else "middle")

    def of(self, columns: Sequence[_Column], count: int) -> str:
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
