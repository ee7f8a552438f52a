"""How is "join two parts" a form?  Where the parts meet, then the proposed sizes, each of which can be overridden.

Fields of the sizes are named by the number of the joint: "0.length", and "1.length" for the second of two tenons.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from shopfloor.trade.abutment import Abutment
from shopfloor.trade.corner_joint import BridleJoint, DovetailJoint, HalfLapJoint
from shopfloor.trade.document import length_reader, length_text
from shopfloor.trade.fit import Fit
from shopfloor.trade.habit import PRINTED, Habits
from shopfloor.trade.joining import Definition, Joining, Kind, refitted
from shopfloor.trade.joint import LooseTenonJoint, MortiseAndTenon, TongueJoint
from shopfloor.trade.own_lines import lines_of
from shopfloor.trade.pairing import matched
from shopfloor.trade.part import EDGES, ENDS, FACES, Face, Job, Line, Unit
from shopfloor.web.design_form import Entry, Group, form_of, read_form

__all__ = ["LIES", "Asked", "asked", "pairs_of", "read_sizes", "sizes_of"]

LIES = {
    "": "as is usual for this joint",
    "along": "its breadth runs along the mate",
    "across": "its breadth runs across the mate",
}
COMES = (*ENDS, *EDGES)
INTO = (*EDGES, *FACES)

HIDDEN = frozenset({
    "tenon", "mortise", "end", "fit", "haunch_length", "haunch_width", "haunch_beside", "haunch_sunk", "enters_key",
    "takes_key", "tongue", "channel", "along", "stopped", "bridle", "slot", "tails", "pins", "pins_end",
})  # fmt: skip
"""Of a definition: its keys, what was asked already, and what is rare."""
HOUSED_HIDDEN = HIDDEN | {"offset", "thickness"}
HAUNCHED_HIDDEN = (HIDDEN - {"haunch_length", "haunch_width"}) | {"edge_offset"}
"""A haunched tenon begins where its haunch ends."""

WORDS: dict[tuple[type, str], str] = {
    (MortiseAndTenon, "length"): "Length of the tenon",
    (MortiseAndTenon, "offset"): "Mortise behind the face side",
    (MortiseAndTenon, "thickness"): "Width of the mortise (a cutter)",
    (MortiseAndTenon, "edge_offset"): "Tenon in from the face edge",
    (MortiseAndTenon, "width"): "Width of the tenon",
    (MortiseAndTenon, "haunch_length"): "Length of the haunch",
    (MortiseAndTenon, "haunch_width"): "Width of the haunch",
    (LooseTenonJoint, "offset"): "Mortises behind the face side",
    (LooseTenonJoint, "thickness"): "Width of the mortises (a cutter)",
    (LooseTenonJoint, "edge_offset"): "In from the face edge",
    (LooseTenonJoint, "width"): "Length of the mortises",
    (LooseTenonJoint, "depth"): "Depth in the end",
    (LooseTenonJoint, "mate_depth"): "Depth in the mate",
    (TongueJoint, "length"): "How far it enters",
    (TongueJoint, "offset"): "Groove behind the face side",
    (TongueJoint, "thickness"): "Width of the groove (a cutter)",
    (DovetailJoint, "count"): "Tails",
    (DovetailJoint, "pin"): "Pins where they are narrowest",
    (DovetailJoint, "half_pin"): "Half pins at the edges",
    (DovetailJoint, "slope"): "Slope, 1 in",
    (HalfLapJoint, "face"): "Its lap is cut into the",
    (HalfLapJoint, "depth"): "Depth of its lap (0: half)",
    (BridleJoint, "offset"): "Slot behind the mate's face",
    (BridleJoint, "thickness"): "Width of the slot (a cutter)",
    (BridleJoint, "face"): "Counted from the mate's",
}
FIT = {
    "cheek": "Clearance at each cheek", "sideways": "Clearance in width, in all", "beyond": "Clearance beyond the tip",
}  # fmt: skip


@dataclass(frozen=True)
class Asked:
    """What was asked for, as far as it could be read: `typed` stands in the fields again."""

    typed: Mapping[str, str]
    faults: dict[str, str] = field(default_factory=dict)
    joining: Joining | None = None


def asked(job: Job, typed: Mapping[str, str]) -> Asked:
    """What two lines are to be joined, and how; `joining` is None while anything is missing or wrong."""
    found = Asked(typed)
    lines = {line.key: line for line in lines_of(job)}
    comes, mate = (_line(lines, typed, name, found.faults) for name in ("comes", "mate"))
    if comes is not None and comes is mate:
        found.faults["mate"] = "A line cannot be joined to itself, since its parts are alike. Make two lines of it."
    kind = _choice(Kind, "kind", found)
    end, face = _choice(Face, "end", found), _choice(Face, "face", found)
    at = _length("at", job, found)
    behind = _length("behind", job, found) if typed.get("behind", "").strip() else None
    lap, past = _length("lap", job, found), _length("past", job, found)
    if found.faults or comes is None or mate is None:
        return found
    across = typed.get("lies") == "across" or (not typed.get("lies") and _usually_across(kind, end, face))
    meets = Abutment(end, face, at, behind, across, turned=typed.get("turned") == "yes")
    return replace(found, joining=Joining(kind, comes, mate, meets, "through" in typed, lap, "haunch" in typed, past))


def _usually_across(kind: Kind, end: Face, face: Face) -> bool:
    return kind is Kind.HOUSED or (kind is Kind.TONGUE and end in ENDS and face in FACES)


def _line(lines: Mapping[str, Line], typed: Mapping[str, str], name: str, faults: dict[str, str]) -> Line | None:
    line = lines.get(typed.get(name, ""))
    if line is None:
        faults[name] = "Choose a line."
    return line


def _choice(kind: Any, name: str, found: Asked) -> Any:
    text = found.typed.get(name, "")
    if text not in [each.value for each in kind]:
        found.faults[name] = "Choose one of these."
        return next(iter(kind))
    return kind(text)


def _length(name: str, job: Job, found: Asked) -> int:
    text = found.typed.get(name, "").strip()
    try:
        return length_reader(job.unit)(text) if text else 0
    except ValueError as err:
        what, _, do = str(err).partition("\n")
        found.faults[name] = f"{what}. {do}".strip()
        return 0


# --- sizes -------------------------------------------------------------------------------------------------------


def sizes_of(
    joining: Joining, joints: tuple[Definition, ...], unit: Unit, typed: Mapping[str, str], faults: Mapping[str, str]
) -> list[tuple[Entry, ...]]:
    """The fields of each joint's sizes and fit; with `faults` what was typed stands in them again."""
    found = []
    for nth, joint in enumerate(joints):
        own, wrong = _of(nth, typed), _of(nth, faults)
        items = form_of(joint, unit, _hidden(joining, joint), own if faults else {}, wrong)
        entries = [_worded(item, joint, nth) for item in items if not isinstance(item, Group)]
        fit = getattr(joint, "fit", None)
        if fit is not None:
            for name, nm in (("cheek", fit.thickness // 2), ("sideways", fit.width), ("beyond", fit.depth)):
                text = length_text(nm, unit).removesuffix(f" {unit}")
                text = own.get(name, text) if faults else text
                if name != "sideways" or isinstance(joint, MortiseAndTenon):
                    entries.append(Entry(f"{nth}.{name}", FIT[name], text, "length", says=wrong.get(name, "")))
        found.append(tuple(entries))
    return found


def read_sizes(
    joining: Joining, joints: tuple[Definition, ...], unit: Unit, typed: Mapping[str, str], habits: Habits = PRINTED
) -> tuple[tuple[Definition, ...], dict[str, str]]:
    """The joints with the sizes that were typed over those proposed, and what is wrong by field."""
    found: list[Definition] = []
    faults: dict[str, str] = {}
    for nth, joint in enumerate(joints):
        own = _of(nth, typed)
        made, wrong = read_form(joint, own, unit, _hidden(joining, joint))
        faults |= {f"{nth}.{name}": says for name, says in wrong.items()}
        fit = getattr(joint, "fit", None)
        if fit is not None:
            sizes = {"cheek": fit.thickness // 2, "sideways": fit.width, "beyond": fit.depth}
            for name in sizes:
                if name in own:
                    try:
                        sizes[name] = length_reader(unit)(own[name].strip() or "0")
                    except ValueError as err:
                        what, _, do = str(err).partition("\n")
                        faults[f"{nth}.{name}"] = f"{what}. {do}".strip()
            # What cannot be halved stays as it was proposed unless a clearance was typed.
            thickness = fit.thickness if sizes["cheek"] == fit.thickness // 2 else 2 * sizes["cheek"]
            if made is not None:
                made = refitted(joining, made, Fit(thickness, sizes["sideways"], sizes["beyond"]), unit, habits)
        found.append(made if made is not None else joint)
    return tuple(found), faults


def _hidden(joining: Joining, joint: Definition) -> frozenset[str]:
    if isinstance(joint, MortiseAndTenon) and joint.haunch_length:
        return HAUNCHED_HIDDEN
    return HOUSED_HIDDEN if joining.kind is Kind.HOUSED else HIDDEN


def _of(nth: int, typed: Mapping[str, str]) -> dict[str, str]:
    start = f"{nth}."
    return {name.removeprefix(start): text for name, text in typed.items() if name.startswith(start)}


def _worded(entry: Entry, joint: Definition, nth: int) -> Entry:
    return replace(entry, name=f"{nth}.{entry.name}", label=WORDS.get((type(joint), entry.name), entry.label))


def pairs_of(joining: Joining, typed: Mapping[str, str]) -> dict[str, str]:
    """Which part goes into which: as chosen, or as they match."""
    chosen = {part.key: typed[f"pair.{part.key}"] for part in joining.comes.parts if f"pair.{part.key}" in typed}
    mates = {part.key for part in joining.mate.parts}
    if not chosen or any(mate and mate not in mates for mate in chosen.values()):
        return matched(joining)
    return {part: mate for part, mate in chosen.items() if mate}
