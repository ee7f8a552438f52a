"""When did it happen, if the clocks disagree?  A hybrid logical clock: milliseconds, and a counter for ties.

It never runs backwards, follows what it has seen, and leans on no single wall clock.  The server clamps what comes
from the future, so that one wrong phone cannot win every argument for ever; it never refuses it.
"""

from __future__ import annotations

from typing import NamedTuple

AHEAD = 5 * 60 * 1000
"""How far in front of the server an entry may claim to be, milliseconds, before it is clamped for ordering."""


class Stamp(NamedTuple):
    """A moment: milliseconds since 1970, and a counter that tells apart what falls into one millisecond."""

    ms: int
    counter: int


def tick(last: Stamp, now: int) -> Stamp:
    """The stamp of the next own entry: now, or just after the last one seen.

    >>> tick(Stamp(1000, 4), 2000), tick(Stamp(1000, 4), 900)
    (Stamp(ms=2000, counter=0), Stamp(ms=1000, counter=5))
    """
    return Stamp(now, 0) if now > last.ms else Stamp(last.ms, last.counter + 1)


def observe(last: Stamp, seen: Stamp) -> Stamp:
    """The later of the two: whatever is written next comes after what was seen."""
    return max(last, seen)


def clamp(hlc: Stamp, server_now: int) -> Stamp:
    """The stamp used for ordering: as written, or server time plus five minutes if it claims to be later.

    The counter goes to 0 when clamped: two clamped entries of one phone are told apart by their numbers.

    >>> clamp(Stamp(1_000_000, 3), 900_000), clamp(Stamp(9_000_000, 3), 900_000)
    (Stamp(ms=1000000, counter=3), Stamp(ms=1200000, counter=0))
    """
    latest = server_now + AHEAD
    return hlc if hlc.ms <= latest else Stamp(latest, 0)
