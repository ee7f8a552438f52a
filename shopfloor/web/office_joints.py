"""Two typed parts are joined."""

from __future__ import annotations

from flask import Response, redirect, url_for

from shopfloor.web.office_pages import blueprint


@blueprint.get("/jobs/<key>/join")
def join(key: str) -> Response:
    return redirect(url_for("office.lines", key=key))  # type: ignore[return-value]
