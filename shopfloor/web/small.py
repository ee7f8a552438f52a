"""How does it get over a weak Wi-Fi?  Text is sent gzipped to whoever can read that."""

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
            known = (etag, gzip.compress(whole, 9, mtime=0))
            with self._lock:
                self._kept[request.path] = known
        return known[1]
