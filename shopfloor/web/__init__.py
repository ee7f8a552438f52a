"""Blueprints: office, phone, sync, doors.  The only place that speaks HTTP."""

from __future__ import annotations

import mimetypes

from flask import Flask

from shopfloor.settings import ROOT, Settings

MOST_UPLOAD = 12 * 1024 * 1024
"""Bytes of one request: a cut list of 5 MB, and the same once more as text in a form."""


def create_app(settings: Settings | None = None) -> Flask:
    """The shop's web application, its database opened and brought to the present form.

    Raises StoreFault with one sentence if the data folder or the database cannot be used.
    """
    from shopfloor.store import opening, shop
    from shopfloor.web import doors, errors, headers, health, labels, numbers, office, phone, rods_print, small, sync

    settings = settings or Settings()
    app = Flask("shopfloor", static_folder=str(ROOT / "static"), template_folder=str(ROOT / "templates"))
    app.config.update(FACEMARK=settings, MAX_CONTENT_LENGTH=MOST_UPLOAD, MAX_FORM_MEMORY_SIZE=MOST_UPLOAD)
    app.json.sort_keys = False  # type: ignore[attr-defined]
    # What the system thinks of these endings differs; a browser refuses modules and wasm under another name.
    for ending, kind in ((".js", "text/javascript"), (".wasm", "application/wasm"), (".woff2", "font/woff2")):
        mimetypes.add_type(kind, ending)

    opening.attach(app, settings.database)
    with app.app_context():
        shop.ensure(settings.first_serial)

    errors.attach(app)
    doors.attach(app)
    headers.attach(app)
    small.Press().attach(app)
    phone.attach(app)
    for part in (sync, health, office, labels, numbers, rods_print):
        app.register_blueprint(part.blueprint)
    return app
