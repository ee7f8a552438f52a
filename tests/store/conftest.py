from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask

from shopfloor.settings import Settings
from shopfloor.store.tables import db
from shopfloor.web import create_app


@pytest.fixture
def app(tmp_path: Path) -> Iterator[Flask]:
    """A shop of its own, with its context pushed: the store's functions can be called."""
    app = create_app(Settings(data=tmp_path / "data", first_serial=0))
    with app.app_context():
        yield app
        db.engine.dispose()
