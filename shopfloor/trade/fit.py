"""How tight is a joint?  The gaps that a fit leaves, the size to aim for, and whether what was measured will do.

Half of a joint is fitted to what the other half really measures, never to what the list says.
Sources: proportions.py has the gaps of the trade with where they come from; the rest is exact arithmetic.
"""

from __future__ import annotations

from typing import NamedTuple

from ..errors import ShopError
from .length import Length
from .proportions import FIT_THICKNESS, FIT_WIDTH, MORTISE_EXTRA

__all__ = ["FLUSH", "SNUG", "BadFit", "Fit", "Passes", "Verdict", "Window", "judged", "opening_for", "passes", "target",
           "tenon_left", "thinned", "window"]  # fmt: skip


class BadFit(ShopError):
    """Sizes that no fit can be worked out from."""

    code = "bad-fit"


class Fit(NamedTuple):
    """How much larger an opening is than what enters it: in thickness and in width in all, and in depth beyond the tip.

    What cannot be halved into whole nanometres lies on the far side.
    """

    thickness: Length = FIT_THICKNESS.value
    width: Length = FIT_WIDTH.value
    depth: Length = MORTISE_EXTRA.value


SNUG = Fit()
"""The fit that the trade uses: 0.002 in in thickness, 1/64 in in width, 1/16 in beyond the tip."""


FLUSH = Fit(depth=0)
"""The same, with no room beyond: what shows outside ends where its mate ends."""


class Window(NamedTuple):
    """The thinnest and the thickest that will do."""

    thinnest: Length
    thickest: Length


def window(opening: Length, least: Length, most: Length) -> Window:
    """What may enter an opening, if the gap in all is to be from `least` to `most`.

    >>> window(378, least=3, most=10)
    Window(thinnest=368, thickest=375)
    """
    if not 0 <= least <= most < opening:
        raise BadFit("these gaps leave no window", where="fit", do="Give a least gap that is below the most.")
    return Window(opening - most, opening - least)


class Verdict(NamedTuple):
    """Whether a measured half will do: `over` must still come off, `under` is missing; both are 0 if it fits."""

    over: Length
    under: Length

    @property
    def fits(self) -> bool:
        return not (self.over or self.under)


def judged(measured: Length, wanted: Window) -> Verdict:
    """What is measured, held against what will do.

    >>> judged(390, Window(368, 375)), judged(360, Window(368, 375)), judged(375, Window(368, 375)).fits
    (Verdict(over=15, under=0), Verdict(over=0, under=8), True)
    """
    return Verdict(max(measured - wanted.thickest, 0), max(wanted.thinnest - measured, 0))


def target(opening: Length, gap: Length) -> Length:
    """The size to make what enters, from what its mate's opening really measures."""
    if gap >= opening:
        raise BadFit("the gap is as large as the opening", where="fit", do="Measure the opening again.")
    return opening - gap


def opening_for(measured: Length, gap: Length) -> Length:
    """The size to make an opening, from what really enters it: a dado for its shelf."""
    return measured + gap


def tenon_left(stock: Length, shoulder: Length) -> Length:
    """What a cutter leaves that takes `shoulder` off either cheek: all the scatter of the stock is in the tenon.

    So thickness is measured before a batch is cut.
    """
    if 2 * shoulder >= stock:
        raise BadFit("two such cheeks leave no tenon", where="fit", do="Set the cutter lower.")
    return stock - 2 * shoulder


def thinned(offset: Length, thickness: Length, gap: Length) -> tuple[Length, Length]:
    """Where what enters begins and how thick it is, for a cut that begins at `offset`, is `thickness` wide and leaves
    `gap` in all; what cannot be halved lies on the far side.

    >>> thinned(250, 250, 5)
    (252, 245)
    """
    return offset + gap // 2, thickness - gap


class Passes(NamedTuple):
    """How often a cutter goes through for a wider cut, and how far the last pass is shifted from the first."""

    times: int
    shift: Length


def passes(width: Length, cutter: Length) -> Passes:
    """The passes that a cutter needs for a width that is not its own.

    >>> passes(810, 750)
    Passes(times=2, shift=60)
    """
    if not 0 < cutter <= width:
        raise BadFit("the cutter is wider than the cut", where="fit", do="Take a narrower cutter.")
    return Passes(-(-width // cutter), width - cutter)
