"""How are two typed lines joined?  Sizes proposed by the trade's rules, and both cuts; pairing.py letters the parts.

Nothing says where typed parts stand, so they are stood against each other (abutment.py) and the one definition of the
joint gives both halves.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

from . import proposal
from .abutment import Abutment
from .corner_joint import BridleJoint, DovetailJoint, HalfLapJoint
from .cutters import Cutters
from .fault import Fault
from .fit import FLUSH, Fit
from .habit import PRINTED, Habits
from .haunch import Corner, corner_of
from .joint import BadJoint, LooseTenonJoint, Member, MortiseAndTenon, Pair, TongueJoint, housed
from .length import INCH, MM, Length
from .part import EDGES, ENDS, FACES, Bridle, Face, Line, Unit
from .proportions import FIT_THICKNESS, FIT_WIDTH, MORTISE_EXTRA, TENON_SHARE, nearest_cutter, tenon_thickness
from .proposal import dovetails, mortise_and_tenon, shelf_in_dado, tongue_in_groove
from .rounding import told
from .species import is_softwood

__all__ = ["Definition", "Joining", "Kind", "doubts", "numbered", "proposed", "refitted"]

Definition = MortiseAndTenon | LooseTenonJoint | TongueJoint | DovetailJoint | HalfLapJoint | BridleJoint


class Kind(StrEnum):
    """The joints that two parts can be given, by the trade's names."""

    MORTISE_AND_TENON = "mortise and tenon"
    LOOSE_TENON = "loose tenon"
    TONGUE = "tongue in a groove or dado"
    HOUSED = "whole end in a dado"
    DOVETAILS = "dovetails"
    HALF_LAP = "half lap"
    BRIDLE = "bridle"


@dataclass(frozen=True)
class Joining:
    """What is to be joined: the line whose end comes, its mate's line, how they meet, and by which joint.

    `through` takes a tenon right through; `haunch` haunches it, at the end of its mate; `lap` is the wood that is left
    in front of half-blind dovetails; `past` is how far beyond the mate the end of a part stands that crosses it.
    """

    kind: Kind
    comes: Line
    mate: Line
    meets: Abutment
    through: bool = False
    lap: Length = 0
    haunch: bool = False
    past: Length = 0

    def stands(self) -> Abutment:
        """How they meet, with what the kind of joint settles."""
        if self.kind is Kind.DOVETAILS:
            # Tails sit at one end of the mate, however far from the other they were said to be.
            far = self.meets.at > self.mate.length // 2
            return replace(self.meets, across=True, at=self.mate.length - self.comes.thickness if far else 0)
        return self.meets

    def deep(self, joint: Definition) -> Length:
        """How far the end reaches below the surface of the mate."""
        thick = self.mate.thickness if self.meets.face in FACES else self.mate.width
        match joint:
            case MortiseAndTenon() | TongueJoint():
                return joint.length
            case LooseTenonJoint():
                return 0
            case DovetailJoint():
                if self.lap >= thick:
                    raise BadJoint("the lap leaves nothing for the tails", "Leave less wood in front of them.")
                return thick - self.lap
            case HalfLapJoint():
                return thick + self.past
            case _:
                return thick

    def made(self, joint: Definition, *, same_hand: bool = True, unit: Unit = Unit.INCH) -> Pair:
        """Both halves, for two parts of one hand or of opposite hands.  Raises BadJoint."""
        comes, mate = self.stands().members(self.comes.stock, self.mate.stock, self.deep(joint), same_hand=same_hand)
        # A bridle's tongue is on the part that the end comes to.
        if isinstance(joint, BridleJoint):
            pair = joint.made(mate, comes)
            _cheeks_covered(pair, mate, comes, unit)
            return pair
        return joint.made(comes, mate)

    def corner(self, unit: Unit, habits: Habits = PRINTED) -> Corner | None:
        """The corner where its tenon is haunched; None without a haunch.  Raises BadJoint if it is no corner."""
        if not (self.haunch and self.kind is Kind.MORTISE_AND_TENON):
            return None
        comes, mate = self.stands().members(self.comes.stock, self.mate.stock, 0)
        return corner_of((comes, self.comes.features), (mate, self.mate.features), self.meets.face, unit, habits)

    def ends_there(self) -> bool:
        """Whether the part that comes ends in or at its mate, and does not go on past it."""
        return self.kind is not Kind.HALF_LAP or not self.past


# --- proposals ---------------------------------------------------------------------------------------------------

_NAMES = {
    Kind.MORTISE_AND_TENON: ("tenon", "mortise"), Kind.LOOSE_TENON: ("loose", "loose"),
    Kind.TONGUE: ("tongue", "groove"), Kind.HOUSED: ("end", "dado"), Kind.DOVETAILS: ("tails", "pins"),
    Kind.HALF_LAP: ("lap", "lap"), Kind.BRIDLE: ("slot", "bridle"),
}  # fmt: skip
"""What the cuts are called in their lines: of the part that comes, of its mate."""


def proposed(
    joining: Joining, cutters: Cutters, unit: Unit, habits: Habits = PRINTED, species: str = ""
) -> tuple[Definition, ...]:  # fmt: skip
    """The sizes that the trade would give the joint, by the shop's habits and fitted to its cutters; two for a wide
    rail.  `species` is the wood of lines that name none.

    Raises BadJoint or BadProportion where no wood is left.
    """
    own, other = (_fresh(name, line) for name, line in
                  zip(_NAMES[joining.kind], (joining.comes, joining.mate), strict=True))  # fmt: skip
    meets = joining.stands()
    comes, mate = meets.members(joining.comes.stock, joining.mate.stock, 0)
    fit = Fit(habits.of(FIT_THICKNESS, unit), habits.of(FIT_WIDTH, unit), habits.of(MORTISE_EXTRA, unit))
    flush = fit._replace(depth=FLUSH.depth)
    step = MM if unit is Unit.MM else INCH // 16
    widths = cutters.mortising
    if joining.kind in (Kind.MORTISE_AND_TENON, Kind.LOOSE_TENON, Kind.HOUSED, Kind.HALF_LAP, Kind.BRIDLE):
        _an_end(meets.end, joining.kind)
    _reaches(joining, unit)
    match joining.kind:
        case Kind.MORTISE_AND_TENON:
            corner = joining.corner(unit, habits)
            groove, groove_at = (corner.grooved, corner.inner) if corner else (0, Face.FAR_EDGE)
            tenons = mortise_and_tenon(
                own, other, meets.end, comes, mate, widths, groove=groove, groove_at=groove_at, through=joining.through,
                fit=fit, step=step, unit=unit, habits=habits,
            )  # fmt: skip
            return corner.proposed(tenons, step, unit, habits) if corner else tenons
        case Kind.LOOSE_TENON:
            tenons = mortise_and_tenon(
                own, other, meets.end, comes, mate, widths, fit=fit, step=step, unit=unit, habits=habits
            )
            return tuple(
                LooseTenonJoint(each.tenon, each.mortise, each.end, each.offset, each.thickness, each.edge_offset,
                                each.width, each.length, each.length, fit)
                for each in tenons
            )  # fmt: skip
        case Kind.TONGUE:
            gap = fit.depth
            return (
                tongue_in_groove(
                    own, other, meets.end, comes, cutters.grooving, gap=gap, fit=fit, unit=unit, habits=habits
                ),
            )
        case Kind.HOUSED:
            return (shelf_in_dado(own, other, meets.end, comes, mate, flush, unit, habits),)
        case Kind.DOVETAILS:
            _an_end(meets.end, joining.kind)
            pins_end = Face.FAR_END if meets.at else Face.DATUM_END
            width = min(joining.comes.width, joining.mate.width)
            soft = any(is_softwood(line.species or species) for line in (joining.comes, joining.mate))
            return (dovetails(own, other, meets.end, pins_end, width, hardwood=not soft, unit=unit, habits=habits),)
        case Kind.HALF_LAP:
            # A part on edge is cut into an edge: behind its back and its face side lies the length of the mate.
            return (HalfLapJoint(own, other, Face.FAR_EDGE if meets.across else Face.BACK),)
        case Kind.BRIDLE:
            on_edge = meets.face in EDGES
            stock = joining.mate.thickness if on_edge else joining.mate.width
            # Its cheeks are sawn and the waste is chopped out, or a stack runs through: any width that is owned.
            wanted = tenon_thickness(min(stock, joining.comes.thickness), habits.of(TENON_SHARE, unit))
            thickness = nearest_cutter(wanted, cutters.widths)
            counted = Face.FACE_SIDE if on_edge else Face.FACE_EDGE
            return (BridleJoint(other, own, meets.end, (stock - thickness) // 2, thickness, flush, counted),)


def doubts(
    joining: Joining, joints: Iterable[Definition], unit: Unit, habits: Habits = PRINTED
) -> tuple[Fault, ...]:  # fmt: skip
    """What is unusual about these sizes, each said once; it can be made all the same."""
    comes, mate = joining.stands().members(joining.comes.stock, joining.mate.stock, 0)
    found = (
        proposal.doubts(joint.thickness, comes, mate, unit, habits)
        for joint in joints if isinstance(joint, MortiseAndTenon | LooseTenonJoint)
    )  # fmt: skip
    return tuple(dict.fromkeys(fault for each in found for fault in each))


def refitted(
    joining: Joining, joint: Definition, fit: Fit, unit: Unit = Unit.INCH, habits: Habits = PRINTED
) -> Definition:  # fmt: skip
    """The same joint with another fit; a housed end's dado is as much wider than the shelf, a haunched tenon begins
    where its haunch ends."""
    if joining.kind is Kind.HOUSED and isinstance(joint, TongueJoint):
        return housed(joint.tongue, joint.channel, joint.along, joint.length, joining.comes.stock, fit)
    if isinstance(joint, DovetailJoint | HalfLapJoint):
        return joint
    corner = joining.corner(unit, habits) if isinstance(joint, MortiseAndTenon) and joint.haunch_length else None
    fitted = replace(joint, fit=fit)
    return corner.settled(fitted) if corner and isinstance(fitted, MortiseAndTenon) else fitted


def _reaches(joining: Joining, unit: Unit) -> None:
    """Raises BadJoint where a part that goes on past its mate cannot."""
    if not joining.past:
        return
    if joining.kind is Kind.BRIDLE:
        raise BadJoint(
            "a bridle's slot is open at the end that comes, and this end goes on past the mate",
            "Let it end at the mate (0 past it), or cross the two by a half lap.",
        )
    most = joining.comes.length - (joining.mate.thickness if joining.meets.face in FACES else joining.mate.width)
    if joining.kind is Kind.HALF_LAP and joining.past > most:
        do = f"It reaches {told(most, unit)} past it at most." if most >= 0 else "Take a longer part."
        raise BadJoint(f"no {told(joining.past, unit)} of the part are left past its mate", do)


def _cheeks_covered(pair: Pair, tongue: Member, slotted: Member, unit: Unit) -> None:
    """Raises BadJoint where the wood beside a bridle's tongue goes away and nothing comes there: a rail that is thinner
    than the leg it straddles."""
    body = tongue.stands.own(slotted.block())
    for cut in pair.enters:
        for cheek in cut.cheeks(tongue.stock) if isinstance(cut, Bridle) else ():
            low = 4 if cut.face in FACES else 2
            bare = max(body[low] - cheek[low], cheek[low + 1] - body[low + 1])
            if bare > 0:
                thick = tongue.stock.thickness if low == 4 else tongue.stock.width
                raise BadJoint(
                    f"the mate is cut away beside its tongue, and {told(bare, unit)} of that would lie open",
                    f"Let a part come that is {told(thick, unit)} thick, or join the mate's end to this part instead.",
                )


def _an_end(end: Face, kind: Kind) -> None:
    if end not in ENDS:
        raise BadJoint(f"a joint by {kind} is at an end, not at the {end}", "Let an end of the part come.")


def _fresh(name: str, line: Line) -> str:
    taken = {each.key for each in line.features}
    # The second tenon of a wide rail is called by the first with "-2".
    nth = next(
        nth for nth in range(1, 2 * len(taken) + 3) if not {numbered(name, nth), f"{numbered(name, nth)}-2"} & taken
    )
    return numbered(name, nth)


def numbered(name: str, nth: int) -> str:
    """The key of the nth of those that are called alike."""
    return name if nth == 1 else f"{name}-{nth}"
