"""Reading a drawing back as a browser would: its texts with their boxes, measured by the fonts themselves."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple

from fontTools.ttLib import TTFont

import shopfloor.paper

SVG = "{http://www.w3.org/2000/svg}"
FONTS = Path(shopfloor.paper.__file__).parent / "fonts"


class TextBox(NamedTuple):
    """One text element: what it says, the size of its first letters, and the rectangle that its letters fill."""

    says: str
    size: float
    left: float
    top: float
    right: float
    foot: float
    classes: str

    def touches(self, other: TextBox) -> bool:
        return self.left < other.right and other.left < self.right and self.top < other.foot and other.top < self.foot


@cache
def glyphs(bold: bool) -> list[tuple[dict[int, str], dict[str, tuple[int, int]], object]]:
    weight = "Bold" if bold else "Regular"
    fonts = [TTFont(FONTS / f"{name}-{weight}.ttf") for name in ("AtkinsonHyperlegibleNext", "NotoSans")]
    return [(font.getBestCmap(), font["hmtx"].metrics, font["glyf"]) for font in fonts]


@cache
def letter(char: str, bold: bool) -> tuple[float, float, float]:
    """(advance, lowest ink, highest ink) of a letter, in its size; both fonts have 1000 units to the em."""
    for cmap, metrics, outlines in glyphs(bold):
        if ord(char) in cmap:
            name = cmap[ord(char)]
            outline = outlines[name]  # type: ignore[index]
            inked = outline.numberOfContours != 0
            return (
                metrics[name][0] / 1000,
                outline.yMin / 1000 if inked else 0.0,
                outline.yMax / 1000 if inked else 0.0,
            )
    return 1.0, -0.2, 0.9


def texts(svg: str) -> list[TextBox]:
    """Every text of a drawing, in the order of the file."""
    return list(_texts(ET.fromstring(svg), {}))


def _texts(node: ET.Element, inherited: dict[str, str]) -> Iterator[TextBox]:
    look = inherited | node.attrib
    if node.tag == f"{SVG}text":
        yield _box(node, look)
        return
    for child in node:
        yield from _texts(child, look)


def _box(node: ET.Element, look: dict[str, str]) -> TextBox:
    pieces = [(node.text or "", look)]
    for span in node:
        assert span.tag == f"{SVG}tspan"
        pieces.append((span.text or "", {**look, "dx": "0", "dy": "0"} | span.attrib))
        pieces.append((span.tail or "", look | {"dx": "0", "dy": "0"}))
    pen, base = 0.0, float(node.attrib["y"])
    tops, feet = [], []
    first = None
    for said, style in pieces:
        if not said:
            continue
        size, bold = float(style["font-size"]), style.get("font-weight") == "700"
        first = first or size
        pen += float(style.get("dx", "0"))
        base += float(style.get("dy", "0"))
        for char in said:
            wide, low, high = letter(char, bold)
            pen += wide * size
            tops.append(base - high * size)
            feet.append(base - low * size)
    x = float(node.attrib["x"])
    left = x - {"start": 0.0, "middle": pen / 2, "end": pen}[look.get("text-anchor", "start")]
    assert first is not None, "an empty text"
    return TextBox("".join(said for said, _ in pieces), first, left, min(tops), left + pen, max(feet), look["class"])
