"""How does it get over a weak Wi-Fi?  Text is sent gzipped to whoever can read that, scripts without their comments.

Comments and indentation are a fifth of what the phone would fetch, and a script means the same without them; what
others wrote (static/vendor/) is sent as it is, with its licence.
"""

from __future__ import annotations

import gzip
import re
import threading

from flask import Flask, Response, request

LEAST = 1000
"""Bytes below which gzip saves less than a packet."""
TEXTS = frozenset(
    {
        "application/json",
        "application/manifest+json",
        "application/wasm",
        "image/svg+xml",
        "text/css",
        "text/html",
        "text/javascript",
        "text/plain",
    }
)
KEPT = frozenset({"static", "phone.pack", "phone.styles"})
"""What is asked for often and changes seldom is pressed once and kept."""


CAST = re.compile(rb"/\*\* @type (?:\*(?!/)|[^*])*\*/ ?")
"""A type said within a line, for the checker."""
LAST_WORDS = re.compile(rb"^([^'\"`/]*[;,{(\[)\]}]) // .*$")
"""A line that ends in a comment, with nothing before it in which two slashes could mean something else."""
OF_STYLES = re.compile(rb"/\*.*?\*/", re.DOTALL)


def without_comments(script: bytes) -> bytes:
    """A script of ours without comments, blank lines and indentation.

    What stands in a template literal loses its indentation only: it is markup, where one space is as good as ten.  A
    template is open after an odd number of backquotes.  tests/web/scripts.test.js compares the tokens of every script
    before and after, and holds that no other text has more than one line.

    >>> without_comments(b"// why\\nconst a = 1; // one\\n/** long\\n * story */\\n  const b = `\\n  // kept\\n`;\\n")
    b'const a = 1;\\nconst b = `\\n// kept\\n`;\\n'
    """
    kept = []
    template = comment = False
    for line in script.splitlines():
        bare = line.strip()
        if comment:
            comment = not bare.endswith(b"*/")
        elif template:
            kept.append(bare)
            template ^= bare.count(b"`") % 2 == 1
        elif bare.startswith(b"//") or not bare:
            continue
        elif bare.startswith(b"/*") and (bare.endswith(b"*/") or b"*/" not in bare):
            comment = not bare.endswith(b"*/")
        else:
            code = LAST_WORDS.sub(rb"\1", CAST.sub(b"", bare))
            template ^= code.count(b"`") % 2 == 1
            kept.append(code)
    return b"\n".join(kept) + b"\n"


def without_remarks(styles: bytes) -> bytes:
    """A style sheet of ours without comments, blank lines and indentation.

    >>> without_remarks(b"/* ink */\\n.a {\\n  color: red; /* of\\n crayon */\\n}\\n")
    b'.a {\\ncolor: red;\\n}\\n'
    """
    lines = (line.strip() for line in OF_STYLES.sub(b"", styles).splitlines())
    return b"\n".join(line for line in lines if line) + b"\n"


class Press:
    """Keeps the small form of each address until its ETag changes."""

    def __init__(self) -> None:
        self._kept: dict[str, tuple[str, bytes]] = {}
        self._lock = threading.Lock()

    def attach(self, app: Flask) -> None:
        app.after_request(self._press)

    def _press(self, response: Response) -> Response:
        if response.mimetype not in TEXTS:
            return response
        response.vary.add("Accept-Encoding")
        if (
            response.status_code != 200
            or "Content-Encoding" in response.headers
            or request.method == "HEAD"
            or not request.accept_encodings["gzip"]
        ):
            return response
        response.direct_passthrough = False
        whole = response.get_data()
        if len(whole) < LEAST:
            return response
        etag, _ = response.get_etag()
        response.set_data(self._small(whole, etag if request.endpoint in KEPT else None))
        response.headers["Content-Encoding"] = "gzip"
        if etag is not None:
            # The bytes differ from the ones that were not pressed, and mean the same: that is what a weak tag says.
            response.set_etag(etag, weak=True)
        return response

    def _small(self, whole: bytes, etag: str | None) -> bytes:
        if etag is None:
            return gzip.compress(whole, 6, mtime=0)
        with self._lock:
            known = self._kept.get(request.path)
        if known is None or known[0] != etag:
            known = (etag, gzip.compress(_lean(request.path, whole), 9, mtime=0))
            with self._lock:
                self._kept[request.path] = known
        return known[1]


def _lean(path: str, whole: bytes) -> bytes:
    if "/vendor/" in path:
        return whole
    if path.endswith(".js"):
        return without_comments(whole)
    return without_remarks(whole) if path.endswith(".css") else whole
