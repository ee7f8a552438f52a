"""Which files does a phone keep, to open with no signal?  The app's shell: found by looking, not listed by hand.

A file that is missing from a hand-written list is missing in the shop; a listed file that is not there stops the whole
installation.  So the list is what lies in static/, each with the SHA-256 of its bytes, and the version is that of all.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

PAGE = "/phone/"
STYLES = "/phone/styles.css"
SHEETS = ("look.css", "drawing.css", "phone.css")
"""The style sheets of the app, sent as one: each request costs a cold start a hundredth of a second on a slow phone."""
KEPT = frozenset({".js", ".css", ".woff2", ".wasm", ".png", ".svg"})
"""Endings of files that a browser asks for.  Licences and type declarations stay on the server."""
NOT_KEPT = (
    "office",
    *SHEETS,
    "sw.js",
    "icons/apple-",
    "icons/icon-512",
    "icons/icon-maskable-",
    "trade/amount.js",
    "trade/count.js",
    "trade/length.js",
    "trade/refusal.js",
)
"""What begins like this in static/ is the office's, or the service worker itself, or a picture that a phone fetches
once, when the app is put on its home screen, or reads lengths: the phone only writes them so far."""
MARKED = re.compile(rb"/\*SHELL\*/.*?/\*END\*/", re.DOTALL)


class Shell(NamedTuple):
    """`files` are [address, SHA-256] in order of address; `version` changes when any of them does."""

    version: str
    files: list[tuple[str, str]]


class Shelf:
    """Remembers the digests of files until they change on the disk, so that asking again costs a look at each date."""

    def __init__(self, static: Path) -> None:
        self.static = static
        self._known: dict[Path, tuple[int, int, str]] = {}

    def shell(self, page: bytes) -> Shell:
        """The shell as it lies there now; `page` is the one page of the app."""
        files = [(PAGE, hashlib.sha256(page).hexdigest()), (STYLES, hashlib.sha256(self.styles()).hexdigest())]
        files += [(f"/static/{path.relative_to(self.static).as_posix()}", self._digest(path)) for path in self._paths()]
        files.sort()
        told = "\n".join(f"{address} {digest}" for address, digest in files)
        return Shell(hashlib.sha256(told.encode()).hexdigest()[:16], files)

    def styles(self) -> bytes:
        """The style sheets as one; it lies elsewhere than they do, so what they name is named in full."""
        found = [path.read_bytes() for name in SHEETS if (path := self.static / name).is_file()]
        return b"".join(found).replace(b'url("vendor/', b'url("/static/vendor/')

    def worker(self, page: bytes) -> bytes:
        """The service worker with the list put in between its two marks."""
        shell = self.shell(page)
        listed = json.dumps({"version": shell.version, "files": shell.files}).encode()
        worker, found = MARKED.subn(lambda _: listed, (self.static / "sw.js").read_bytes())
        if found != 1:
            raise ValueError("static/sw.js has not got one place for the list of files")
        return worker

    def _paths(self) -> Iterator[Path]:
        for path in self.static.rglob("*"):
            inside = path.relative_to(self.static).as_posix()
            if path.suffix in KEPT and not inside.startswith(NOT_KEPT) and path.is_file():
                yield path

    def _digest(self, path: Path) -> str:
        about = path.stat()
        known = self._known.get(path)
        if known is None or known[:2] != (about.st_mtime_ns, about.st_size):
            digest = hashlib.sha256(path.read_bytes()).hexdigest()
            known = self._known[path] = (about.st_mtime_ns, about.st_size, digest)
        return known[2]
