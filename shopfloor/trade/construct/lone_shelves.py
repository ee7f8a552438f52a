"""How long is a shelf for a case that is there already?  Loose between its sides, or with its ends in their dadoes.

X runs to the right, Y to the back, Z up, from the left front corner between the sides.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ..length import Length
from ..part import Assembly, Face, Feature, Line, Placement, Tenon, Tongue, Unit
from .clearances import NOMINAL, Clearances
from .derived import Impossible, Override, StackName, minus, plus
from .made import Built, Gathered, part_of
from .outcome import Outcome, called
from .outside import Asked
from .shelf import MOST

__all__ = ["InDadoes", "LoneShelves", "derive"]

APART = 8
"""Several shelves are drawn over one another, so many thicknesses from one to the next."""


@dataclass(frozen=True)
class InDadoes:
    """Ends in dadoes of the case, `depth` deep.  The tongue is `tongue` thick and flush with the upper side; a stopped
    dado begins `stop` behind the shelf's front edge."""

    depth: Length
    tongue: Length
    stop: Length = 0


@dataclass(frozen=True)
class LoneShelves:
    """`count` shelves alike between two sides, `width` clear; the sides are `depth` deep.

    A shelf stays `clear` at each end: of the sides, or of the bottom of their dadoes.
    """

    kind: ClassVar[str] = "shelf"
    width: Length
    depth: Length
    thickness: Length
    count: int = 1
    clear: Length = 0
    front: Length = 0
    back: Length = 0
    dadoes: InDadoes | None = None
    key: str = "shelf"
    species: str = ""
    note: str = ""
    fit: Clearances = NOMINAL
    overrides: tuple[Override, ...] = ()
    names: tuple[StackName, ...] = ()


def derive(lone: LoneShelves, unit: Unit = Unit.INCH, number: int = 1) -> Built:
    """The shelves, in a stack of their own."""
    outcome = Outcome(lone.key, unit, number, lone.overrides, lone.fit)
    outcome.add(lambda nth: _made(lone, outcome, nth))
    enters = lone.dadoes.depth if lone.dadoes else 0
    return outcome.built(
        Asked("width", 0, lone.width, 2 * (enters - lone.clear)), Asked("depth", 1, lone.depth, -lone.front - lone.back)
    )  # fmt: skip


def _made(lone: LoneShelves, outcome: Outcome, number: int) -> Gathered:
    work, prefix, held = outcome.work, outcome.prefix, lone.dadoes
    if not 1 <= lone.count <= MOST:
        raise Impossible(f"{lone.count} shelves", where=f"{prefix}count", do=f"1 to {MOST} would do.")
    work.at_least(f"{prefix}thickness", "a shelf", lone.thickness, 1, "to be made")
    between = plus("between the sides", lone.width)
    wide = work.length(f"{prefix}width", "shelf", plus("depth", lone.depth), minus("front", lone.front),
                       minus("back", lone.back))  # fmt: skip
    features: tuple[Feature, ...] = ()
    if held:
        work.at_most(f"{prefix}dadoes.tongue", "a tongue", held.tongue, lone.thickness, "for the shelf")
        work.at_least(f"{prefix}dadoes.tongue", "a tongue", held.tongue, 1, "to hold")
        enters = work.length(f"{prefix}tongue", "tongue", plus("dado", held.depth), minus("clearance", lone.clear))
        length = work.length(f"{prefix}length", "shelf", between, plus("tongue", enters, 2))
        along = work.length(f"{prefix}held", "tongue, from front to back", plus("shelf", wide),
                            minus("stop", held.stop))  # fmt: skip
        ends = (("left", Face.DATUM_END), ("right", Face.FAR_END))
        at = lone.thickness - held.tongue
        size = (enters, *work.eased(f"{prefix}tongue.thickness", "tongue", "dado", at, held.tongue, lone.thickness))
        says = "For a dado of the case."
        features = tuple(
            Tenon(end, face, *size, held.stop, along, note=says) if held.stop else Tongue(end, face, *size, note=says)
            for end, face in ends
        )
    else:
        length = work.length(f"{prefix}length", "shelf", between, minus("clearance", lone.clear, 2))
    name, key = called(lone.key, "Shelf" if lone.count == 1 else "Shelves", lone.kind), lone.key or lone.kind
    parts = tuple(
        part_of(f"{key}.{nth}", f"shelf {nth}" if lone.count > 1 else "", Placement(
            at=((lone.width - length) // 2, lone.front, (lone.count - nth) * APART * lone.thickness)))
        for nth in range(1, lone.count + 1)
    )  # fmt: skip
    line = Line(
        key, key, "Shelf", lone.thickness, wide, length, lone.species, "left", "underside", "front",
        group=key if lone.count > 1 else "", note=lone.note, features=features, parts=parts,
    )  # fmt: skip
    return Gathered([Assembly(key, number, name)], [line])
