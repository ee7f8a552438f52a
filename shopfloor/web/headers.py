"""What may a page do?  Nothing but show itself: the headers that every answer carries.

Source: the Content-Security-Policy that a real browser was measured to install the service worker and to compile the
decoder under; without 'wasm-unsafe-eval' wasm fails in the page and in workers.  Workers take the policy of their own
file, so files in static/ carry the phone's.
"""

from __future__ import annotations

from flask import Flask, Response, request

_SAME = "font-src 'self'; style-src 'self'; connect-src 'self'; manifest-src 'self'; object-src 'none'; base-uri 'none'"
PHONE_POLICY = (
    "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; img-src 'self' blob: data:; media-src 'self' blob:; "
    f"worker-src 'self'; {_SAME}; form-action 'none'; frame-ancestors 'none'"
)
OFFICE_POLICY = (
    f"default-src 'none'; script-src 'self'; img-src 'self' data:; {_SAME}; form-action 'self'; frame-ancestors 'none'"
)
PAPER_POLICY = "default-src 'none'; style-src 'unsafe-inline'; object-src 'self'; frame-ancestors 'none'"
"""For PDF: a browser shows it in a page of its own making, with styles of its own."""


def attach(app: Flask) -> None:
    app.after_request(_guard)


def _guard(response: Response) -> Response:
    headers = response.headers
    headers.setdefault("Content-Security-Policy", _policy(response))
    headers.setdefault("X-Content-Type-Options", "nosniff")
    # Under "no-referrer" a browser sends the origin "null" with a form, and the doors take it for a stranger.
    headers.setdefault("Referrer-Policy", "same-origin")
    headers.setdefault("Cross-Origin-Opener-Policy", "same-origin")
    headers.setdefault("Cross-Origin-Resource-Policy", "same-origin")
    headers.setdefault("Permissions-Policy", "camera=(self), microphone=(), geolocation=()")
    if request.endpoint == "static":
        # A browser asks each time whether a file has changed; the server's own clock and disk are near.
        headers["Cache-Control"] = "no-cache"
    headers.setdefault("Cache-Control", "no-store")
    return response


def _policy(response: Response) -> str:
    if response.mimetype == "application/pdf":
        return PAPER_POLICY
    if request.endpoint == "static" or request.blueprint == "phone":
        return PHONE_POLICY
    return OFFICE_POLICY
