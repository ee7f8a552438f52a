"""Which part goes into which, and how are two lines joined in the job?  Each pair of parts is given its letter."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from .construct.made import letters
from .corner_joint import BridleJoint
from .joining import Definition, Joining, Kind, numbered
from .joint import BadJoint
from .length import Length
from .own_lines import settled
from .part import EDGES, ENDS, Bridle, Dado, Face, Feature, Groove, Half, HalfLap, Hand, Job, Joint, Line
from .rounding import told

__all__ = ["joined", "matched"]


def matched(joining: Joining) -> dict[str, str]:
    """For each part that comes its mate, by keys: of the same place first, then of the hand that lets both count from
    their like sides, then in order; a part for which none is left has none.

    Each mate is given once.
    """
    like = joining.stands().same_way()
    left = list(joining.mate.parts)
    found: dict[str, str] = {}
    for rule in ("place", "hand", "order"):
        for part in joining.comes.parts:
            if part.key in found:
                continue
            mate = next(
                (each for each in left
                 if rule == "order" or (rule == "place" and part.place and each.place == part.place)
                 or (rule == "hand" and (each.hand is part.hand) == like)),
                None,
            )  # fmt: skip
            if mate:
                found[part.key] = mate.key
                left.remove(mate)
    return found


def joined(job: Job, joining: Joining, joints: Iterable[Definition], pairs: Mapping[str, str], note: str = "") -> Job:
    """The job with these cuts in both lines, and a joint for each pair of parts ("part that comes": "its mate").

    Raises BadJoint if nothing is paired, if an end is joined already, or if two pairs would need different cuts, since
    parts of a line are alike.
    """
    comes, mate = joining.comes, joining.mate
    hands: dict[str, Hand] = {part.key: part.hand for line in (comes, mate) for part in line.parts}
    if comes.key == mate.key:
        raise BadJoint("the parts of one line are alike, and cannot be halves of one joint", "Make two lines of it.")
    if not pairs:
        raise BadJoint("no two parts are paired", "Say which part goes into which.")
    if joining.ends_there():
        _ends_free(job, joining, pairs)
    made: list[Joint] = []
    free = _free_letters(job, comes)
    for nth, joint in enumerate(joints):
        cuts = {(hands[one] is hands[other]): joining.made(joint, same_hand=hands[one] is hands[other], unit=job.unit)
                for one, other in pairs.items()}  # fmt: skip
        first, *others = cuts.values()
        if any(each != first for each in others):
            raise BadJoint(
                "parts of opposite hands would need different cuts", "Join those of one hand, or centre the joint."
            )
        swapped = isinstance(joint, BridleJoint)
        of_comes, of_mate = (first.takes, first.enters) if swapped else (first.enters, first.takes)
        comes, own = _with(job, comes, of_comes, pairs.keys(), joining.kind)
        mate, its = _with(job, mate, of_mate, pairs.values(), joining.kind)
        for one, other in pairs.items():
            halves = (Half(other, its), Half(one, own)) if swapped else (Half(one, own), Half(other, its))
            letter = "" if nth or (joining.kind is Kind.TONGUE and joining.meets.end in EDGES) else next(free)
            made.append(Joint(_joint_key(job, made, f"{one}-{own}"), *halves, letter, note))
    lines = {joining.comes.key: comes, joining.mate.key: mate}
    return settled(
        replace(job, lines=tuple(lines.get(each.key, each) for each in job.lines), joints=(*job.joints, *made))
    )


def _ends_free(job: Job, joining: Joining, pairs: Mapping[str, str]) -> None:
    """Raises BadJoint if a part has a joint already at the end (or edge) that comes."""
    end, long = joining.meets.end, joining.comes.length
    there = {
        each.key for each in joining.comes.features
        if getattr(each, "face", None) is end
        or (isinstance(each, HalfLap) and end in ENDS and _reaches_out(each, end, long))
    }  # fmt: skip
    for joint in job.joints:
        for half in (joint.enters, joint.takes):
            if half.part in pairs and half.feature in there:
                place = next(part.place for part in joining.comes.parts if part.key == half.part)
                called = f"{joining.comes.name} {place}".strip()
                raise BadJoint(
                    f"{called} is joined at its {joining.meets.end} already{joint.letter and ', ' + joint.letter}",
                    "Let another part or end come, or take that joint out.",
                )


def _reaches_out(lap: HalfLap, end: Face, long: Length) -> bool:
    return lap.start <= 0 if end is Face.DATUM_END else lap.start + lap.length >= long


def _with(job: Job, line: Line, cuts: tuple[Feature, ...], parts: Iterable[str], kind: Kind) -> tuple[Line, str]:
    """The line with these cuts, and the key of the first.  One that is there already is taken again: a groove by
    several tongues, anything else by parts that have no joint in it yet."""
    first = cuts[0]
    wanted = set(parts)
    for each in line.features:
        used = any(half.feature == each.key and half.part in wanted
                   for joint in job.joints for half in (joint.enters, joint.takes))  # fmt: skip
        shared = isinstance(each, Groove | Dado) and kind is Kind.TONGUE
        if (shared or not used) and _alike(each, first):
            beside = tuple(cut for cut in cuts[1:] if not any(_alike(other, cut) for other in line.features))
            return replace(line, features=(*line.features, *beside)), each.key
        if isinstance(each, HalfLap | Bridle) and isinstance(first, HalfLap | Bridle):
            begins, ends = max(each.start, first.start), min(each.start + each.length, first.start + first.length)
            if begins < ends:
                what = f"{line.name} has a {each.kind} already {told(begins, job.unit)} from its datum end"
                raise BadJoint(what, "Let the two meet elsewhere, or take that joint out.")
    return replace(line, features=(*line.features, *cuts)), first.key


def _alike(one: Feature, other: Feature) -> bool:
    def bare(feature: Any) -> Any:
        return replace(feature, key="", note="")

    return type(one) is type(other) and bool(bare(one) == bare(other))


def _joint_key(job: Job, made: Iterable[Joint], start: str) -> str:
    taken = {each.key for each in (*job.joints, *made)}
    return next(key for nth in range(1, len(taken) + 2) if (key := numbered(start, nth)) not in taken)


def _free_letters(job: Job, line: Line) -> Iterator[str]:
    number = next(each.number for each in job.assemblies if each.key == line.assembly)
    taken = {each.letter for each in job.joints}
    return (letter for each in letters() if (letter := f"{number}{each}") not in taken)
