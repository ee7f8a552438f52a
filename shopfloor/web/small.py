"""How does it get over a weak Wi-Fi?  Text is sent gzipped to whoever can read that, scripts without their comments.

Comments are a fifth of what the phone would fetch.  Only whole lines of them go, so that a script means the same;
what others wrote (static/vendor/) is sent as it is, with its licence.
"""

from __future__ import annotations

import gzip
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
KEPT = frozenset({"static", "phone.pack"})
"""What is asked for often and changes seldom is pressed once and kept."""


def without_comments(script: bytes) -> bytes:
    """A script of ours without the lines that are nothing but comment.

    Lines inside a template literal are left alone, whatever they look like: one is open after an odd number of
    backquotes.  tests/web/scripts.test.js compares the tokens of every script before and after.

    >>> without_comments(b"// why\\nconst a = 1; // one\\n/** long\\n * story */\\nconst b = `\\n// kept\\n`;\\n")
    b'const a = 1; // one\\nconst b = `\\n// kept\\n`;\\n'
    """
    kept = []
    template = comment = False
    for line in script.splitlines(keepends=True):
        bare = line.strip()
        if comment:
            comment = not bare.endswith(b"*/")
        elif not template and bare.startswith(b"//"):
            continue
        elif not template and bare.startswith(b"/*") and (bare.endswith(b"*/") or b"*/" not in bare):
            comment = not bare.endswith(b"*/")
        else:
            kept.append(line)
            template ^= line.count(b"`") % 2 == 1
    return b"".join(kept)


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
            ours = request.path.endswith(".js") and "/vendor/" not in request.path
            known = (etag, gzip.compress(without_comments(whole) if ours else whole, 9, mtime=0))
            with self._lock:
                self._kept[request.path] = known
        return known[1]
