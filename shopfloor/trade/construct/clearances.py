"""How loose are the joints of a construction?  One choice for all of them: what stays free beside what enters.

A mortise, a groove or a dado is as wide as its cutter; what enters is fitted to it, so the tenon is what gets thinner.
Along its width a mortise is chopped or routed to any length, so there the mortise is longer.
Source: the same arithmetic as of joints that are typed, fit.thinned.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..fit import thinned
from ..length import Length

__all__ = ["NOMINAL", "Clearances", "bare_or_thinned", "wider"]


@dataclass(frozen=True)
class Clearances:
    """What is free at each `cheek` of a tenon in its mortise, at each `edge` of it as far as a shoulder covers that,
    and at either side of a tongue or a stub tenon in its `groove` or dado."""

    cheek: Length = 0
    edge: Length = 0
    groove: Length = 0


NOMINAL = Clearances()
"""The drawing has the nominal sizes: what enters is as thick as its cut is wide, and is fitted to what was cut."""


def bare_or_thinned(offset: Length, thickness: Length, stock: Length, each: Length) -> tuple[Length, Length]:
    """How far behind the face side a tenon or tongue begins in `stock`, and how thick it is, for a cut that begins at
    `offset` and is `thickness` wide.

    Where it is bare-faced, one of its cheeks is the surface of the stock and lies against the cut: all is taken off the
    other cheek.

    >>> bare_or_thinned(250, 250, 750, 2), bare_or_thinned(0, 250, 750, 2), bare_or_thinned(500, 250, 750, 2)
    ((252, 246), (0, 246), (504, 246))
    """
    start, left = thinned(offset, thickness, 2 * each)
    bare = offset if offset <= 0 else start + each if offset + thickness >= stock else start
    return bare, left


def wider(enters: Length, stock: Length, each: Length) -> Length:
    """How much wider than the stock is thick a dado is for a whole end, which has no cheek to take anything off.

    >>> wider(750, 750, 2), wider(500, 750, 2)
    (4, 0)
    """
    return 2 * each if enters >= stock else 0
