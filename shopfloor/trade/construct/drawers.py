"""How big are the five parts of a drawer?  A box for each opening, inset or with an overlay.

A drawer is laid out from the left lower front corner of its box: X to the right, Y to the back, Z up.
Sources: geometry; clearances by case_joints.py.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from ..length import Length
from ..part import Assembly, Dado, Face, Feature, Groove, Line, Part, Placement, Tongue, Unit
from .clearances import wider
from .corner_proposal import completed, printed, with_tails
from .derived import Impossible, Term, Working, minus, plus
from .drawer_choices import Corner, CornerJoint, Drawers, Overlay
from .drawer_corner import check, check_tails, covered, front_cuts, side_end
from .made import Gathered, part_of
from .opening import Opening

__all__ = ["ON_NOTHING", "apart", "drawers", "holds"]


def drawers(
    chosen: Drawers, openings: Sequence[Opening], number: int, work: Working, species: str, prefix: str = "",
    deep: str = "web frame",
) -> Gathered:  # fmt: skip
    """A drawer for each opening, in stacks from `number` on; `deep` says what its depth comes from.  Raises Impossible.

    The openings are equally wide and deep; heights may differ.
    """
    box = _Box(chosen, openings[0], work, species, prefix, deep)
    if chosen.overlay:
        apart(chosen.overlay, openings, f"{prefix}drawer.overlay", work)
        beside = openings[0].at[0]
        if beside:  # an opening that is there already says nothing of what is beside it
            work.at_most(f"{prefix}drawer.overlay.beside", "reaching over by", chosen.overlay.beside, beside,
                         f"with {work.size(beside)} of the case beside the opening")  # fmt: skip
    out = Gathered()
    for opening in openings:
        box.drawer(opening, number + opening.number - 1, out)
    return out


def holds(opening: Opening, chosen: Drawers, unit: Unit) -> bool:
    """Whether a drawer can be made for an opening."""
    try:
        drawers(chosen, [opening], 1, Working(unit), "")
    except Impossible:
        return False
    return True


def apart(lay: Overlay, openings: Sequence[Opening], where: str, work: Working) -> None:
    """Refuse fronts that reach over each other; the openings run from the top."""
    between = [upper.at[2] - lower.at[2] - lower.height for upper, lower in pairwise(openings)]
    if between:
        work.at_most(where, "reaching above and below by", lay.above + lay.below, min(between),
                     f"for fronts with {work.size(min(between))} between their openings")  # fmt: skip


ON_NOTHING = ("drawers run on web frames, and there are none", "Choose web frames too, or leave the drawers out.")
"""What is wrong, and what would do, where nothing carries drawers."""


class _Box:
    """What all drawers of a case share: everything but the height."""

    def __init__(
        self, chosen: Drawers, opening: Opening, work: Working, species: str, prefix: str, deep: str
    ) -> None:  # fmt: skip
        self.customs = printed(work.unit)
        corner = completed(chosen.corner, chosen.front, chosen.side, chosen.bottom, self.customs)
        self.corners: dict[Length, CornerJoint] = {}
        chosen = replace(chosen, corner=corner)
        self.chosen, self.work, self.species, self.prefix = chosen, work, species, prefix
        self.key = f"{prefix}drawer."
        self.heights: dict[Length, tuple[Length, Length, Length]] = {}
        self.set_back = opening.at[1]
        self.check()
        lay, back = chosen.overlay, chosen.back_joint
        self.width = self.length(
            "width", "drawer", plus("opening", opening.width), minus("clearance", chosen.beside, 2)
        )
        self.inside = self.length("inside", "inside", plus("drawer", self.width), minus("side", chosen.side, 2))
        before = chosen.front if lay else 0
        self.depth = self.length("depth", "drawer", plus(deep, opening.depth), plus("front", before),
                                 minus("clearance behind", chosen.behind))  # fmt: skip
        if lay:
            self.front = self.length("front.length", "front", plus("opening", opening.width),
                                     plus("overlay", lay.beside, 2))  # fmt: skip
        elif chosen.front_gap:
            self.front = self.length("front.length", "front", plus("opening", opening.width),
                                     minus("gap", chosen.front_gap, 2))  # fmt: skip
        else:
            self.front = self.length("front.length", "front", plus("drawer", self.width))
        self.reach = (self.front - self.width) // 2
        work.at_least(f"{self.key}front.length", "a front", self.front, self.width, "to hold the sides")
        check(corner, chosen.front, chosen.side, self.reach, self.key, work)
        self.enter = self.length("enter", "the side enters", plus("cut in the front", corner.depth),
                                 minus("clearance", corner.clear))  # fmt: skip
        self.side = self.length("side.length", "side", plus("drawer", self.depth), minus("front", chosen.front),
                                plus("what enters the front", self.enter))  # fmt: skip
        tongue = self.length("back.tongue", "tongue", plus("dado", back.depth), minus("clearance", back.clear))
        self.tongue = tongue
        self.back = self.length("back.length", "back", plus("inside", self.inside), plus("tongue", tongue, 2))
        bottom = chosen.bottom
        self.held = self.length("bottom.held", "the bottom enters", plus("groove", bottom.depth),
                                minus("clearance", bottom.clear))  # fmt: skip
        # The bottom's front corners lie where the sides enter the front, in the grooves of the sides.
        most = min(corner.depth, covered(corner, chosen.side))
        work.at_most(
            f"{self.key}bottom.held", "a bottom that enters", self.held, most, "where the sides enter the front"
        )
        self.bottom = self.length("bottom.length", "bottom", plus("inside", self.inside), plus("tongue", self.held, 2))
        self.bottom_width = self.length(
            "bottom.width", "bottom", plus("drawer", self.depth), minus("front", chosen.front),
            minus("behind the back", back.ahead), plus("tongue", self.held),
        )  # fmt: skip
        self.back_at = self.depth - back.ahead - chosen.back
        self.ease()

    def ease(self) -> None:
        """What enters, by the fit.  A whole end (a side, a back, a bottom without rabbets) has no cheek to take
        anything off, so what takes it is wider."""
        chosen, back, bottom, gap = self.chosen, self.chosen.back_joint, self.chosen.bottom, self.work.fit.groove
        self.corner_wider = self.back_wider = self.bottom_wider = 0
        self.corner_lies, self.back_lies = (0, chosen.corner.tongue), (0, back.tongue)
        self.bottom_lies = (0, bottom.width)
        if chosen.corner.kind is Corner.TONGUE:
            self.corner_wider = wider(chosen.corner.tongue, chosen.side, gap)
            if not self.corner_wider:
                self.corner_lies = self.eased("side.tongue", "dado", chosen.corner.tongue, chosen.side)
        self.back_wider = min(wider(back.tongue, chosen.back, gap), back.ahead)
        if back.tongue < chosen.back:
            self.back_lies = self.eased("back.tongue-thickness", "dado", back.tongue, chosen.back)
        self.bottom_wider = min(wider(bottom.width, bottom.thickness, gap), bottom.up)
        if bottom.width < bottom.thickness:
            self.bottom_lies = self.eased("bottom.tongue", "groove", bottom.width, bottom.thickness)

    def eased(self, key: str, cut: str, thickness: Length, stock: Length) -> tuple[Length, Length]:
        return self.work.eased(self.key + key, "tongue", cut, 0, thickness, stock)

    def check(self) -> None:
        chosen, work, key = self.chosen, self.work, self.key
        back, bottom = chosen.back_joint, chosen.bottom
        side = f"for a side {work.size(chosen.side)} thick"
        work.less_than(f"{key}bottom.depth", "a groove", bottom.depth, min(chosen.front, chosen.side), side)
        work.less_than(f"{key}back-joint.depth", "a dado", back.depth, chosen.side, side)
        work.at_most(f"{key}back-joint.tongue", "a tongue", back.tongue, chosen.back, "for the back")
        work.at_least(f"{key}bottom.thickness", "a bottom", bottom.thickness, bottom.width, "for its groove")
        work.at_most(f"{key}bottom.thickness", "a bottom", bottom.thickness, bottom.up + bottom.width,
                     "to stay above the lower edge of the sides")  # fmt: skip
        work.at_least(f"{key}back-joint.ahead", "standing ahead by", back.ahead, 0, "")
        if chosen.overlay and self.set_back:
            work.at_most(f"{key}overlay.beside", "reaching over the legs by", chosen.overlay.beside, 0,
                         f"where they stand {work.size(self.set_back)} before the front")  # fmt: skip

    def length(self, key: str, name: str, *terms: Term) -> Length:
        return self.work.length(self.key + key, name, *terms)

    def height(self, opening: Opening) -> tuple[Length, Length, Length]:
        """The heights of the box, of its back and of its front."""
        if opening.height not in self.heights:
            suffix = f"-{len(self.heights) + 1}" if self.heights else ""
            chosen, bottom, lay = self.chosen, self.chosen.bottom, self.chosen.overlay
            high = self.length(f"height{suffix}", "drawer", plus("opening", opening.height),
                               minus("clearance above", chosen.above))  # fmt: skip
            back = self.length(
                f"back.width{suffix}", "back", plus("drawer", high), minus("groove up", bottom.up),
                minus("groove", bottom.width), minus("lower at the top", chosen.back_joint.lower),
            )  # fmt: skip
            terms = [plus("drawer", high)]
            if lay:
                terms = [plus("opening", opening.height), plus("overlay above", lay.above),
                         plus("overlay below", lay.below)]  # fmt: skip
            front = self.length(f"front.width{suffix}", "front", *terms)
            self.corners[high] = with_tails(chosen.corner, self.groove, high, self.customs)
            check_tails(self.corners[high], self.groove, high, f"{self.key}corner", self.work)
            self.heights[opening.height] = high, back, front
        return self.heights[opening.height]

    def drawer(self, opening: Opening, number: int, out: Gathered) -> None:
        chosen, lay = self.chosen, self.chosen.overlay
        high, low_back, wide = self.height(opening)
        nth = opening.number
        x, y, z = opening.at
        at = (x + (opening.width - self.width) // 2, y - (chosen.front if lay else 0), z)
        assembly = Assembly(f"{self.prefix}drawer-{nth}", number, f"Drawer {nth}", stands=Placement(at=at))
        out.assemblies.append(assembly)
        place = f"drawer {nth}"
        self.add_front(out, assembly, place, nth, wide, high)
        self.add_sides(out, assembly, place, nth, high)
        back = Placement("+X -Z +Y", ((self.width - self.back) // 2, self.back_at, high - chosen.back_joint.lower))
        tongue = (self.tongue, *self.back_lies)
        ends = (Tongue("left", Face.DATUM_END, *tongue), Tongue("right", Face.FAR_END, *tongue))
        self.line(out, assembly, "back", "Drawer back", (chosen.back, low_back, self.back), chosen.side_species,
                  ("left", "top"), ends, [self.part(nth, "back", place, back)])  # fmt: skip
        self.add_bottom(out, assembly, place, nth)
        self.joints(out, nth)

    def add_front(self, out: Gathered, assembly: Assembly, place: str, nth: int, wide: Length, high: Length) -> None:
        chosen, lay, bottom = self.chosen, self.chosen.overlay, self.chosen.bottom
        below = lay.below if lay else 0
        stands = Placement("+X +Z -Y", (-self.reach, chosen.front, -below))
        inner = self.reach + chosen.side
        across = (0, 0) if wide == high else (below, high)
        ends = front_cuts(self.corners[high], inner, self.front, chosen.side, across, self.corner_wider)
        up, broad = self.groove
        groove = Groove("bottom", Face.FACE_SIDE, below + up, broad, bottom.depth, inner, self.inside)
        self.line(out, assembly, "front", "Drawer front", (chosen.front, wide, self.front),
                  chosen.front_species or self.species, ("left", "bottom"), (*ends, groove),
                  [self.part(nth, "front", place, stands)], group=f"{self.prefix}drawer fronts")  # fmt: skip

    def add_sides(self, out: Gathered, assembly: Assembly, place: str, nth: int, high: Length) -> None:
        chosen, back, bottom = self.chosen, self.chosen.back_joint, self.chosen.bottom
        features = (
            side_end(self.corners[high], self.enter, chosen.side, self.corner_lies),
            Dado("back", Face.FACE_SIDE, self.back_at - self.start, back.tongue + self.back_wider, back.depth),
            Groove("bottom", Face.FACE_SIDE, *self.groove, bottom.depth),
        )
        left = Placement("+Y +Z -X", (chosen.side, self.start, 0))
        right = Placement("+Y +Z +X", (self.width - chosen.side, self.start, 0))
        parts = [
            self.part(nth, "side-left", f"{place} left", left),
            self.part(nth, "side-right", f"{place} right", right),
        ]
        self.line(out, assembly, "side", "Drawer side", (chosen.side, high, self.side), chosen.side_species,
                  ("front", "bottom"), features, parts)  # fmt: skip

    @property
    def groove(self) -> tuple[Length, Length]:
        """How far above the lower edge the bottom's groove begins, and its width."""
        return self.chosen.bottom.up - self.bottom_wider, self.chosen.bottom.width + self.bottom_wider

    @property
    def start(self) -> Length:
        """Where the sides begin, from the front of the front."""
        return self.chosen.front - self.enter

    def add_bottom(self, out: Gathered, assembly: Assembly, place: str, nth: int) -> None:
        chosen, bottom = self.chosen, self.chosen.bottom
        right = (self.width - self.bottom) // 2 + self.bottom
        stands = Placement("-X +Y -Z", (right, chosen.front - self.held, bottom.up + bottom.width))
        tongue = (bottom.depth, *self.bottom_lies)
        features = (
            Tongue("right", Face.DATUM_END, *tongue),
            Tongue("left", Face.FAR_END, *tongue),
            Tongue("front", Face.FACE_EDGE, *tongue),
        )
        self.line(out, assembly, "bottom", "Drawer bottom", (bottom.thickness, self.bottom_width, self.bottom),
                  chosen.bottom_species, ("right", "front"), features, [self.part(nth, "bottom", place, stands)],
                  note=bottom.note)  # fmt: skip

    def joints(self, out: Gathered, nth: int) -> None:
        chosen = self.chosen
        key, own = f"{self.prefix}drawer-{nth}", f"{self.prefix}drawer.{nth}"
        for side in ("left", "right"):
            out.meet(f"{key}-front-{side}", f"{own}.side-{side}/front", f"{own}.front/{side}", chosen.corner.clear)
        for side in ("left", "right"):
            out.meet(f"{key}-back-{side}", f"{own}.back/{side}", f"{own}.side-{side}/back", chosen.back_joint.clear)
        for end, mate in (("front", "front"), ("left", "side-left"), ("right", "side-right")):
            clear = chosen.bottom.clear
            out.meet(f"{key}-bottom-{end}", f"{own}.bottom/{end}", f"{own}.{mate}/bottom", clear, clear, False)

    def part(self, nth: int, key: str, place: str, stands: Placement) -> Part:
        return part_of(f"{self.prefix}drawer.{nth}.{key}", place, stands)

    def line(
        self, out: Gathered, assembly: Assembly, key: str, name: str, size: tuple[Length, Length, Length], species: str,
        looks: tuple[str, str], features: Sequence[Feature], parts: Sequence[Part], group: str = "", note: str = "",
    ) -> None:  # fmt: skip
        out.lines.append(Line(
            f"{assembly.key}-{key}", assembly.key, name, *size, species=species, datum=looks[0], face_side="inside",
            face_edge=looks[1], group=group, note=note, features=tuple(features), parts=tuple(parts),
        ))  # fmt: skip
