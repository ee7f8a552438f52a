"""What a part cannot have is found with its place, and what one can be seen to have has no fault."""

from __future__ import annotations

from typing import Any

import pytest

from shopfloor.trade.breakouts import a_kind, feature_faults
from shopfloor.trade.length import write_exact
from shopfloor.trade.part import (
    Bridle,
    Chamfer,
    Face,
    Feature,
    HalfLap,
    HoleRow,
    LooseTenon,
    OpenMortise,
    Pins,
    Roundover,
    Tails,
    Taper,
    Tenon,
    Unit,
)  # fmt: skip

from .one_of_each import MM, ONE_OF_EACH, STOCK

SIDE, EDGE, END = Face.FACE_SIDE, Face.FACE_EDGE, Face.FAR_END


def faults(feature: Feature) -> list[tuple[str, str]]:
    found = feature_faults(feature, STOCK, "here", lambda nm: write_exact(abs(nm), Unit.MM))
    return [(fault.where.removeprefix("here"), fault.what) for fault in found]


def holes(**other: Any) -> HoleRow:
    """Five holes of 8 mm, the first at 50."""
    sizes = {"first": 50 * MM, "count": 5, "offset": 30 * MM, "diameter": 8 * MM} | other
    return HoleRow("f", SIDE, **sizes)


@pytest.mark.parametrize("feature", ONE_OF_EACH.values(), ids=ONE_OF_EACH)
def test_each_kind_of_feature_has_its_place_in_a_part(feature: Feature) -> None:
    assert faults(feature) == []


FAULTY_KINDS: dict[str, tuple[Feature, str, str]] = {
    "a loose tenon beside the end": (
        LooseTenon("f", END, 60 * MM, 40 * MM, 7 * MM, 6 * MM, 9 * MM, 9 * MM), "", "10 mm outside the far edge"),
    "holes past the end": (holes(pitch=90 * MM), "", "14 mm past the far end"),
    "holes beside the edge": (holes(pitch=9 * MM, offset=3 * MM), "", "1 mm outside the face edge"),
    "one hole": (holes(pitch=9 * MM, count=1), ", count", "1 is out of range"),
    "a million holes": (holes(pitch=9, count=10**6), ", count", "1000000 is out of range"),
    "holes to nowhere": (holes(), "", "nothing says how far it goes"),
    "holes told twice": (holes(last=90 * MM, pitch=MM), "", "both the last hole and a pitch"),
    "holes that go back": (holes(last=40 * MM), ", last", "40 mm is not past the first"),
    "a lap deeper than the stock": (HalfLap("f", SIDE, 0, 60 * MM, 21 * MM), "", "1 mm outside the back"),
    "a lap past the end": (HalfLap("f", SIDE, 350 * MM, 60 * MM, 9 * MM), "", "10 mm past the far end"),
    "an open mortise in an edge": (OpenMortise("f", EDGE, MM, MM, MM), ", face", "no open mortise is on the face edge"),
    "an open mortise out of the back": (OpenMortise("f", END, MM, 15 * MM, 9 * MM), "", "4 mm outside the back"),
    "a bridle thicker than its stock": (Bridle("f", SIDE, 0, MM, MM, 20 * MM), "", "1 mm outside the back"),
    "a bridle from the back": (Bridle("f", Face.BACK, 0, MM, MM, MM), ", face", "no bridle is on the back"),
    "more tails than the width bears": (Tails("f", END, 20 * MM, 9, 9 * MM, 9 * MM), "", "no width is left for"),
    "tails that come to a point": (Tails("f", END, 90 * MM, 3, 9 * MM, 9 * MM, 5), "", "come to a point"),
    "tails of a slope of 1 in 2": (Tails("f", END, 20 * MM, 3, 9 * MM, 9 * MM, 2), ", slope", "2 is out of range"),
    "tails on a face": (Tails("f", SIDE, 20 * MM, 3, 9 * MM, 9 * MM), ", face", "no tails are on the face side"),
    "tails wider than the part": (
        Tails("f", END, 20 * MM, 3, 6 * MM, 4 * MM, 8, 10 * MM, 90 * MM), "", "these tails come out 6 mm outside"),
    "pins that take tails from an edge": (Pins("f", END, EDGE, 9 * MM, 3, MM, MM), ", into", "no tails enter by"),
    "sockets deeper than the stock": (
        Pins("f", END, SIDE, 9 * MM, 3, MM, MM, 21 * MM), "", "these pins come out 1 mm outside the back"),
    "a taper that takes all": (Taper("f", EDGE, 100 * MM, 91 * MM), "", "1 mm outside the far edge"),
    "a taper to an edge": (Taper("f", EDGE, 100 * MM, 9 * MM, SIDE), ", to", "a taper runs to no face side"),
    "a chamfer where no arris is": (Chamfer("f", SIDE, Face.BACK, MM), ", along", "face side and the back share no"),
    "a roundover on an edge along an edge": (Roundover("f", EDGE, EDGE, MM), ", along", "share no arris"),
    "a roundover larger than the stock": (Roundover("f", SIDE, EDGE, 21 * MM), "", "1 mm outside the back"),
    "half a haunch": (Tenon("f", END, 9 * MM, MM, MM, 9 * MM, MM, 5 * MM), ", haunch_width", "only one size"),
    "a haunch as long as its tenon": (
        Tenon("f", END, 9 * MM, MM, MM, 9 * MM, MM, 9 * MM, MM), ", haunch_length", "is no shorter than its tenon"),
    "a haunch beside the part": (
        Tenon("f", END, 9 * MM, MM, MM, 9 * MM, MM, 5 * MM, 10 * MM), "", "1 mm outside the face edge"),
    "a haunch towards the face": (
        Tenon("f", END, 9 * MM, MM, MM, 9 * MM, MM, 5 * MM, MM, SIDE), ", haunch_beside", "lies towards no face side"),
}  # fmt: skip


@pytest.mark.parametrize(("feature", "where", "says"), FAULTY_KINDS.values(), ids=FAULTY_KINDS)
def test_what_a_part_cannot_have_is_a_fault_with_its_place(feature: Feature, where: str, says: str) -> None:
    ((found, what),) = faults(feature)

    assert found == where
    assert says in what


@pytest.mark.parametrize(
    ("name", "says"),
    [("mortise", "a mortise"), ("open mortise", "an open mortise"), ("tails", "tails"), ("taper", "a taper")],
)
def test_a_sentence_names_a_feature_as_people_do(name: str, says: str) -> None:
    assert a_kind(ONE_OF_EACH[name]) == says
