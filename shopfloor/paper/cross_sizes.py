"""What the drawing cannot show to scale: how wide and deep each cut is, and how far from the reference surfaces.

Features that share all sizes across the part share a line, since they share a setting of the machine.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..trade.length import Length
from ..trade.part import (
    EDGES,
    ENDS,
    FACES,
    Bridle,
    Chamfer,
    Dado,
    EdgeNote,
    Face,
    Feature,
    Groove,
    HalfLap,
    Hole,
    HoleRow,
    Line,
    LooseTenon,
    Mortise,
    OpenMortise,
    Pins,
    Rabbet,
    Roundover,
    Tails,
    Taper,
    Tenon,
    Tongue,
    Unit,
)
from .type import Run, Runs, fit, measured, plain, width

Said = tuple[str | Length, ...]
"""Text with lengths: words, and whole nanometres that are written in the reader's unit."""

OPPOSITE = {"inside": "outside", "front": "back", "top": "bottom", "left": "right", "upper": "lower"}
OPPOSITE |= {word: other for other, word in OPPOSITE.items()} | {"underside": "top"}
NOUNS = ("face", "side", "edge", "end", "surface", "underside")
"""Words that name a surface by themselves: "inside" becomes "inside face", "underside" stays."""


def surface(face: Face, line: Line) -> str:
    """The name of a surface as it goes on the drawing: by where it looks in the piece, if the document says so."""
    if face in ENDS:
        given, noun = line.datum, "end"
    elif face in FACES:
        given, noun = line.face_side, "face"
    else:
        given, noun = line.face_edge, "face" if line.thickness == line.width else "edge"
    given = plain(given)
    if face in (Face.BACK, Face.FAR_EDGE, Face.FAR_END):
        given = OPPOSITE.get(given.lower(), "")
    if not given:
        return face.value
    return given if given.lower().split()[-1] in NOUNS else f"{given} {noun}"


def cross_sizes(line: Line, own: Sequence[Feature] | None = None) -> list[tuple[tuple[Feature, ...], Said]]:
    """The features of a line, or only its `own`, those of the same sizes across together, and what is said of them."""
    groups: dict[tuple[str, Said], list[Feature]] = {}
    for feature in line.features if own is None else own:
        groups.setdefault((feature.kind, _sizes(feature, line)), []).append(feature)
    return [(tuple(features), (_where(features, line), ": ", *sizes)) for (_, sizes), features in groups.items()]


def _where(features: Sequence[Feature], line: Line) -> str:
    """The surfaces that a group is cut into, or the ends and edges that it stands at."""
    faces = list(dict.fromkeys(feature.face for feature in features))
    if isinstance(features[0], Tenon | Tongue | OpenMortise | LooseTenon | Tails | Pins):
        for word, meant in _ALL.items():
            if set(faces) == meant:
                return word
    said = _listed([surface(face, line) for face in faces])
    if isinstance(features[0], Rabbet):
        along = dict.fromkeys(feature.along for feature in features if isinstance(feature, Rabbet))
        said += f" at {_listed([surface(face, line) for face in along])}"
    if isinstance(features[0], EdgeNote):
        arrises = dict.fromkeys((one.face, one.along) for one in features if isinstance(one, EdgeNote))
        return _listed([f"{surface(face, line)} at {surface(along, line)}" for face, along in arrises])
    if isinstance(features[0], Pins):
        into = dict.fromkeys(feature.into for feature in features if isinstance(feature, Pins))
        said += f", from {_listed([surface(face, line) for face in into])}"
    return said


def _listed(words: Sequence[str]) -> str:
    """
    >>> _listed(["left end", "right end", "front edge"])
    'left end, right end and front edge'
    """
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


_ALL = {"both ends": {*ENDS}, "both edges": {*EDGES}, "all round": {*ENDS, *EDGES}}


def _sizes(feature: Feature, line: Line) -> Said:
    side, edge = surface(Face.FACE_SIDE, line), surface(Face.FACE_EDGE, line)
    reference = edge if feature.face in FACES else side
    match feature:
        case Mortise() | Groove():
            return (feature.width, " wide, ", *_deep(feature.depth), ", ", *_from(feature.offset, reference))
        case LooseTenon() if feature.face in ENDS:
            said = (feature.width, " wide, ", feature.depth, " deep, ", *_from(feature.offset, side), ", ")
            said = (*said, feature.length, " long, ", *_from(feature.start, edge))
            return (*said, ", loose tenon ", feature.tenon, " long")
        case LooseTenon():
            said = (feature.width, " wide, ", feature.depth, " deep, ", *_from(feature.offset, reference))
            return (*said, ", loose tenon ", feature.tenon, " long")
        case Hole():
            return (feature.diameter, " bore, ", *_deep(feature.depth), ", middle ", *_from(feature.offset, reference))
        case HoleRow():
            said = (f"{feature.count} holes, ", feature.diameter, " bore, ", *_deep(feature.depth), ", middle ")
            said = (*said, *_from(feature.offset, reference))
            return (*said, ", every ", feature.pitch) if feature.pitch else said
        case Dado():
            said = (feature.width, " wide, ", *_deep(feature.depth))
            if feature.offset:
                said = (*said, ", ", *_from(feature.offset, reference))
            return (*said, ", ", feature.across, " across") if feature.across else said
        case Rabbet():
            return (feature.width, " wide, ", *_deep(feature.depth))
        case HalfLap():
            return (feature.length, " long, ", *_deep(feature.depth))
        case OpenMortise():
            return (feature.width, " wide, ", *_deep(feature.depth), ", ", *_from(feature.offset, side))
        case Bridle():
            own = side if feature.face in FACES else edge
            return (feature.thickness, " thick, ", *_from(feature.offset, own), ", ", feature.length, " long")
        case Tenon():
            said = (feature.length, " long, ", feature.thickness, " thick, ", feature.width, " wide, ")
            said = (*said, *_from(feature.offset, side), ", ", *_from(feature.edge_offset, edge))
            if not feature.haunch_length:
                return said
            beside = surface(feature.haunch_beside, line)
            return (*said, ", haunch ", feature.haunch_length, " long, ", feature.haunch_width, f" wide at {beside}")
        case Tongue():
            return (feature.length, " long, ", feature.thickness, " thick, ", *_from(feature.offset, side))
        case Tails():
            said = (f"{feature.count} tails, 1 in {feature.slope}, ", feature.length, " long, ")
            return (*said, *_flared(feature, line, "at the end", "at the baseline"))
        case Pins():
            sockets = f"{feature.count} socket{'s' if feature.count != 1 else ''}, 1 in {feature.slope}, "
            said = (sockets, feature.length, " long, ", *_deep(feature.depth), ", ")
            return (*said, *_flared(feature, line, "at the bottom", "at the surface"))
        case Taper():
            return ("from ", feature.start, " on, ", feature.depth, f" off at {surface(feature.to, line)}")
        case Chamfer():
            return (feature.size, " wide")
        case Roundover():
            return (feature.size, " radius")


def _flared(feature: Tails | Pins, line: Line, wide: str, narrow: str) -> Said:
    """The marks of tails or sockets from the face edge, where they are wide and where they are narrow."""
    tails = feature.tails(line.stock)
    wide_at = [at for tail in tails for at in tail[:2]]
    narrow_at = [at for tail in tails for at in tail[2:]]
    from_edge = f"from {surface(Face.FACE_EDGE, line)} "
    return (from_edge, f"{wide}: ", *_row(wide_at), f"; {narrow}: ", *_row(narrow_at))


def _row(lengths: Sequence[Length]) -> Said:
    return tuple(piece for length in lengths for piece in (", ", length))[1:]


def _deep(depth: Length) -> Said:
    return (depth, " deep") if depth else ("right through",)


def _from(offset: Length, reference: str) -> Said:
    return (offset, f" from {reference}") if offset else (f"flush with {reference}",)


def called(features: Sequence[Feature]) -> str:
    """What a group of features of one kind is called: "mortise", "7 mortises"."""
    kind = features[0].kind
    return kind if len(features) == 1 else f"{len(features)} {_PLURAL.get(kind, kind + 's')}"


_PLURAL = {"dado": "dadoes", "tails": "sets of tails", "pins": "sets of pins"}


def set_lines(
    line: Line,
    own: Sequence[Feature],
    letters: Mapping[str, str],
    unit: Unit,
    denominator: int,
    size: float,
    room: float,
) -> list[list[Runs]]:
    """The sizes across of some features, a group of them after the other, each set in lines no longer than `room`: the
    name of the cut and its pair letters first, in bold."""
    groups: list[list[Runs]] = []
    for features, said in cross_sizes(line, own):
        words: list[Runs] = [(Run(word, size, True),) for word in called(features).split()]
        for letter in dict.fromkeys(plain(letters.get(feature.key, "")) for feature in features):
            words += [(Run(word, size, True, "crayon"),) for word in letter.split()]
        words += _words(said, unit, denominator, size)
        groups.append(wrapped(words, size, room))
    return groups


def _words(said: Said, unit: Unit, denominator: int, size: float) -> list[Runs]:
    """Text with lengths as words that are not broken; a length keeps to the word after it."""
    words: list[Runs] = []
    open_ended, after_length = True, False
    for piece in said:
        if isinstance(piece, int):
            words.append(measured(piece, unit, denominator, size))
            open_ended, after_length = False, True
            continue
        for i, word in enumerate(piece.split(" ")):
            if word and i == 0 and not open_ended:  # no space before it: a comma, a colon
                words[-1] = (*words[-1], Run(word, size))
            elif word and after_length:
                words[-1] = (*words[-1], Run(" ", size), Run(word, size))
            elif word:
                words.append((Run(word, size),))
            after_length = after_length and not word
        open_ended = piece.endswith(" ")
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
