"""What the drawing cannot show to scale: how wide and deep each cut is, and how far from the reference surfaces.

Features that share all sizes across the part share a line, since they share a setting of the machine.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..trade.length import Length
from ..trade.part import Dado, Face, Feature, Groove, Hole, Line, Mortise, Rabbet, Tenon, Tongue, Unit
from .type import Run, Runs, fit, measured, plain, width

Said = tuple[str | Length, ...]
"""Text with lengths: words, and whole nanometres that are written in the reader's unit."""

OPPOSITE = {"inside": "outside", "front": "back", "top": "underside", "left": "right", "upper": "lower"} | {
    "outside": "inside", "back": "front", "underside": "top", "bottom": "top", "right": "left", "lower": "upper",
}  # fmt: skip
SURFACES = ("face", "side", "edge", "surface")


def surface(face: Face, line: Line) -> str:
    """The name of a surface as it goes on the drawing: by where it looks in the piece, if the document says so."""
    given, noun = (line.face_side, "face") if face in (Face.FACE_SIDE, Face.BACK) else (line.face_edge, "edge")
    given = plain(given)
    if line.thickness == line.width:
        noun = "face"
    if not given:
        return face.value
    if face in (Face.BACK, Face.FAR_EDGE):
        turned = OPPOSITE.get(given.lower())
        if turned is None:
            return face.value
        given = turned
    return given if given.lower().split()[-1] in SURFACES else f"{given} {noun}"


def cross_sizes(line: Line) -> list[tuple[tuple[Feature, ...], Said]]:
    """The features of a line, those with the same sizes across together, and what is said of them."""
    groups: dict[tuple[str, Said], list[Feature]] = {}
    for feature in line.features:
        groups.setdefault((feature.kind, _says(feature, line)), []).append(feature)
    return [(tuple(features), said) for (_, said), features in groups.items()]


def _reference(face: Face) -> str:
    return "face edge" if face in (Face.FACE_SIDE, Face.BACK) else "face side"


def _says(feature: Feature, line: Line) -> Said:
    match feature:
        case Mortise():
            said: Said = (surface(feature.face, line), ": ", feature.width, " wide, ", *_deep(feature.depth))
            return (*said, ", ", *_from(feature.offset, _reference(feature.face)))
        case Hole():
            said = (surface(feature.face, line), ": ", feature.diameter, " bore, ", *_deep(feature.depth))
            return (*said, ", middle ", *_from(feature.offset, _reference(feature.face)))
        case Groove():
            said = (surface(feature.face, line), ": ", feature.width, " wide, ", *_deep(feature.depth))
            return (*said, ", ", *_from(feature.offset, _reference(feature.face)))
        case Dado():
            said = (surface(feature.face, line), ": ", feature.width, " wide, ", *_deep(feature.depth))
            if feature.offset:
                said = (*said, ", ", *_from(feature.offset, _reference(feature.face)))
            if feature.across:
                said = (*said, ", ", feature.across, " across")
            return said
        case Rabbet():
            along = (
                feature.along.value if feature.along in (Face.DATUM_END, Face.FAR_END) else surface(feature.along, line)
            )
            if feature.along is Face.DATUM_END and line.datum:
                along = f"{plain(line.datum)} end"
            return (surface(feature.face, line), " at ", along, ": ", feature.width, " wide, ", *_deep(feature.depth))
        case Tenon():
            said = (*_end(feature.face, line), ": ", feature.length, " long, ", feature.thickness, " thick, ")
            said = (*said, feature.width, " wide, ", *_from(feature.offset, "face side"))
            return (*said, ", ", *_from(feature.edge_offset, "face edge"))
        case Tongue():
            at = _end(feature.face, line)
            if feature.face in (Face.FACE_EDGE, Face.FAR_EDGE):
                at = (surface(feature.face, line),)
            said = (*at, ": ", feature.length, " long, ", feature.thickness, " thick, ")
            return (*said, *_from(feature.offset, "face side"))


def _end(face: Face, line: Line) -> Said:
    return (f"{plain(line.datum)} end" if line.datum and face is Face.DATUM_END else face.value,)


def _deep(depth: Length) -> Said:
    return (depth, " deep") if depth else ("right through",)


def _from(offset: Length, reference: str) -> Said:
    return (offset, f" from {reference}") if offset else (f"flush with {reference}",)


def set_lines(
    line: Line, letters: Mapping[str, str], unit: Unit, denominator: int, size: float, room: float
) -> list[Runs]:
    """The sizes across, set in lines no longer than `room`: the name of the cut and its pair letters first, in bold."""
    rows: list[Runs] = []
    for features, said in cross_sizes(line):
        kind = features[0].kind
        name = kind if len(features) == 1 else f"{len(features)} {'dadoes' if kind == 'dado' else kind + 's'}"
        words: list[Runs] = [(Run(word, size, True),) for word in name.split()]
        for letter in dict.fromkeys(plain(letters.get(feature.key, "")) for feature in features):
            words += [(Run(word, size, True, 0.0, "crayon"),) for word in letter.split()]
        words += _words(said, unit, denominator, size)
        rows += wrapped(words, size, room)
    return rows


def _words(said: Said, unit: Unit, denominator: int, size: float) -> list[Runs]:
    """Text with lengths as words that are not broken; a length keeps to the word after it."""
    words: list[Runs] = []
    fresh = True
    for piece in said:
        if isinstance(piece, int):
            runs: Runs = measured(piece, unit, denominator, size)
            words.append(runs) if fresh else words.append((*words.pop(), *runs))
            fresh = False
            continue
        first, *rest = piece.split(" ")
        if first:
            words.append((Run(first, size),)) if fresh else words.append((*words.pop(), Run(first, size)))
            fresh = False
        for word in rest:
            fresh = True
            if word:
                words.append((Run(word, size),))
                fresh = False
    return words


def wrapped(words: Sequence[Runs], size: float, room: float) -> list[Runs]:
    """The words in lines no longer than `room`; a single word that is longer is cut short."""
    space = width([Run(" ", size)])
    rows: list[Runs] = []
    used = 0.0
    for word in words:
        length = width(word)
        if length > room:
            word = (word[0]._replace(text=fit("".join(run.text for run in word), size, room, bold=word[0].bold)),)
            length = width(word)
        if rows and used + space + length <= room:
            rows[-1] = (*rows[-1], Run(" ", size), *word)
            used += space + length
        else:
            rows.append(word)
            used = length
    return rows
