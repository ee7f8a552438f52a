"""How far does a clamp press, where do the clamps go, and how much can be glued in one go?

Pressure fans out from the pad into the wood, customarily at 45 degrees to each side, so that a clamp covers
2 × distance to the glue line + its pad.  Time is counted in whole seconds; the shop enters those of its own glue.
"""

from __future__ import annotations

from fractions import Fraction
from math import radians, tan

from ..errors import ShopError
from .fact import CONFIRMED, UNCONFIRMED, AnyFact, Fact, inch, mm
from .length import Length
from .sources import CUSTOM, GLUE_PAGE, HANDBOOK, MAGAZINE

__all__ = ["FACTS", "BadGlueUp", "clamp_places", "clamp_spread", "joints_in_one_go", "seconds_needed"]

FAN = Fact(
    key="clamp-fan", subject="glue-up", name="Pressure fans out to each side of the pad by", value=Fraction(45),
    unit="degrees", status=UNCONFIRMED, source=f"{CUSTOM}; {MAGAZINE} describes the fans and that they overlap",
)  # fmt: skip
SPACING = Fact(
    key="clamp-spacing", subject="glue-up", name="Clamps stand no farther apart than", value=inch(12),
    metric=mm("300"), status=UNCONFIRMED, source=CUSTOM, note="Or than one covers, if that is less.",
)  # fmt: skip
FIRST_CLAMP = Fact(
    key="clamp-first", subject="glue-up", name="First and last clamp, from the ends", value=inch(3),
    range=(inch(2), inch(4)), metric=mm("75"), metric_range=(mm("50"), mm("100")), status=UNCONFIRMED, source=CUSTOM,
    note="The middle of the customary range.",
)  # fmt: skip
OPEN_TIME = Fact(
    key="glue-open-time", subject="glue-up", name="Open time of PVA glue to plan with", value=10 * 60, unit="seconds",
    range=(5 * 60, 20 * 60), status=CONFIRMED, source=GLUE_PAGE,
    note="10 to 20 minutes there; 5 and slow glues' 30 elsewhere.  Shorter in hot, dry air.  The label wins.",
)  # fmt: skip

FACTS: tuple[AnyFact, ...] = (
    FAN, SPACING, FIRST_CLAMP, OPEN_TIME,
    Fact(key="clamp-sides", subject="glue-up", name="Clamps stand", value="alternately above and below", unit="",
         status=UNCONFIRMED, source=CUSTOM),
    Fact(key="clamp-pad", subject="glue-up", name="The pad", value="at the middle of the stock's thickness, in line "
         "with the part it presses", unit="", status=CONFIRMED, source=MAGAZINE, note="An offset pad twists the work."),
    Fact(key="clamp-pressure", subject="glue-up", name="Pressure, light to dense woods", unit="",
         value="100 to 250 psi (0.7 to 1.7 MPa)", status=UNCONFIRMED,
         source=f"{CUSTOM}; {HANDBOOK}, Chapter 10, is the place to check",
         note="In practice: joint closed, a thin even bead of squeeze-out.  Bad joints are not pulled shut."),
    Fact(key="clamp-time", subject="glue-up", name="PVA glue stays clamped", value="30 to 90 minutes", unit="",
         status=CONFIRMED, source=GLUE_PAGE),
    Fact(key="glue-cure", subject="glue-up", name="PVA glue has its full strength after", value=Fraction(24),
         unit="hours", status=CONFIRMED, source=GLUE_PAGE),
    Fact(key="glue-coldest", subject="glue-up", name="Wood, glue and air at least", value=Fraction(10), unit="°C",
         range=(Fraction(4), Fraction(13)), status=CONFIRMED, source=GLUE_PAGE,
         note="50 °F; by type 40 to 55 °F.  Below it the film dries white and weak.  The label wins."),
    Fact(key="glue-hottest", subject="glue-up", name="Wood, glue and air at most", value=Fraction(32), unit="°C",
         status=UNCONFIRMED, source=CUSTOM, note="90 °F, for the short open time."),
    Fact(key="glue-moisture", subject="glue-up", name="Moisture of parts that are glued", unit="",
         value="6 to 10 %, within 2 points of each other", status=UNCONFIRMED, source=CUSTOM),
    Fact(key="glue-order", subject="glue-up", name="Order", unit="", status=UNCONFIRMED, source=CUSTOM,
         value="dry fit and clamp; sub-assemblies before the whole; the panel before the last rail; on a flat surface"),
)  # fmt: skip


class BadGlueUp(ShopError):
    """Times or sizes that no glue-up can have."""

    code = "bad-glue-up"


def clamp_spread(distance: Length, pad: Length, half_angle: Fraction | int = FAN.value) -> Length:
    """The length of glue line that one clamp covers, `distance` away from its pad; the angle in degrees.

    Raises BadGlueUp for an angle that is none of a fan.

    >>> clamp_spread(75_000_000, 30_000_000)
    180000000
    """
    if not 0 <= half_angle < 90 or distance < 0 or pad < 0:
        raise BadGlueUp("no pressure fans out like this", where="clamps", do="Give an angle from 0 to less than 90.")
    # The one angle in the house: its tangent is a float, and good to a fraction of a nanometre at any clamp's distance.
    return round(2 * distance * Fraction(tan(radians(half_angle)))) + pad


def clamp_places(
    length: Length, covers: Length, end: Length = FIRST_CLAMP.value, most: Length = SPACING.value
) -> tuple[Length, ...]:
    """Where clamps stand along a glue line, from the datum end: `end` in from both ends, evenly between.

    They stand no farther apart than `most` and than one `covers`; a line shorter than both ends gets one at its middle.

    >>> clamp_places(inch(30), inch(12)) == (inch(3), inch(15), inch(27))
    True
    """
    span, apart = length - 2 * end, min(covers, most)
    if length <= 0 or end < 0 or apart <= 0:
        raise BadGlueUp("nothing to clamp", where="clamps", do="Give the length of the glue line and a pad's cover.")
    if span <= 0:
        return (length // 2,)
    steps = -(-span // apart)
    return tuple(end + round(Fraction(span * step, steps)) for step in range(steps + 1))


def seconds_needed(joints: int, each: int, clamping: int) -> int:
    """The time from the first glue to the last clamp: so many joints, `each` to spread, then the clamps.

    >>> seconds_needed(12, 45, 120)
    660
    """
    if joints < 0 or each < 0 or clamping < 0:
        raise BadGlueUp("a time below zero", where="glue-up", do="Give seconds.")
    return joints * each + clamping


def joints_in_one_go(open_time: int, each: int, clamping: int) -> int:
    """The most joints that the glue stays open for; 0 if not even the clamps go on in time.  Raises BadGlueUp.

    >>> joints_in_one_go(8 * 60, 45, 120)
    8
    """
    if each <= 0 or clamping < 0 or open_time < 0:
        raise BadGlueUp("a joint takes some time to glue", where="glue-up", do="Give seconds above zero.")
    return max(open_time - clamping, 0) // each
