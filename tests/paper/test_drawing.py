"""A part's drawing shows every cut, from the datum end, and can be put anywhere a part is shown."""

from __future__ import annotations

import xml.etree.ElementTree as ET

from shopfloor.paper.drawing import draw
from shopfloor.trade.part import Face, Groove, Line, Mortise, Part, Unit

SVG = "{http://www.w3.org/2000/svg}"
INCH = 25_400_000

LEG = Line(
    key="leg",
    assembly="legs",
    name="Leg <b>&",
    thickness=44_450_000,
    width=44_450_000,
    length=920_750_000,
    datum="top",
    face_side="inside",
    face_edge="front",
    features=(
        Mortise("upper", Face.FACE_SIDE, 9_525_000, 63_500_000, 17_462_500, 9_525_000, 26_987_500),
        Groove("groove", Face.FACE_SIDE, 19_050_000, 6_350_000, 9_525_000, 73_025_000, 711_200_000),
        Mortise("lower", Face.FACE_SIDE, 784_225_000, 63_500_000, 17_462_500, 9_525_000, 26_987_500),
    ),
)


def test_every_feature_is_drawn_and_markup_in_a_name_stays_text():
    drawn = ET.fromstring(draw(LEG, Part("leg"), unit=Unit.INCH, denominator=16))

    assert {one.get("data-feature") for one in drawn.iter(f"{SVG}g") if one.get("data-feature")} == {
        "upper", "groove", "lower",
    }  # fmt: skip
    assert drawn.findtext(f"{SVG}title") == "Leg <b>&, as drawn"
