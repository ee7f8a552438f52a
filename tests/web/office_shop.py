"""A small shop for the tests of the office: one job with names that try to be markup, and a reader of its pages."""

from __future__ import annotations

from html.parser import HTMLParser

from shopfloor.trade.length import read
from shopfloor.trade.part import (
    Assembly,
    Face,
    Half,
    Hand,
    Job,
    Joint,
    Line,
    Mortise,
    Part,
    Tenon,
)

NAME = "Hymn <b>chest</b> & lid"


def small_job() -> Job:
    """Two stacks: two legs (left, and its mirror image right) with a mortise each, and a rail with two tenons."""
    leg = Line(
        "leg", "legs", "Leg <i>front</i>", read("1 3/4"), read("1 3/4"), read("36 1/4"), datum="top",
        features=(Mortise("m", Face.FACE_EDGE, read("3/8"), read("2 1/2"), read("1/4"), read("3/8"), read("1")),),
        parts=(Part("leg.left", "left & near"), Part("leg.right", "right", Hand.MIRROR)),
        note="Turn the <em>best</em> faces out.",
    )  # fmt: skip
    rail = Line(
        "rail", "front", "Rail", read("3/4"), read("2 1/2"), read("20"), datum="left", species="maple",
        features=tuple(
            Tenon(key, face, read("7/8"), read("1/4"), read("3/8"), 0, read("2 1/2"))
            for key, face in (("a", Face.DATUM_END), ("b", Face.FAR_END))
        ),
        parts=(Part("rail.1"),),
    )  # fmt: skip
    return Job(
        "hymn-chest", NAME, species="cherry",
        assemblies=(Assembly("legs", 1, "Legs"), Assembly("front", 2, "Front <u>frame</u>")),
        lines=(leg, rail),
        joints=(
            Joint("left", Half("rail.1", "a"), Half("leg.left", "m"), "2A"),
            Joint("right", Half("rail.1", "b"), Half("leg.right", "m"), "2B"),
        ),
    )  # fmt: skip


VOID = {"area", "base", "br", "col", "hr", "img", "input", "link", "meta", "source", "wbr"}


class PageReader(HTMLParser):
    """What stands on a page: its rows by table, its texts, its links; and whether it closes what it opens."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.faults: list[str] = []
        self.elements: list[tuple[str, dict[str, str]]] = []
        self.tables: dict[str, list[list[str]]] = {}
        self._table = ""
        self._cell = False
        self.words: list[str] = []
        self.feed(html)
        self.close()
        self.faults += self.open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if len(given) != len(attrs):
            self.faults.append(f"<{tag}> names an attribute twice")
        self.elements.append((tag, given))
        if tag not in VOID:
            self.open.append(tag)
        if tag == "table":
            self._table = given["class"].split()[-1]
            self.tables[self._table] = []
        if tag == "tr" and self._table:
            self.tables[self._table].append([])
        if tag in ("td", "th") and self._table:
            self.tables[self._table][-1].append("")
            self._cell = True

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"</{tag}>")
        if tag == "table":
            self._table = ""
        if tag in ("td", "th"):
            self._cell = False

    def handle_data(self, data: str) -> None:
        self.words.append(data)
        if self._cell:
            self.tables[self._table][-1][-1] += data

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.words).split())

    def rows(self, table: str) -> list[list[str]]:
        """The rows of a table by its class, without that of the headings; every run of blanks one blank."""
        return [[" ".join(cell.split()) for cell in row] for row in self.tables[table][1:]]

    def all(self, tag: str, **wanted: str) -> list[dict[str, str]]:
        """The attributes of all elements of that name that carry what is wanted."""
        return [
            given
            for name, given in self.elements
            if name == tag and all(given.get(key.rstrip("_")) == value for key, value in wanted.items())
        ]
