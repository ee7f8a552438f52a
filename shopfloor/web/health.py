"""Is the shop open?  Version of the program and state of the database, for a person or a watchdog."""

from __future__ import annotations

from flask import Blueprint, Response, jsonify
from sqlalchemy import text
from sqlalchemy.exc import SQLAlchemyError

from shopfloor import __version__
from shopfloor.store.opening import reading
from shopfloor.web.doors import open_to_all

blueprint = Blueprint("health", __name__)


@blueprint.get("/health")
@open_to_all
def health() -> tuple[Response, int]:
    """200 if the database can be read, else 503."""
    try:
        with reading() as connection:
            form = connection.scalar(text("SELECT version_num FROM alembic_version"))
            database = {"state": "ok", "form": form}
    except SQLAlchemyError:
        database = {"state": "unreadable", "form": None}
    status = 200 if database["state"] == "ok" else 503
    return jsonify(app="facemark", version=__version__, database=database), status
