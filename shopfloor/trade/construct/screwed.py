"""How is a solid top held where a web frame lies right under it?  Screws through slots in the runners of that frame.

The runners lie along the movement of the top, like cleats, and are drilled and slotted like them; the stub tenons at
their ends stay whole.  Source: slots by movement.py.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from ..length import Length
from ..movement import slot
from ..part import Line, Tenon
from ..rounding import SIXTY_FOURTH, round_up
from ..seasons import Seasons
from .cleats import HeldAt, farthest, row, sound
from .derived import Impossible, Working, plus
from .made import Gathered

__all__ = ["Screwed", "for_the_year", "screwed"]


@dataclass(frozen=True)
class Screwed:
    """So many screws in each runner of the uppermost frame, `shank` thick: a round hole where the top is held, and
    slots that let the others go `play` each way."""

    screws: int
    shank: Length
    play: Length
    held: HeldAt = HeldAt.FRONT


def for_the_year(
    chosen: Screwed, between: Length, coefficient: Fraction, seasons: Seasons, step: Length = SIXTY_FOURTH
) -> Screwed:
    """With as much play as the farthest screw needs for a top of known movement, up to the next `step`; `between` is
    the length of a runner between its rails."""
    far = farthest(chosen.screws, chosen.held, between)
    found = slot(chosen.shank, far, coefficient, seasons)
    return replace(chosen, play=round_up(max(found.inward, found.outward) - Fraction(chosen.shank, 2), step))


def screwed(chosen: Screwed, made: Gathered, broad: Length, work: Working, prefix: str = "") -> None:
    """Holes and slots in the runners of the uppermost web frame among what is `made`, in a line of their own.

    `broad` is how wide a runner is in sight.  Raises Impossible.
    """
    key, of = f"{prefix}top.screwed", f"{prefix}web-runner"
    runners = next((line for line in made.lines if line.key == of), None)
    if runners is None:
        do = "Give the case web frames, or hold the top by cleats."
        raise Impossible("no web frame lies under the top", where=key, do=do)
    long = work.length(f"{key}.slot", "slot", plus("screw", chosen.shank), plus("play", chosen.play, 2))
    ends = {each.key: each.length for each in runners.features if isinstance(each, Tenon)}
    free = runners.length - ends["front"] - ends["back"]
    sound(chosen.screws, chosen.held, (chosen.shank, long), (free, broad), key, "a runner", work)
    features = row(chosen.screws, chosen.held, (chosen.shank, long), (ends["front"], free, broad))
    upper = tuple(part for part in runners.parts if part.key.startswith(f"{prefix}web.1."))
    others = tuple(part for part in runners.parts if part not in upper)
    lines: list[Line] = []
    for line in made.lines:
        if line is runners:
            lines.append(replace(
                line, key=f"{line.key}-top", name="Runner under the top", features=(*line.features, *features),
                note="The top is screwed to it and moves.", parts=upper,
            ))  # fmt: skip
            lines.append(replace(line, parts=others))
        else:
            lines.append(line)
    made.lines[:] = lines
