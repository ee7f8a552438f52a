"""What is each line of a stack called where lines are listed?  Lines of one name are told apart by their places."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

from shopfloor.trade.part import Line

__all__ = ["line_names"]


def line_names(lines: Iterable[Line]) -> Mapping[str, str]:
    """The names by the keys of the lines.  Where several lines of a stack share one, the words that the places of a
    line's parts have in common stand with it ("Leg, front"), or else the places themselves, as far as there are any.
    """
    lines = tuple(lines)
    shared = Counter((line.assembly, line.name) for line in lines)
    return {line.key: _told_apart(line) if shared[line.assembly, line.name] > 1 else line.name for line in lines}


def _told_apart(line: Line) -> str:
    places = [part.place for part in line.parts if part.place]
    if not places:
        return line.name
    words = [set(place.split()) for place in places]
    common = " ".join(word for word in places[0].split() if all(word in each for each in words))
    return f"{line.name}, {common or ' and '.join(places)}"
