"""How wide is a panel, and will its grooves still hold it in the dry and still clear it in the damp?

A panel held at the middle moves half of its change at each edge.  Width across the grain = opening + 2 × (groove −
clearance).  The clearance must outlast the damp season, the engagement the dry one.
Source: derived from the equation of movement (see movement.py).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from ..errors import ShopError
from .fact import CONFIRMED, DERIVED, UNCONFIRMED, AnyFact, Fact, inch, mm
from .habit import PRINTED, Habits
from .length import Length, write
from .part import Unit
from .rounding import SIXTY_FOURTH, TENTH_MM, round_down, round_up, rounded_for_show
from .seasons import Seasons
from .sources import CUSTOM, MAGAZINES

__all__ = ["FACTS", "PanelFit", "PanelRefused", "clearance_for", "panel_fit", "panel_size", "propose_panel"]

CLEARANCE = Fact(
    key="panel-clearance", subject="panels", name="Panel's clearance at each side on the day, at least",
    value=inch(1, 8), range=(inch(1, 16), inch(3, 16)), metric=mm("3"), status=CONFIRMED, source=MAGAZINES,
)  # fmt: skip
MARGIN = Fact(
    key="panel-margin", subject="panels", name="Clearance left at each side at the damp limit", value=inch(1, 32),
    metric=mm("0.8"), status=DERIVED, source="half of the swelling and this much; derived",
)  # fmt: skip
ENGAGEMENT = Fact(
    key="panel-engagement", subject="panels", name="Least of the panel left in each groove at the dry limit",
    value=inch(1, 8), range=(inch(3, 32), None), metric=mm("3"), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
END_CLEARANCE = Fact(
    key="panel-end-clearance", subject="panels", name="Panel's clearance at each end, along the grain",
    value=inch(1, 32), range=(0, inch(1, 16)), metric=mm("0.8"), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip

FACTS: tuple[AnyFact, ...] = (
    CLEARANCE, MARGIN, ENGAGEMENT, END_CLEARANCE,
    Fact(key="panel-held", subject="panels", name="A panel is held", unit="", status=CONFIRMED, source=MAGAZINES,
         value="at the middle of top and bottom only, never glued round", note="Finished before it is closed in."),
    Fact(key="panel-width", subject="panels", name="Width of a panel", unit="", status=DERIVED, changeable=False,
         value="opening + 2 × (groove − clearance)", source="geometry"),
)  # fmt: skip


class PanelRefused(ShopError):
    """The panel bottoms out in the damp (panel-binds) or falls out in the dry (panel-falls-out), or is none
    (no-panel).  `fit` has the numbers all the same, so that a page can show them; None if there are none."""

    code = "panel-binds"

    def __init__(self, what: str, *, do: str, code: str = code, fit: PanelFit | None = None) -> None:
        super().__init__(what, where="panel", do=do)
        self.code, self.fit = code, fit


@dataclass(frozen=True)
class PanelFit:
    """One panel across its grain.  `clearance_damp` and `engagement_dry` are the least there will be at each side,
    rounded down, so that what is promised is there.  `warnings` are sentences about the moistures."""

    opening: Length
    groove: Length
    clearance: Length
    width: Length
    clearance_damp: Length
    engagement_dry: Length
    warnings: tuple[str, ...] = ()

    @property
    def engagement(self) -> Length:
        """How much of the panel is in each groove on the day."""
        return self.groove - self.clearance


def panel_size(opening: Length, groove: Length, clearance: Length) -> Length:
    """The size of a panel between two grooves: across the grain, or along it with the clearance of its ends.

    Raises PanelRefused if it would not reach into its grooves.

    >>> panel_size(300_000_000, 10_000_000, 3_000_000)
    314000000
    """
    if opening <= 0 or clearance < 0 or groove <= clearance:
        raise PanelRefused(
            "it does not reach into its grooves", code="no-panel",
            do="Give an opening above zero and a clearance from zero to less than the groove's depth.",
        )  # fmt: skip
    return opening + 2 * (groove - clearance)


def clearance_for(
    width: Length, coefficient: Fraction, seasons: Seasons, step: Length = 1, margin: Length = 0
) -> Length:
    """The gap that a panel of a known width needs at each side on the day it is sized, up to the next `step`."""
    return round_up(width * Fraction(coefficient) * seasons.gain / 2 + margin, step)


def panel_fit(
    opening: Length,
    groove: Length,
    clearance: Length,
    coefficient: Fraction,
    seasons: Seasons,
    unit: Unit = Unit.INCH,
    habits: Habits = PRINTED,
) -> PanelFit:
    """What is left at each side of a panel in the damp and in the dry, with these sizes.

    `unit` and `habits` are only for the words of a refusal.  Raises PanelRefused unless both stay above zero.
    """
    width = panel_size(opening, groove, clearance)
    grows, shrinks = (width * Fraction(coefficient) * points / 2 for points in (seasons.gain, seasons.loss))
    fit = PanelFit(
        opening, groove, clearance, width,
        round_down(clearance - grows), round_down(groove - clearance - shrinks), seasons.warnings,
    )  # fmt: skip
    if fit.clearance_damp <= 0:
        raise PanelRefused(
            f"it bottoms out in the damp season: it grows {_said(rounded_for_show(grows, unit), unit)} at each side "
            f"and has {_said(clearance, unit)} to grow into",
            do=_would_do(opening, groove, coefficient, seasons, unit, habits), fit=fit,
        )  # fmt: skip
    if fit.engagement_dry <= 0:
        raise PanelRefused(
            f"it falls out in the dry season: it shrinks {_said(rounded_for_show(shrinks, unit), unit)} at each side "
            f"and reaches {_said(fit.engagement, unit)} into its grooves",
            code="panel-falls-out", do=_would_do(opening, groove, coefficient, seasons, unit, habits), fit=fit,
        )  # fmt: skip
    return fit


def propose_panel(
    opening: Length,
    groove: Length,
    coefficient: Fraction,
    seasons: Seasons,
    step: Length = SIXTY_FOURTH,
    clearance: Length = CLEARANCE.value,
    margin: Length = MARGIN.value,
    engagement: Length = ENGAGEMENT.value,
) -> PanelFit:
    """The panel for an opening: its clearance, and its groove, deeper than the wished one if that cannot hold it.

    `clearance` is the least on the day, `margin` the least left in the damp, `engagement` the least left in the dry;
    clearance and groove go up to the next `step`.  The panel's width depends on what is looked for, so both are solved:
    with a tongue t = groove − clearance and a width of opening + 2 t, the dry season asks for
    t − width × loss / 2 ≥ engagement, and the damp season for clearance − width × gain / 2 ≥ margin.
    Raises PanelRefused without an opening.
    """
    panel_size(opening, 2, 1)  # refuses an opening that is none
    gain, loss = (Fraction(coefficient) * points / 2 for points in (seasons.gain, seasons.loss))

    def gap_in(groove: Length) -> Length:
        return round_up(max(Fraction(clearance), ((opening + 2 * groove) * gain + margin) / (1 + 2 * gain)), step)

    tongue = round_up((engagement + opening * loss) / (1 - 2 * loss), step)
    least = tongue + round_up(max(Fraction(clearance), (opening + 2 * tongue) * gain + margin), step)
    groove = max(groove, least)
    # A wished groove deeper than the least gives the panel more to grow, and rounding that gap up may cost a step.
    while groove - gap_in(groove) - panel_size(opening, groove, gap_in(groove)) * loss < engagement:
        groove += step
    return panel_fit(opening, groove, gap_in(groove), coefficient, seasons)


def _would_do(
    opening: Length, groove: Length, coefficient: Fraction, seasons: Seasons, unit: Unit, habits: Habits
) -> str:
    held = propose_panel(
        opening, groove, coefficient, seasons, TENTH_MM if unit is Unit.MM else SIXTY_FOURTH,
        habits.of(CLEARANCE, unit), habits.of(MARGIN, unit), habits.of(ENGAGEMENT, unit),
    )  # fmt: skip
    return (
        f"Grooves {_said(held.groove, unit)} deep and {_said(held.clearance, unit)} clearance at each side would hold "
        f"a panel {_said(held.width, unit)} wide."
    )


def _said(length: Fraction | Length, unit: Unit) -> str:
    """A size as given, with its unit before the word that says that it lies off the tape's grid: "5/16 in full"."""
    number, *mark = re.split(" (?=full|shy)", write(round(length), unit, 64))
    return " ".join([number, unit.value, *mark])
