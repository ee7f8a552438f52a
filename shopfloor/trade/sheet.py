"""What does the maker need to see of one part?  Everything a part sheet shows, gathered from the document."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .layout import Mark, marks
from .part import Assembly, Feature, Half, Hand, Job, Line, Part, Stock
from .route import Step, route


@dataclass(frozen=True)
class Mate:
    """The other half of a joint: its pair letter, the part it is on, and what happens where they meet."""

    letter: str
    part: str
    code: str
    name: str
    place: str
    says: str

    @property
    def called(self) -> str:
        """The mate in one breath: "Front left leg"."""
        return called(self.name, self.place)


@dataclass(frozen=True)
class Sheet:
    """One part, with all that belongs on its sheet and its label.

    `place` is where the part sits, or which of its line it is ("2 of 4").  `nth` is (this one's number in its stack,
    how many there are); `mirrors` names the place of the part that this one is the mirror image of, or is empty.
    `letter_of` gives the pair letter of each feature that has one.
    """

    code: str
    stack_code: str
    assembly: Assembly
    line: Line
    part: Part
    place: str
    nth: tuple[int, int]
    mirrors: str
    marks: tuple[Mark, ...]
    route: tuple[Step, ...]
    mates: tuple[Mate, ...]
    letter_of: Mapping[str, str]
    species: str

    @property
    def called(self) -> str:
        """The part in one breath: "Front left leg", or "Slat, 2 of 4"."""
        return called(self.line.name, self.place)

    @property
    def letters(self) -> tuple[str, ...]:
        """The pair letters on this part, each once, in order."""
        return tuple(sorted({letter for letter in self.letter_of.values() if letter}, key=lettering))


def places_in(line: Line) -> dict[str, str]:
    """Where each part of a line sits, by its key.  Where nobody has said, which of the line it is, for its label must
    tell it from its twins; nothing if it is alone.

    >>> places_in(Line("slat", "seat", "Slat", 1, 2, 3, parts=(Part("a"), Part("b"), Part("c", "front"))))
    {'a': '1 of 3', 'b': '2 of 3', 'c': 'front'}
    """
    count = len(line.parts)
    return {
        part.key: part.place or (f"{number} of {count}" if count > 1 else "")
        for number, part in enumerate(line.parts, start=1)
    }


def called(name: str, place: str) -> str:
    """What a part is called at the bench.  Twin: `called` in static/phone/pack.js; vectors: called.json.

    >>> called("Leg", "front left"), called("Slat", "2 of 4"), called("Top", "")
    ('Front left leg', 'Slat, 2 of 4', 'Top')
    """
    if not place:
        return name
    if place[0] in "0123456789":
        return f"{name}, {place}"
    own = name if name[1:2].isupper() else name[:1].lower() + name[1:]
    return f"{place[:1].upper()}{place[1:]} {own}"


def lettering(letter: str) -> tuple[int, int, str]:
    """The order of pair letters: by assembly, then A to Z before AA; a part without one comes last.

    >>> sorted(["5AA", "", "10A", "5C", "5B"], key=lettering)
    ['5B', '5C', '5AA', '10A', '']
    """
    number = letter.rstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    return (int(number) if number.isdigit() else 0 if letter else 2**31, len(letter), letter)


def letters_at(job: Job) -> dict[str, dict[str, str]]:
    """The pair letter at each cut that has one: by the key of its part, then its own."""
    found: dict[str, dict[str, str]] = {}
    for joint in job.joints:
        for half in (joint.enters, joint.takes):
            if joint.letter:
                found.setdefault(half.part, {})[half.feature] = joint.letter
    return found


def stack_key(assembly: str) -> str:
    """The key under which the code of an assembly's stack is kept."""
    return f"stack:{assembly}"


def sheets(job: Job, codes: Mapping[str, str]) -> list[Sheet]:
    """The sheets of a job, stack by stack in the order of the cut list.

    `codes` gives the code of each part by its key, and of each stack by `stack_key`.  Raises KeyError if one is
    missing: codes are allotted when a revision is saved, before anybody can ask for a sheet.
    """
    where = {part.key: (line, part) for line in job.lines for part in line.parts}
    place_of = {key: place for line in job.lines for key, place in places_in(line).items()}
    features = {line.key: {feature.key: feature for feature in line.features} for line in job.lines}

    def feature_of(half: Half) -> Feature:
        return features[where[half.part][0].key][half.feature]

    drawn: dict[Form, list[str]] = {}
    for line in job.lines:
        places = [part.place for part in line.parts if part.hand is Hand.AS_DRAWN and part.place]
        drawn.setdefault(_form(line), []).extend(places)

    mates: dict[str, dict[Mate, None]] = {}
    letter_of = letters_at(job)
    for joint in job.joints:
        for own, other in ((joint.enters, joint.takes), (joint.takes, joint.enters)):
            line, part = where[other.part]
            mate = Mate(
                letter=joint.letter,
                part=part.key,
                code=codes[part.key],
                name=line.name,
                place=place_of[part.key],
                says=_says(feature_of(own).kind, feature_of(other).kind, enters=own is joint.enters),
            )
            mates.setdefault(own.part, {})[mate] = None

    routes: dict[tuple[str, bool], tuple[Step, ...]] = {}

    def route_of(line: Line, joined: bool) -> tuple[Step, ...]:
        if (line.key, joined) not in routes:
            routes[line.key, joined] = route(line, joined=joined)
        return routes[line.key, joined]

    made = []
    for assembly in sorted(job.assemblies, key=lambda one: one.number):
        own_lines = [line for line in job.lines if line.assembly == assembly.key]
        count = sum(len(line.parts) for line in own_lines)
        number = 0
        for line in own_lines:
            line_marks = marks(line)
            for part in line.parts:
                number += 1
                own_mates = sorted(mates.get(part.key, ()), key=lambda mate: lettering(mate.letter))
                made.append(
                    Sheet(
                        code=codes[part.key],
                        stack_code=codes[stack_key(assembly.key)],
                        assembly=assembly,
                        line=line,
                        part=part,
                        place=place_of[part.key],
                        nth=(number, count),
                        mirrors=_mirrors(drawn[_form(line)], part),
                        marks=line_marks,
                        route=route_of(line, bool(own_mates)),
                        mates=tuple(own_mates),
                        letter_of=letter_of.get(part.key, {}),
                        species=line.species or job.species,
                    )
                )
    return made


def _says(own: str, other: str, *, enters: bool) -> str:
    """What happens where two halves meet.

    >>> _says("tails", "pins", enters=True), _says("half lap", "half lap", enters=True)
    ('tails enter their pins', 'half lap meets its half lap')
    """
    verb, its = ("meet" if own == other else "enter" if enters else "take"), "their"
    if not own.endswith("s"):
        verb, its = f"{verb}s", "its"
    return f"{own} {verb} {its} {other}"


Form = tuple[str, Stock, tuple[Feature, ...]]
"""What two lines share when the parts of one can be mirror images of the other's."""


def _form(line: Line) -> Form:
    return line.name, line.stock, line.features


def _mirrors(drawn: Sequence[str], part: Part) -> str:
    """The place of the part that this one mirrors: of those as drawn, the one whose place shares most words."""
    if part.hand is Hand.AS_DRAWN:
        return ""
    words = set(part.place.split())
    return max(drawn, key=lambda place: len(words & set(place.split())), default="")
