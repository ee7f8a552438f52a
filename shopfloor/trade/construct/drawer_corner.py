"""How does a drawer's side meet its front?  A tongue in a dado, the whole end in a rabbet, or half-blind dovetails.

The side enters from behind, along the drawer's depth.  What the front takes it in is measured from where the side's
inner face meets it, `inner` from the front's datum end.
"""

from __future__ import annotations

from ..dovetail import BadDovetail
from ..length import Length
from ..part import Dado, Face, Feature, Pins, Rabbet, Tails, Tongue
from .corner_proposal import division_of, most_tails
from .derived import Impossible, Working
from .drawer_choices import Corner, CornerJoint

__all__ = ["check", "check_tails", "covered", "front_cuts", "side_end"]


def check(corner: CornerJoint, front: Length, side: Length, reach: Length, key: str, work: Working) -> None:
    """Refuse a corner that the front or the side has no wood for; `reach` is how far an overlay goes past the box."""
    work.less_than(f"{key}corner.depth", "a cut", corner.depth, front, f"for a front {work.size(front)} thick")
    if corner.kind is Corner.TONGUE:
        work.at_most(f"{key}corner.tongue", "a tongue", corner.tongue, side, f"for a side {work.size(side)} thick")
        work.at_least(f"{key}corner.tongue", "a tongue", corner.tongue, 1, "to hold")
    else:
        work.at_most(
            f"{key}corner", "reaching past the sides by", reach, 0, f"for a {corner.kind}, which lies at the end"
        )
    if corner.kind is Corner.DOVETAIL and corner.clear:
        what = f"a clearance of {work.size(corner.clear)} is too much for dovetails, which fill their sockets"
        raise Impossible(what, where=f"{key}corner.clear", do="0 would do.")


def check_tails(corner: CornerJoint, groove: tuple[Length, Length], high: Length, where: str, work: Working) -> None:
    """Refuse dovetails that do not go into a drawer `high`, or whose pins are in the way of the bottom's
    `groove`: where it begins above the lower edge, and its width."""
    if corner.kind is not Corner.DOVETAIL:
        return
    try:
        tails = division_of(corner, high)
    except BadDovetail as err:
        raise Impossible(err.what, where=where, do=_fewer(corner, groove, high, work)) from err
    low, top = groove[0], sum(groove)
    if not any(tail.base_start <= low and top <= tail.base_end for tail in tails):
        least, most = work.tidy(tails[0].base_start), work.tidy_down(tails[0].base_end)
        do = f"Between {work.size(least)} and {work.size(most)} from the lower edge would do."
        half_pin = work.tidy_down(corner.half_pin - (tails[0].base_start - low))
        if half_pin > 0 and tails[0].base_start > low:
            do = f"Half pins {work.size(half_pin)} wide would do; or a groove between {do[8:]}"
        raise Impossible("the bottom's groove would come out through a pin", where=where, do=do)


def _fewer(corner: CornerJoint, groove: tuple[Length, Length], high: Length, work: Working) -> str:
    """What would do for dovetails that leave no wood for the tails."""
    if count := most_tails(corner, groove, high):
        return f"{count} tail{'s' if count > 1 else ''} would do in a drawer {work.size(high)} high."
    least = 2 * (corner.half_pin + corner.depth // corner.slope) + groove[1]
    return f"A drawer more than {work.size(work.tidy(least))} high would hold one tail; or take narrower half pins."


def covered(corner: CornerJoint, side: Length) -> Length:
    """How far from the side's inner face the front is cut away, at the height of the bottom's groove."""
    return corner.tongue if corner.kind is Corner.TONGUE else side


def front_cuts(
    corner: CornerJoint, inner: Length, front: Length, side: Length, across: tuple[Length, Length] = (0, 0),
    more: Length = 0,
) -> tuple[Feature, Feature]:  # fmt: skip
    """What a front `front` long takes the left and the right side in; a dado is so much `more` wide, outwards.

    `across` is where the sides stand on a front that is higher than they are: from its lower edge, and how high.
    """
    match corner.kind:
        case Corner.TONGUE:
            wide = min(corner.tongue + more, inner)
            return (
                Dado("left", Face.FACE_SIDE, inner - wide, wide, corner.depth),
                Dado("right", Face.FACE_SIDE, front - inner, wide, corner.depth),
            )
        case Corner.RABBET:
            return (
                Rabbet("left", Face.FACE_SIDE, Face.DATUM_END, inner, corner.depth),
                Rabbet("right", Face.FACE_SIDE, Face.FAR_END, inner, corner.depth),
            )
        case Corner.DOVETAIL:
            size = (side, corner.count, corner.pin, corner.half_pin, corner.depth, corner.slope, *across)
            return (
                Pins("left", Face.DATUM_END, Face.FACE_SIDE, *size),
                Pins("right", Face.FAR_END, Face.FACE_SIDE, *size),
            )


def side_end(corner: CornerJoint, enters: Length, side: Length, tongue: tuple[Length, Length]) -> Feature:
    """What a side `side` thick enters the front with, at its datum end; a `tongue` lies so far behind its face side
    and is so thick."""
    match corner.kind:
        case Corner.TONGUE:
            return Tongue("front", Face.DATUM_END, enters, *tongue)
        case Corner.RABBET:
            return Tongue("front", Face.DATUM_END, enters, 0, side, note="The whole end.")
        case Corner.DOVETAIL:
            return Tails("front", Face.DATUM_END, enters, corner.count, corner.pin, corner.half_pin, corner.slope)
