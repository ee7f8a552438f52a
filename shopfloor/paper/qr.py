"""Which QR symbol goes on a label?  From a payload to a matrix of modules, its size in whole printer dots, its outline.

The rules and their reasons, from our own measurements with printed-and-damaged labels (400 frames a row):

- A payload is capitals and digits, so that it packs into alphanumeric mode, and an address must fit version 2.
- Inside one version the error correction is raised as far as it goes (it costs nothing: +5 to +7 points read); it never
  buys a larger version (-6 points at the same printed size, because the modules shrink).
- A module is a whole number of printer dots and at least 0.50 mm.  Where an address cannot have that, the bare code is
  printed; where even the code cannot, the label is too small and the person is told.
- Four modules around the symbol stay blank (ISO/IEC 18004, "quiet zone"): with none, nothing was read.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from ipaddress import ip_address
from typing import Any, Literal

from qrcode.constants import ERROR_CORRECT_H, ERROR_CORRECT_L, ERROR_CORRECT_M, ERROR_CORRECT_Q
from qrcode.exceptions import DataOverflowError
from qrcode.main import QRCode
from qrcode.util import QRData

from ..errors import ShopError
from ..trade.code import payload
from ..trade.length import Length

QUIET = 4
"""Blank modules on every side (ISO/IEC 18004)."""

LEAST_MODULE: Length = 500_000
"""0.50 mm: about what a phone resolves at arm's length from the bench.  Our measurement, 4 px a module."""

LONGEST_HOST = 21
"""The longest host (with :port) whose address fits version 2 at level M; longer ones get the bare code."""

ADDRESS_VERSION = 2
LEVELS = {"L": ERROR_CORRECT_L, "M": ERROR_CORRECT_M, "Q": ERROR_CORRECT_Q, "H": ERROR_CORRECT_H}
ALPHANUMERIC_MODE: Literal[2] = 2  # ISO/IEC 18004, mode indicator 0010
ALPHANUMERIC = re.compile(r"[0-9A-Z $%*+\-./:]+")


class LabelTooSmall(ShopError):
    """The label has no room for a symbol that a phone can read."""

    code = "label-too-small"


@dataclass(frozen=True)
class Symbol:
    """A QR symbol without its quiet zone; `modules[row][column]` is True where it is dark, row 0 at the top."""

    text: str
    version: int
    level: str
    modules: tuple[tuple[bool, ...], ...]

    @property
    def size(self) -> int:
        """Modules along one side, quiet zone not counted: 17 + 4 x version."""
        return len(self.modules)


@lru_cache(maxsize=4_096)
def symbol(text: str) -> Symbol:
    """The smallest version that holds the text at level M, at the highest level that keeps the version."""
    if not ALPHANUMERIC.fullmatch(text):
        raise ValueError(f"{text!r} does not fit a QR symbol's alphanumeric mode")
    code = _filled(text, "M")
    version = code.best_fit(start=1)
    level = "M"
    for higher in ("Q", "H"):
        raised = _filled(text, higher)
        try:
            if raised.best_fit(start=version) > version:
                break
        except DataOverflowError:
            break
        code, level = raised, higher
    # Only the one that is kept is made: choosing a mask tries eight, and is most of the work.
    code.version = version
    code.make(fit=False)
    modules = tuple(tuple(bool(dark) for dark in row) for row in code.modules)
    return Symbol(text, version, level, modules)


def _filled(text: str, level: str) -> Any:
    """A symbol that knows its data and its level; nothing is laid out yet."""
    code = QRCode(version=None, error_correction=LEVELS[level], border=0)
    code.add_data(QRData(text.encode("ascii"), mode=ALPHANUMERIC_MODE), optimize=0)
    return code


def is_loopback(host: str) -> bool:
    """Whether the host means "this very machine": on a label that would send the phone to itself.

    >>> [is_loopback(host) for host in ("localhost:8000", "127.0.0.1", "[::1]:8000", "shop.local", "192.168.1.20")]
    [True, True, True, False, False]
    """
    name = host.strip().lower()
    if name.startswith("["):
        name = name[1:].partition("]")[0]
    elif name.count(":") == 1:
        name = name.partition(":")[0]
    name = name.rstrip(".")
    if name == "localhost" or name.endswith(".localhost"):
        return True
    try:
        address = ip_address(name)
    except ValueError:
        return False
    return address.is_loopback or address.is_unspecified


def printed_payload(code: str, host: str) -> str:
    """What the symbol of this code says: the address at that host, or the bare code where an address is no use."""
    bare = payload(code, "")
    if not host or len(host) > LONGEST_HOST or is_loopback(host):
        return bare
    try:
        text = payload(code, host)
    except ValueError:  # not the name of a host
        return bare
    return text if symbol(text).version <= ADDRESS_VERSION else bare


def fitting(code: str, host: str, side: Length, dpi: Fraction, *, most: Length) -> tuple[Symbol, Length]:
    """The symbol and its module for a square of `side`, quiet zone included: (symbol, module in nanometres).

    The module is a whole number of dots of a printer with `dpi` dots to the inch, no more than `most` and no less
    than 0.50 mm.  Raises LabelTooSmall if not even the bare code can have that.
    """
    for text in (printed_payload(code, host), payload(code, "")):
        made = symbol(text)
        dot = Fraction(25_400_000) / dpi
        dots = int(min(Fraction(side, made.size + 2 * QUIET), Fraction(most)) / dot)
        module = round(dots * dot)
        if module >= LEAST_MODULE:
            return made, module
    least = LEAST_MODULE * (made.size + 2 * QUIET)
    raise LabelTooSmall(
        f"the square for the code is {_tenths(side)} mm, and a phone needs {_tenths(least)} mm",
        where="label size",
        do="Choose a larger label.",
    )


def _tenths(length: Length) -> str:
    return f"{length / 1_000_000:.1f}"


def outline(modules: Sequence[Sequence[bool]]) -> list[list[tuple[int, int]]]:
    """The dark area's edges as closed loops of corners (column, row), row 0 at the top.

    Painted as one path with the even-odd rule this is the symbol without any seam between modules: two dark
    neighbours have no edge between them that a printer or a screen could soften into a light line.
    """
    size = len(modules)

    def dark(column: int, row: int) -> bool:
        return 0 <= row < size and 0 <= column < size and modules[row][column]

    # Every edge between dark and light, directed so that the dark side lies to its right.
    edges: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for row in range(size):
        for column in range(size):
            if not dark(column, row):
                continue
            for here, start, end in (
                (dark(column, row - 1), (column, row), (column + 1, row)),
                (dark(column + 1, row), (column + 1, row), (column + 1, row + 1)),
                (dark(column, row + 1), (column + 1, row + 1), (column, row + 1)),
                (dark(column - 1, row), (column, row + 1), (column, row)),
            ):
                if not here:
                    edges.setdefault(start, []).append(end)
    loops = []
    while edges:
        start = next(iter(edges))
        loop, at = [], start
        while at in edges:
            loop.append(at)
            ends = edges[at]
            at = ends.pop()
            if not ends:
                del edges[loop[-1]]
        loops.append(_corners(loop))
    return loops


def _corners(loop: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """The loop without the points that lie on a straight run."""
    return [
        here
        for before, here, after in zip([loop[-1], *loop[:-1]], loop, [*loop[1:], loop[0]], strict=True)
        if not (before[0] == here[0] == after[0] or before[1] == here[1] == after[1])
    ]
