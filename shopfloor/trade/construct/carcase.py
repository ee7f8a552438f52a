"""Where are the dadoes in a case of solid boards?  Two sides, and what runs between them: shelves or web frames.

X runs to the right, Y to the back, Z up, from the floor under the front left corner.  All heights are taken from the
top of the sides; the right side is the mirror image of the left one.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import ClassVar

from ..fault import Fault
from ..length import Length
from ..part import Assembly, Line, Placement, Unit
from .clearances import NOMINAL, Clearances
from .derived import Impossible, Override, StackName, Working, minus, plus
from .drawer_choices import Drawers
from .drawers import ON_NOTHING, drawers, holds
from .housed_frames import HousedFrames, housed_frames
from .made import Built, Gathered, part_of
from .opening import Between, Opening
from .outcome import Outcome
from .outside import Asked
from .screwed import screwed
from .shelf import Shelves, shelves
from .space import mirrored
from .top import Top, top

__all__ = ["Carcase", "derive"]


@dataclass(frozen=True)
class Carcase:
    """A case of solid boards: outside sizes, the height with the top.  It holds shelves or web frames, and drawers
    only with web frames."""

    kind: ClassVar[str] = "carcase"
    width: Length
    depth: Length
    height: Length
    side: Length
    key: str = ""
    species: str = ""
    shelves: Shelves | None = None
    frames: HousedFrames | None = None
    drawers: Drawers | None = None
    top: Top | None = None
    fit: Clearances = NOMINAL
    overrides: tuple[Override, ...] = ()
    names: tuple[StackName, ...] = ()


def derive(carcase: Carcase, unit: Unit = Unit.INCH, number: int = 1) -> Built:
    """Everything that follows from a carcase's outside sizes and choices; `faults` says what was left out."""
    outcome = Outcome(carcase.key, unit, number, carcase.overrides, carcase.fit)
    work, prefix = outcome.work, outcome.prefix
    between = outcome.tried(lambda: _between(carcase, work, prefix))
    if between is None:
        return outcome.built()
    outcome.add(lambda nth: _sides(carcase, between, nth, prefix))
    if chosen := carcase.shelves:
        made = replace(chosen, species=chosen.species or carcase.species)
        outcome.add(lambda nth: shelves(made, between, nth, work))
    openings: list[Opening] = []
    if frames := carcase.frames:
        found = outcome.tried(
            lambda: housed_frames(frames, between, outcome.number, work, _holds(carcase, between, unit))
        )
        if found:
            openings = found[1]
            outcome.add(lambda _: found[0])
    if carcase.drawers and openings:
        own = carcase.drawers
        outcome.add(lambda nth: drawers(own, openings, nth, work, carcase.species, prefix), len(openings))
    elif carcase.drawers and not carcase.frames:
        work.faults.append(Fault(f"{prefix}drawers", *ON_NOTHING))
    if (lid := carcase.top) and lid.cleats:
        do = "Let the top be screwed to the uppermost web frame, in slots." if carcase.frames else "Leave them out."
        outcome.work.faults.append(Fault(f"{prefix}top.cleats", "cleats are for a case on legs", do))
    if lid:
        lid = replace(lid, species=lid.species or carcase.species)
        lies: Top = lid
        outcome.add(lambda nth: top(lies, carcase.width, carcase.depth, between.height, nth, work, prefix))
        if held := lid.screwed:
            broad = carcase.frames.runner if carcase.frames else 0
            outcome.tried(lambda: screwed(held, outcome.out, broad, work, prefix))
    over = ("top", "drawer")
    return outcome.built(
        Asked("width", 0, carcase.width, but=over), Asked("height", 2, carcase.height, but=("drawer",))
    )


def _holds(carcase: Carcase, between: Between, unit: Unit) -> Callable[[Length], bool] | None:
    """Whether a drawer can be made for an opening of a height; None without drawers."""
    frames, chosen = carcase.frames, carcase.drawers
    if not chosen or not frames:
        return None
    at, deep = (between.side, frames.set_back, 0), between.depth - frames.set_back - frames.back_in
    return lambda height: holds(Opening(1, at, between.width, height, deep), chosen, unit)


def _between(carcase: Carcase, work: Working, prefix: str) -> Between:
    """The clear space between the sides."""
    if carcase.side <= 0:
        raise Impossible(f"sides {work.size(carcase.side)} thick", where="side", do="Give them a size.")
    if carcase.shelves and carcase.frames:
        raise Impossible("it has shelves and web frames", where="shelves", do="Keep one of them.")
    over = carcase.top.thickness if carcase.top else 0
    return Between(
        prefix,
        carcase.side,
        work.length(f"{prefix}clear-width", "between the sides", plus("width", carcase.width),
                    minus("side", carcase.side, 2)),
        carcase.depth,
        work.length(f"{prefix}side.length", "side", plus("height", carcase.height), minus("top", over)),
    )  # fmt: skip


def _sides(carcase: Carcase, between: Between, number: int, prefix: str) -> Gathered:
    assembly = Assembly(f"{prefix}sides", number, "Sides")
    right = Placement("-Z +Y +X", (carcase.width - carcase.side, 0, between.height))
    line = Line(
        f"{prefix}side", assembly.key, "Side", carcase.side, carcase.depth, between.height, carcase.species, "top",
        "inside", "front", group=f"{prefix}sides",
        parts=(
            part_of(f"{prefix}side.left", "left", mirrored(right, carcase.width)),
            part_of(f"{prefix}side.right", "right", right),
        ),
    )  # fmt: skip
    return Gathered([assembly], [line])
