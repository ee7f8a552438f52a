"""How thick, wide and long is a tenon, and what does its mortise need?  The trade's rules of proportion for frames.

Each rule is a default with its range; a maker overrides any of them.  Functions take the share or the extra as an
argument, so that a shop's own habit goes in; what comes out is rounded once, to a whole nanometre.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import NamedTuple

from ..errors import ShopError
from .fact import CONFIRMED, DERIVED, UNCONFIRMED, AnyFact, Fact, inch, mm, share
from .length import Length
from .sources import (
    BUILDING_TEXT,
    CUSTOM,
    FIT_STUDY,
    FIT_TEST,
    HANDWORK,
    JOINTS_MANUAL,
    MAGAZINE,
)

__all__ = ["FACTS", "BadProportion", "Haunch", "blind_tenon_length", "corner_tenon_width", "face_shoulder",
           "groove_depth", "haunch", "mortise_depth", "nearest_cutter", "tenon_beside", "tenon_into_leg",
           "tenon_thickness", "tenon_width_of_many", "tenon_widths", "through_tenon_length"]  # fmt: skip

TENON_SHARE = Fact(
    key="tenon-share", subject="joints", name="Tenon thickness, equal stock", value=share("1/3"), unit="of the stock",
    range=(share("1/4"), share("1/2")), status=CONFIRMED, source=f"{HANDWORK}; {MAGAZINE}",
    note="Then to the nearest chisel or cutter.",
)  # fmt: skip
TENON_SHARE_INTO_LEG = Fact(
    key="tenon-share-leg", subject="joints", name="Tenon thickness, thin rail into thick leg", value=share("1/2"),
    unit="of the rail", range=(share("1/2"), share("2/3")), status=CONFIRMED, source=MAGAZINE,
)  # fmt: skip
LEG_SHARE = Fact(
    key="tenon-share-leg-most", subject="joints", name="Tenon thickness, at most", value=share("1/3"),
    unit="of the leg", status=CONFIRMED, source=MAGAZINE,
)  # fmt: skip
GROOVE_DEPTH = Fact(
    key="groove-depth", subject="joints", name="Groove of a frame, as deep as wide, at least", value=inch(1, 4),
    range=(inch(1, 4), inch(1, 2)), metric=mm("6"), metric_range=(mm("6"), mm("13")), status=CONFIRMED, source=HANDWORK,
    note="Its width is the tenon's thickness.",
)  # fmt: skip
CORNER_SHARE = Fact(
    key="corner-tenon-share", subject="joints", name="Corner tenon, before the groove is taken off",
    value=share("1/2"), unit="of the rail's width", range=(share("1/2"), share("2/3")), status=CONFIRMED,
    source=f"{HANDWORK}; {BUILDING_TEXT} (2/3)",
)  # fmt: skip
HAUNCH = Fact(
    key="haunch", subject="joints", name="Haunch", unit="",
    value="fills the groove: as long as it is deep, as thick as the tenon",
    status=CONFIRMED, source=HANDWORK, note="Sloped, so that it is hidden, at the corners of tables.",
)  # fmt: skip
WIDEST_TENON = Fact(
    key="tenon-widest", subject="joints", name="Widest single tenon", value=inch(4), metric=mm("100"),
    status=CONFIRMED, source=BUILDING_TEXT, note="A wider one is split in two.",
)  # fmt: skip
DOUBLE_FROM = Fact(
    key="tenon-double-from", subject="joints", name="Rails wider than this get a double tenon", value=inch(7),
    metric=mm("180"), status=CONFIRMED, source=BUILDING_TEXT,
)  # fmt: skip
DOUBLE_GAP = Fact(
    key="tenon-double-gap", subject="joints", name="Gap between double tenons", value=share("1/3"),
    unit="of the rail's width", status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
BLIND_SHARE = Fact(
    key="tenon-blind-length", subject="joints", name="Length of a blind tenon", value=share("2/3"),
    unit="of the stile's width", range=(share("1/2"), share("7/8")), status=UNCONFIRMED,
    source=f"a secondary page; {JOINTS_MANUAL} for 7/8, which is confirmed",
)  # fmt: skip
THROUGH_EXTRA = Fact(
    key="tenon-through-extra", subject="joints", name="Through tenon stands proud, trimmed flush later",
    value=inch(1, 32), range=(0, inch(1, 16)), metric=mm("0.8"), status=CONFIRMED, source=MAGAZINE,
)  # fmt: skip
MORTISE_EXTRA = Fact(
    key="mortise-extra-depth", subject="joints", name="Mortise deeper than its tenon is long", value=inch(1, 16),
    range=(inch(1, 16), inch(1, 8)), metric=mm("1.5"), metric_range=(mm("1.5"), mm("3")), status=CONFIRMED,
    source="two pages on joinery",
)  # fmt: skip
FACE_SHOULDER = Fact(
    key="shoulder-face", subject="joints", name="Face shoulder, where the tenon is not centred", value=inch(1, 4),
    range=(inch(1, 8), inch(3, 8)), metric=mm("6"), status=UNCONFIRMED, source=CUSTOM,
    note="A centred tenon leaves half of what it does not take.",
)  # fmt: skip
EDGE_SHOULDER = Fact(
    key="shoulder-edge", subject="joints", name="Edge shoulder", value=inch(1, 4), range=(inch(1, 8), inch(1, 2)),
    metric=mm("6"), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
HORN = Fact(
    key="horn", subject="joints", name="Horn left on a stile beyond the mortise until glued", value=inch(3, 4),
    range=(inch(1, 2), inch(3, 2)), metric=mm("20"), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
FIT_THICKNESS = Fact(
    key="fit-thickness", subject="joints", name="Gap of a tenon in its mortise, thickness, in all", value=mm("0.0508"),
    range=(mm("-0.1"), mm("0.13")), metric=mm("0.05"), status=CONFIRMED, source=f"{FIT_STUDY}; {FIT_TEST}",
    note="0.002 to 0.005 in.  Strongest at a tight fit of 0.1 mm; a fifth of the strength is lost between a gap of "
         "0.005 and one of 0.010 in.",
)  # fmt: skip
FIT_WIDTH = Fact(
    key="fit-width", subject="joints", name="Gap of a tenon in its mortise, width, in all", value=inch(1, 64),
    range=(0, inch(1, 32)), metric=mm("0.4"), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
GLUE_BOTH = Fact(
    key="glue-both", subject="joints", name="Glue", value="on both the mortise and the tenon", unit="",
    status=CONFIRMED, source=FIT_STUDY,
)  # fmt: skip

FACTS: tuple[AnyFact, ...] = (
    TENON_SHARE, TENON_SHARE_INTO_LEG, LEG_SHARE, GROOVE_DEPTH, CORNER_SHARE, HAUNCH, WIDEST_TENON, DOUBLE_FROM,
    DOUBLE_GAP, BLIND_SHARE, THROUGH_EXTRA, MORTISE_EXTRA, FACE_SHOULDER, EDGE_SHOULDER, HORN, FIT_THICKNESS,
    FIT_WIDTH, GLUE_BOTH,
    Fact(key="shoulder-to-shoulder", subject="joints", name="Length of a rail", unit="", status=DERIVED,
         value="shoulder to shoulder, tenons added after", source=CUSTOM, changeable=False),
)  # fmt: skip


class BadProportion(ShopError):
    """Sizes that leave no wood for the joint."""

    code = "bad-proportion"


def _leaves(size: Fraction | Length, what: str) -> None:
    if size <= 0:
        raise BadProportion(f"no wood is left for the {what}", where="proportions", do="Take a wider or thicker part.")


def tenon_thickness(stock: Length, part_of: Fraction = TENON_SHARE.value) -> Length:
    """The thickness of a tenon in stock as thick as its mate's.

    >>> tenon_thickness(inch(3, 4)) == inch(1, 4)
    True
    """
    _leaves(stock * part_of, "tenon")
    return round(stock * part_of)


def tenon_into_leg(
    rail: Length,
    leg: Length,
    part_of: Fraction = TENON_SHARE_INTO_LEG.value,
    of_leg: Fraction = LEG_SHARE.value,
) -> Length:
    """The thickness of a thin rail's tenon in a thick leg: half of the rail, at most a third of the leg.

    >>> tenon_into_leg(inch(7, 8), inch(7, 4)) == inch(7, 16)
    True
    """
    most = leg * of_leg
    _leaves(min(rail * part_of, most), "tenon")
    return round(min(rail * part_of, most))


def nearest_cutter(thickness: Length, cutters: Iterable[Length]) -> Length:
    """The chisel or cutter nearest to a thickness; of two equally near ones the smaller, which leaves more shoulder.

    Raises BadProportion without any cutter.

    >>> nearest_cutter(inch(19, 64), [inch(1, 4), inch(5, 16), inch(3, 8)]) == inch(5, 16)
    True
    """
    owned = sorted({cutter for cutter in cutters if cutter > 0})
    if not owned:
        raise BadProportion("no cutter is listed", where="the shop's cutters", do="List the chisels and bits owned.")
    return min(owned, key=lambda cutter: abs(cutter - thickness))


def groove_depth(width: Length, least: Length = GROOVE_DEPTH.value) -> Length:
    """How deep a panel's groove is: as deep as it is wide, but not less than `least`."""
    return max(width, least)


def corner_tenon_width(rail: Length, groove: Length, part_of: Fraction = CORNER_SHARE.value) -> Length:
    """The width of a haunched corner tenon: half of the rail's width less the groove's depth.  Raises BadProportion.

    >>> corner_tenon_width(inch(3), inch(5, 16)) == inch(19, 16)
    True
    """
    width = rail * part_of - groove
    _leaves(width, "corner tenon")
    return round(width)


def tenon_beside(rail: Length, groove: Length, haunch_width: Length) -> Length:
    """The width of the full-length tenon between the panel's groove and a haunch of a chosen width.

    >>> tenon_beside(inch(5, 2), inch(3, 8), inch(1, 2)) == inch(13, 8)
    True
    """
    width = rail - groove - haunch_width
    _leaves(width, "tenon")
    return width


class Haunch(NamedTuple):
    """The stub that fills the groove beside a tenon."""

    length: Length
    thickness: Length


def haunch(groove: Length, tenon: Length) -> Haunch:
    """As long as the groove is deep, as thick as the tenon."""
    return Haunch(groove, tenon)


def tenon_widths(
    rail: Length,
    room: Length,
    widest: Length = WIDEST_TENON.value,
    double_from: Length = DOUBLE_FROM.value,
    gap: Fraction = DOUBLE_GAP.value,
) -> tuple[Length, ...]:
    """The widths of a rail's tenons side by side: one, or two with a gap of a third of the rail between them.

    `room` is the width for all of it, edge shoulders and groove already taken off.  Raises BadProportion if the gap
    leaves no room for two.

    >>> [width == inch(7, 4) for width in tenon_widths(inch(15, 2), inch(6))]
    [True, True]
    """
    _leaves(room, "tenon")
    return (room,) if rail <= double_from and room <= widest else tenon_width_of_many(rail, room, 2, gap)


def tenon_width_of_many(rail: Length, room: Length, count: int, gap: Fraction = DOUBLE_GAP.value) -> tuple[Length, ...]:
    """`count` tenons in `room`, with a gap of a share of the rail between neighbours; what cannot be divided into
    whole nanometres goes into the gaps.  Raises BadProportion if the gaps leave no wood."""
    each = (room - (count - 1) * round(rail * gap)) // count
    _leaves(each, "tenons beside their gap")
    return (each,) * count


def blind_tenon_length(stile: Length, part_of: Fraction = BLIND_SHARE.value) -> Length:
    """The length of a tenon that stops inside the stile.

    >>> blind_tenon_length(inch(9, 4)) == inch(3, 2)
    True
    """
    _leaves(stile * part_of, "tenon")
    return round(stile * part_of)


def through_tenon_length(stile: Length, extra: Length = THROUGH_EXTRA.value) -> Length:
    """The length of a tenon that goes through and is trimmed flush."""
    return stile + extra


def mortise_depth(tenon: Length, extra: Length = MORTISE_EXTRA.value) -> Length:
    """The depth of a blind mortise for a tenon of this length."""
    return tenon + extra


def face_shoulder(stock: Length, tenon: Length) -> Fraction:
    """How deep each cheek is cut for a centred tenon, exact.  The setting goes with the stock, not the tenon alone.

    >>> face_shoulder(inch(7, 8), inch(3, 8)) == inch(1, 4), face_shoulder(inch(3, 4), inch(3, 8)) == inch(3, 16)
    (True, True)
    """
    _leaves(stock - tenon, "shoulders")
    return Fraction(stock - tenon, 2)
