"""Is it square, how far does it lean, and which corner is pulled?  Diagonals, racking and wind.

Equal diagonals show a square corner only if opposite sides are equal; so the diagonal that the sides should have is
told as well.  Roots are worked out in whole numbers and rounded once.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import isqrt

from ..errors import ShopError
from .fact import DERIVED, UNCONFIRMED, AnyFact, Fact, inch, mm
from .length import Length
from .part import Unit
from .sources import ARITHMETIC, CUSTOM

__all__ = ["FACTS", "NotARectangle", "Racking", "allowed_difference", "diagonal", "diagonal_difference", "racking",
           "wind"]  # fmt: skip

SMALL_CASE = Fact(
    key="square-small", subject="assembly", name="Difference of diagonals allowed, sides up to 24 in",
    value=inch(1, 32), metric=mm("0.8"), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
LARGE_CASE = Fact(
    key="square-large", subject="assembly", name="Difference of diagonals allowed, longer sides",
    value=inch(1, 16), metric=mm("1.5"), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
LARGE_FROM = Fact(
    key="square-large-from", subject="assembly", name="A side counts as longer above", value=inch(24),
    metric=mm("600"), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip

FACTS: tuple[AnyFact, ...] = (
    SMALL_CASE, LARGE_CASE, LARGE_FROM,
    Fact(key="square-diagonal", subject="assembly", name="Diagonal of a square case", value="√(width² + height²)",
         unit="", status=DERIVED, source=ARITHMETIC, changeable=False),
    Fact(key="square-lean", subject="assembly", name="Sideways lean over the height", unit="",
         value="(long² − short²) / (4 × width)", status=DERIVED, source=ARITHMETIC, changeable=False),
)  # fmt: skip


class NotARectangle(ShopError):
    """Sides and diagonals that no leaning rectangle can have; sides first, then diagonals, were misread."""

    code = "not-a-rectangle"


def diagonal(width: Length, height: Length) -> Length:
    """The diagonal that a square case of these outside sizes has, to the nearest nanometre.

    >>> diagonal(600_000_000, 800_000_000)
    1000000000
    """
    return _root(width * width + height * height)


def diagonal_difference(width: Length, height: Length, lean: Length) -> Length:
    """By how much the long diagonal exceeds the short one if the case leans sideways by `lean`, height kept."""
    # A root to a thousandth of a nanometre, so that the difference is rounded once.
    long, short = (_root(((width + way) ** 2 + height * height) * 10**6) for way in (lean, -lean))
    return round(Fraction(long - short, 1_000))


def _root(square: int) -> int:
    """The nearest whole number: the root of 4n tells on which side of the half it lies."""
    return (isqrt(4 * square) + 1) // 2


def allowed_difference(width: Length, height: Length, unit: Unit = Unit.INCH) -> Length:
    """The customary tolerance between the diagonals; the shop may have its own."""
    fact = LARGE_CASE if max(width, height) > LARGE_FROM.used(unit) else SMALL_CASE
    return fact.used(unit)


@dataclass(frozen=True)
class Racking:
    """What two diagonals say.

    `aim` is what both should read, the mean of the two (a half nanometre goes to the even one).  `correct` is by how
    much the long one is pulled in: half of the difference.  `lean` is how far the top stands sideways over the height.
    `pull` names the longer diagonal as it was given, "" if they are equal.  `astray` is by how much the mean differs
    from the diagonal of the sides given: much of that means that a side is not what the drawing says.
    """

    aim: Length
    correct: Length
    lean: Length
    pull: str
    within: bool
    astray: Length


def racking(
    width: Length,
    height: Length,
    rising: Length,
    falling: Length,
    tolerance: Length,
    names: tuple[str, str] = ("bottom left to top right", "top left to bottom right"),
) -> Racking:
    """Judge a case in clamps: outside sizes, and its diagonals as the tape reads them.

    `rising` and `falling` are the diagonals named first and second in `names`.  The lean keeps its size whichever is
    longer.  Source: parallelogram of sides w and h leaning e, long² − short² = 4 w e.
    Raises NotARectangle for a diagonal that no corner of these sides can span, or for sizes that are none.
    """
    if min(width, height) <= 0:
        raise NotARectangle("a case has a width and a height", where="squareness", do="Give both.")
    for name, read in zip(names, (rising, falling), strict=True):
        if not abs(width - height) < read < width + height:
            raise NotARectangle(
                "the diagonal does not go with these sides", where=name, do="Measure it and the sides again."
            )
    difference = abs(rising - falling)
    lean = Fraction(abs(rising**2 - falling**2), 4 * width)
    return Racking(
        aim=round(Fraction(rising + falling, 2)),
        correct=round(Fraction(difference, 2)),
        lean=round(lean),
        pull="" if rising == falling else names[0] if rising > falling else names[1],
        within=difference <= tolerance,
        astray=round(Fraction(rising + falling, 2)) - diagonal(width, height),
    )


def wind(front_left: Length, front_right: Length, back_left: Length, back_right: Length) -> Length:
    """How far a face is twisted: by how much the fourth corner lies off the plane of the other three.

    The heights are measured from a flat table up to the four corners.  0 is flat; plus means that front left and back
    right stand high.  Source: derived, (front left + back right) − (front right + back left).

    >>> wind(0, 0, 0, 500_000)
    500000
    """
    return front_left + back_right - front_right - back_left
