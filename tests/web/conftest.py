from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from shopfloor.settings import Settings
from shopfloor.store import phones
from shopfloor.store.tables import db
from shopfloor.web import create_app
from shopfloor.web.packs import PACKS


@pytest.fixture
def app(tmp_path: Path) -> Iterator[Flask]:
    """An empty shop."""
    app = create_app(Settings(data=tmp_path / "data", first_serial=0))
    yield app
    app.extensions[PACKS].settle()
    with app.app_context():
        db.engine.dispose()


@pytest.fixture
def office(app: Flask) -> FlaskClient:
    """The browser on the computer that serves the shop."""
    return app.test_client()


@pytest.fixture
def new_phone(app: Flask) -> Callable[..., FlaskClient]:
    """Makes a phone that has joined: a client with its cookie."""

    def make(name: str = "Bench phone") -> FlaskClient:
        with app.app_context():
            code = phones.new_code().text
        client = app.test_client()
        answer = client.post("/join", json={"code": code, "name": name})
        assert answer.status_code == 200, answer.text
        return client

    return make


@pytest.fixture
def phone(new_phone: Callable[..., FlaskClient]) -> FlaskClient:
    return new_phone()
