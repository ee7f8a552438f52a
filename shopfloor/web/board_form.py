"""How is a board typed in the office?  Sizes as texts, each read on its own; what is wrong stands beside its field."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from shopfloor.errors import ShopError
from shopfloor.trade.board import Board, Defect, Sawn, read_board, write_board
from shopfloor.trade.document import length_reader
from shopfloor.trade.length import Length, write_exact
from shopfloor.trade.part import Unit
from shopfloor.trade.stock import Lumber, lumber_named

__all__ = ["EMPTY_DEFECTS", "BoardForm", "first", "read", "texts_of"]

EMPTY_DEFECTS = 2
"""Rows for places to cut around that stand empty below those that are there."""

MUST = {"length": "length", "width": "width at the marked end"}


@dataclass(frozen=True)
class BoardForm:
    """What was typed: a board, or the faults by the names of their fields."""

    board: Board | None
    faults: Mapping[str, str]


def first(unit: Unit, species: str = "", lumber: str = "") -> dict[str, str]:
    """An empty form, with the wood of the board before it."""
    return {"species": species, "lumber": lumber, "sawn": "", "mark": "", "length": "", "width": ""}


def texts_of(board: Board, unit: Unit) -> dict[str, str]:
    """A board as its form shows it."""

    def text(nm: Length) -> str:
        return write_exact(nm, unit.value).removesuffix(f" {unit.value}") if nm else ""

    texts = {
        "mark": board.mark, "species": board.species, "lumber": board.lumber.name, "length": text(board.length),
        "width": text(board.widths[0]),
        "width-far": text(board.widths[1]) if board.widths[1] != board.widths[0] else "",
        "sapwood": text(board.sapwood[0]), "sapwood-far": text(board.sapwood[1]), "sawn": board.sawn.value,
        "moisture": board.moisture, "note": board.note,
    }  # fmt: skip
    for nth, one in enumerate(board.defects):
        texts |= {
            f"defect.{nth}.from": write_exact(one.start, unit.value).removesuffix(f" {unit.value}"),
            f"defect.{nth}.to": text(one.end), f"defect.{nth}.near": text(one.near) or ("0" if one.far else ""),
            f"defect.{nth}.far": text(one.far), f"defect.{nth}.what": one.what,
        }  # fmt: skip
    return texts


def read(typed: Mapping[str, str], unit: Unit, lumber: tuple[Lumber, ...], old: Board | None = None) -> BoardForm:
    """The board that was typed; `old` is the one that is measured again, `lumber` what may be chosen beside its own."""
    faults: dict[str, str] = {}
    length_of = length_reader(unit)

    def size(name: str) -> Length:
        text = typed.get(name, "").strip()
        if not text:
            if name in MUST:
                faults[name] = f"The {MUST[name]} is missing. Measure it."
            return 0
        return _size(text, name, length_of, faults)

    chosen = lumber_named(typed.get("lumber", "").strip())
    if chosen is None:
        faults["lumber"] = f"Choose its thickness: {', '.join(each.name for each in lumber)}."
    if not typed.get("species", "").strip():
        faults["species"] = "The species is missing. Write it as the job does, such as cherry."
    long, wide = size("length"), size("width")
    far = size("width-far") or wide
    sapwood = (size("sapwood"), size("sapwood-far"))
    defects = _defects(typed, length_of, faults)
    if faults or chosen is None:
        return BoardForm(None, faults)
    made = Board(
        old.id if old else "", typed.get("mark", "").strip(), " ".join(typed["species"].split()), chosen, long,
        (wide, far), sapwood, tuple(defects), Sawn.UNKNOWN, typed.get("moisture", ""), typed.get("note", "").strip(),
        old.of if old else "", old.at if old else 0,
    )  # fmt: skip
    try:
        # The words of the trade say what no board can be; they name the field.
        body: dict[str, Any] = write_board(made) | {"sawn": typed.get("sawn", "")}
        read_back = read_board(made.id, body)
    except ShopError as err:
        name = err.where if err.where in typed else "length" if err.where == "length" else "width"
        return BoardForm(None, {name: str(err)})
    return BoardForm(replace(read_back, defects=tuple(sorted(read_back.defects))), {})


def _size(text: str, name: str, length_of: Callable[[str], Length], faults: dict[str, str]) -> Length:
    try:
        return length_of(text)
    except ValueError as err:
        what, _, do = str(err).partition("\n")
        faults[name] = f"{what}. {do}".strip()
        return 0


def _defects(
    typed: Mapping[str, str], length_of: Callable[[str], Length], faults: dict[str, str]
) -> list[Defect]:  # fmt: skip
    found = []
    rows = sorted(
        {int(name.split(".")[1]) for name in typed if name.startswith("defect.") and name.split(".")[1].isdigit()}
    )
    for nth in rows[:100]:
        row = {name: typed.get(f"defect.{nth}.{name}", "").strip() for name in ("from", "to", "near", "far", "what")}
        if not any(row[name] for name in ("from", "to", "near", "far")):
            continue
        sizes = {
            name: _size(row[name], f"defect.{nth}.{name}", length_of, faults) if row[name] else 0
            for name in ("from", "to", "near", "far")
        }  # fmt: skip
        if not row["to"]:
            faults[f"defect.{nth}.to"] = "Give where it ends, too."
        elif sizes["from"] >= sizes["to"] and f"defect.{nth}.to" not in faults:
            faults[f"defect.{nth}.to"] = "It ends before it begins. Give where it begins, then where it ends."
        elif row["far"] and sizes["near"] >= sizes["far"]:
            faults[f"defect.{nth}.far"] = "Across the board, too, it ends before it begins."
        found.append(Defect(sizes["from"], sizes["to"], sizes["near"], sizes["far"], row["what"][:60]))
    return found
