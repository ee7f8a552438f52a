"""Is the shop open?  Version of the program and state of the database, for a person or a watchdog."""

from __future__ import annotations

from flask import Blueprint, Response, jsonify

from shopfloor import __version__
from shopfloor.store import opening
from shopfloor.web.doors import open_to_all

blueprint = Blueprint("health", __name__)


@blueprint.get("/health")
@open_to_all
def health() -> tuple[Response, int]:
    """200 if the database can be read, else 503."""
    form = opening.form()
    state = "unreadable" if form is None else "ok"
    database = {"state": state, "form": form}
    return jsonify(app="facemark", version=__version__, database=database), 503 if form is None else 200
