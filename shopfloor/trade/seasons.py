"""How dry and how damp does a piece get over the year?  Its moisture in three states, and what is out of range.

The moisture on the day a part is sized is an input: one allowance for every season splits the frame of a tight winter
panel.  A piece built damper or drier than its seasons is fine: it then moves one way only.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ..errors import ShopError
from .fact import CONFIRMED, DERIVED, UNCONFIRMED, AnyFact, Fact
from .moisture import Percent, settled
from .rounding import percent_for_show
from .sources import CHAPTER_13, CUSTOM

__all__ = ["DAMPEST", "DRIEST", "FACTS", "GREEN", "PRESETS", "MoistureOutOfRange", "Preset", "Seasons",
           "moisture_warnings"]  # fmt: skip


class MoistureOutOfRange(ShopError):
    """No wood in a shop or a house has this moisture content, or the seasons are the wrong way round."""

    code = "moisture-out-of-range"


DRIEST, DAMPEST = 6, 14
"""Between these the coefficients of movement are straight lines."""
GREEN = 30
"""Above about this, wood no longer moves with its moisture."""


def moisture_warnings(*contents: Percent) -> tuple[str, ...]:
    """One sentence if any moisture content lies outside 6 to 14 %, where the coefficients were measured.

    Raises MoistureOutOfRange for what no wood of a shop has, below 0 and above 30 %.

    >>> moisture_warnings(7, Fraction("4.5"))
    ('The coefficients hold from 6 to 14 % moisture; at 4.5 % the result is an estimate.',)
    """
    for content in contents:
        if not 0 <= content <= GREEN:
            raise MoistureOutOfRange(
                f"{percent_for_show(Fraction(content))} % is no moisture content to work with",
                where="moisture", do=f"Give 0 to {GREEN} %; above that wood does not move.",
            )  # fmt: skip
    outside = sorted({Fraction(content) for content in contents if not DRIEST <= content <= DAMPEST})
    if not outside:
        return ()
    shown = [percent_for_show(content) for content in outside]
    named = " and ".join(part for part in (", ".join(shown[:-1]), shown[-1]) if part)
    return (f"The coefficients hold from {DRIEST} to {DAMPEST} % moisture; at {named} % the result is an estimate.",)


@dataclass(frozen=True)
class Seasons:
    """Moisture contents of one piece: driest, on the day it is sized, dampest.

    Raises MoistureOutOfRange if dry and damp are the wrong way round, or one is impossible.
    """

    dry: Percent
    build: Percent
    damp: Percent

    def __post_init__(self) -> None:
        moisture_warnings(self.dry, self.build, self.damp)
        if self.dry > self.damp:
            dry, damp = (percent_for_show(Fraction(content)) for content in (self.dry, self.damp))
            raise MoistureOutOfRange(
                f"the dry season has {dry} % and the damp season {damp} %", where="seasons", do="Exchange the two."
            )

    @property
    def gain(self) -> Fraction:
        """Points still to come when it gets damp; 0 for what is built damper than that."""
        return max(Fraction(self.damp) - self.build, Fraction(0))

    @property
    def loss(self) -> Fraction:
        """Points to be lost when it gets dry; 0 for what is built drier than that."""
        return max(Fraction(self.build) - self.dry, Fraction(0))

    @property
    def warnings(self) -> tuple[str, ...]:
        return moisture_warnings(self.dry, self.build, self.damp)


@dataclass(frozen=True)
class Preset:
    """A kind of house, as a place to start: relative humidity in percent in its dry and its damp season, at 21 °C.

    These vary by region, house and season: the shop sets them from its own meter and asks where the piece will live.
    """

    name: str
    dry_rh: int
    damp_rh: int

    def seasons(self, build: Percent, temp_c: float = 21) -> Seasons:
        return Seasons(settled(temp_c, self.dry_rh), build, settled(temp_c, self.damp_rh))


PRESETS = (
    Preset("controlled interior", 35, 50),
    Preset("cold-winter heated house", 25, 55),
    Preset("mild maritime house", 45, 65),
    Preset("dry region", 20, 40),
    Preset("humid region, cooled house", 45, 60),
    Preset("unheated or open building", 40, 80),
)


FACTS: tuple[AnyFact, ...] = (
    Fact(key="movement-driest", subject="moisture", name="Driest moisture that the coefficients hold for",
         value=Fraction(DRIEST), unit="% moisture", status=CONFIRMED, source=f"{CHAPTER_13}, title of Table 13-5",
         changeable=False),
    Fact(key="movement-dampest", subject="moisture", name="Dampest moisture that the coefficients hold for",
         value=Fraction(DAMPEST), unit="% moisture", status=CONFIRMED, source=f"{CHAPTER_13}, title of Table 13-5",
         changeable=False),
    Fact(key="green-moisture", subject="moisture", name="Moisture above which wood does not move",
         value=Fraction(GREEN), unit="% moisture", status=DERIVED, changeable=False,
         source="the table of coefficients follows from the shrinkage table with 30 % for nearly all species"),
    *(Fact(key=f"seasons-{preset.name.replace(',', '').replace(' ', '-')}", subject="moisture", unit="",
           name=f"Dry and damp season, {preset.name}", value=f"{preset.dry_rh} to {preset.damp_rh} % relative humidity",
           status=UNCONFIRMED, source=CUSTOM) for preset in PRESETS),
)  # fmt: skip
