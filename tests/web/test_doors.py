"""Who gets in where: a walk along every route, and the ways in that must stay shut."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.routing import Rule

from shopfloor.settings import Settings
from shopfloor.store import phones
from shopfloor.store.tables import db
from shopfloor.web import create_app
from shopfloor.web.doors import Door, door_of
from shopfloor.web.slow import Slow
from tests.entries import NOON, entry

SOMEONE_ELSE = {"REMOTE_ADDR": "192.168.4.20"}

OPEN = {
    "/health",
    "/join",
    "/manifest.webmanifest",
    "/P/<code>",
    "/p/<code>",
    "/phone",
    "/phone/",
    "/phone/styles.css",
    "/static/<path:filename>",
    "/sw.js",
}
PHONES = {"/pack/<key>", "/packs", "/sync"}


def routes(app: Flask) -> list[Rule]:
    return list(app.url_map.iter_rules())


def test_what_is_not_the_offices_is_on_this_list(app: Flask) -> None:
    behind: dict[Door, set[str]] = {door: set() for door in Door}
    for rule in routes(app):
        behind[door_of(app, rule.endpoint)].add(rule.rule)

    assert behind[Door.OPEN] == OPEN
    assert behind[Door.PHONES] == PHONES
    assert "/" in behind[Door.OFFICE]


def _filled(rule: Rule) -> str:
    """The address of a route with something in every gap."""
    gaps = {name: 1 if name == "number" else "x" for name in rule.arguments}
    _, path = rule.build(gaps, append_unknown=False) or ("", "")
    assert path
    return path


def test_from_elsewhere_every_page_of_the_office_is_shut(app: Flask) -> None:
    stranger = app.test_client()
    for rule in routes(app):
        if door_of(app, rule.endpoint) is Door.OFFICE:
            method = "GET" if "GET" in (rule.methods or ()) else "POST"
            answer = stranger.open(_filled(rule), method=method, environ_overrides=SOMEONE_ELSE)
            assert answer.status_code == 403, rule.rule
            assert "is for the office" in answer.text


def test_a_phone_that_has_joined_is_no_office(app: Flask, phone: FlaskClient) -> None:
    assert phone.get("/", environ_overrides=SOMEONE_ELSE).status_code == 403


@pytest.mark.parametrize("method_and_path", ["GET /sync", "POST /sync", "GET /packs", "GET /pack/x"])
@pytest.mark.parametrize("cookie", [None, "", "wrong", "x" * 3000], ids=["none", "empty", "wrong", "long"])
def test_a_phone_that_has_not_joined_gets_401_in_json(app: Flask, method_and_path: str, cookie: str | None) -> None:
    method, path = method_and_path.split()
    client = app.test_client()
    if cookie is not None:
        client.set_cookie("facemark_phone", cookie)

    answer = client.open(path, method=method, json={"entries": []} if method == "POST" else None)

    assert answer.status_code == 401
    assert answer.get_json()["error"]["code"] == "not-joined"


def test_a_withdrawn_phone_gets_401_and_what_it_sends_is_not_taken(app: Flask, phone: FlaskClient) -> None:
    with app.app_context():
        phones.withdraw(phones.all()[0].id)

    answer = phone.post("/sync", json={"entries": [entry(1)]})

    assert answer.status_code == 401
    assert answer.get_json()["error"]["code"] == "withdrawn"
    from shopfloor.store import journal

    with app.app_context():
        assert journal.rows() == []


def test_a_withdrawn_phone_that_joins_again_hands_over_what_it_holds(app: Flask, phone: FlaskClient) -> None:
    with app.app_context():
        phones.withdraw(phones.all()[0].id)
        code = phones.new_code().text

    assert phone.post("/join", json={"code": code, "name": "Bench phone"}).status_code == 200
    assert phone.post("/sync", json={"entries": [entry(1)]}).status_code == 200


# --- joining -----------------------------------------------------------------------------------------------------


def test_joining_gives_a_name_to_write_under_and_a_cookie_that_scripts_cannot_read(app: Flask) -> None:
    with app.app_context():
        code = phones.new_code().text

    answer = app.test_client().post("/join", json={"code": code.lower(), "name": "Bench phone"})

    got = answer.get_json()
    assert set(got) == {"device", "incarnation", "shop", "shop_id", "generation", "server_now"}
    assert got["shop"] == "Our shop" and got["device"] and got["incarnation"]
    cookie = answer.headers["Set-Cookie"]
    assert cookie.startswith("facemark_phone=")
    assert {"HttpOnly", "SameSite=Strict", "Path=/", "Max-Age=34560000"} <= set(cookie.split("; "))
    assert "Secure" not in cookie


def test_under_https_the_cookie_is_bound_to_this_host(tmp_path: Path) -> None:
    cert = tmp_path / "cert.pem"
    app = create_app(Settings(data=tmp_path / "data", host="192.168.4.1", names=("shop.local",), cert=cert, key=cert))
    with app.app_context():
        code = phones.new_code().text

    answer = app.test_client().post("/join", json={"code": code}, base_url="https://shop.local")

    cookie = answer.headers["Set-Cookie"]
    assert cookie.startswith("__Host-facemark_phone=")
    assert {"Secure", "HttpOnly", "SameSite=Strict", "Path=/"} <= set(cookie.split("; "))
    with app.app_context():
        db.engine.dispose()


@pytest.mark.parametrize(
    "body",
    [b"", b"{", b"[]", b"{}", b'{"code": 7}', b'{"code": "A", "name": 7}', b'"ABCD-1234"', b"\xff", b"x" * 9000],
    ids=lambda body: body[:12].decode("latin-1"),
)
def test_joining_with_nonsense_is_refused_with_a_sentence(app: Flask, body: bytes) -> None:
    answer = app.test_client().post("/join", data=body, content_type="application/json")

    assert answer.status_code in (400, 413)
    assert answer.get_json()["error"]["says"]


def test_wrong_codes_are_slowed_down_and_a_right_one_then_waits_too(app: Flask) -> None:
    with app.app_context():
        code = phones.new_code().text
    client = app.test_client()

    answers = [client.post("/join", json={"code": "0000-0000"}).status_code for _ in range(7)]

    assert answers == [403] * 5 + [429] * 2
    assert client.post("/join", json={"code": "0000-0000"}).headers["Retry-After"] == "60"
    assert client.post("/join", json={"code": code}).status_code == 429
    elsewhere = client.post("/join", json={"code": code}, environ_overrides=SOMEONE_ELSE)
    assert elsewhere.status_code == 200


def test_tries_are_forgotten_after_a_minute() -> None:
    slow = Slow(each=2, together=3, per_ms=60_000)
    slow.count("one", NOON)
    slow.count("one", NOON + 1)
    assert not slow.may("one", NOON + 59_999)
    assert slow.may("two", NOON + 2)
    slow.count("two", NOON + 2)
    assert not slow.may("three", NOON + 3)
    assert slow.may("one", NOON + 60_000)


# --- hosts and origins -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("host", "status"),
    [
        ("127.0.0.1:8000", 200),
        ("localhost", 200),
        ("LOCALHOST:80", 200),
        ("[::1]:8000", 200),
        ("shop.example", 403),
        ("127.0.0.1.example", 403),
        ("localhost.example:8000", 403),
        ("10.0.0.1", 403),
        ("", 403),
        ("[", 403),
    ],
)
def test_only_hosts_that_we_are_called_by_are_answered(app: Flask, host: str, status: int) -> None:
    answer = app.test_client().get("/health", headers={"Host": host})

    assert answer.status_code == status


def test_a_name_that_was_given_is_answered_too(tmp_path: Path) -> None:
    app = create_app(Settings(data=tmp_path / "data", names=("shop.local",)))

    assert app.test_client().get("/health", headers={"Host": "Shop.Local:8443"}).status_code == 200
    with app.app_context():
        db.engine.dispose()


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({}, 200),
        ({"Origin": "http://localhost"}, 200),
        ({"Origin": "http://localhost", "Sec-Fetch-Site": "same-origin"}, 200),
        ({"Sec-Fetch-Site": "same-origin"}, 200),
        ({"Origin": "https://localhost"}, 403),
        ({"Origin": "http://localhost:81"}, 403),
        ({"Origin": "http://localhost.example"}, 403),
        ({"Origin": "null"}, 403),
        ({"Sec-Fetch-Site": "cross-site"}, 403),
        ({"Sec-Fetch-Site": "same-site"}, 403),
    ],
    ids=str,
)
def test_what_changes_something_must_come_from_our_own_pages(
    app: Flask, phone: FlaskClient, headers: dict[str, str], status: int
) -> None:
    answer = phone.post("/sync", json={"entries": []}, headers=headers)

    assert answer.status_code == status


def test_looking_needs_no_origin(app: Flask, phone: FlaskClient) -> None:
    assert phone.get("/sync", headers={"Sec-Fetch-Site": "cross-site"}).status_code == 200


# --- errors and headers ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", ["/sync/x", "/no/such/page", "/pack/", "/static/no-such.js"])
def test_an_address_that_leads_nowhere_is_404_and_never_the_app(app: Flask, path: str) -> None:
    answer = app.test_client().get(path)

    assert answer.status_code == 404
    assert "there is no such page" in answer.text.lower()


def test_a_mistake_of_ours_is_told_without_its_insides(app: Flask, phone: FlaskClient) -> None:
    def broken() -> None:
        raise ZeroDivisionError("secret insides")

    app.view_functions["sync.fetch"] = broken
    broken.door = Door.PHONES  # type: ignore[attr-defined]

    answer = phone.get("/sync")

    assert answer.status_code == 500
    assert answer.get_json()["error"]["code"] == "internal-server-error"
    assert "secret" not in answer.text


def test_a_database_that_is_busy_is_503_and_says_to_come_again(app: Flask, phone: FlaskClient) -> None:
    from sqlalchemy.exc import OperationalError

    def locked() -> None:
        raise OperationalError("COMMIT", {}, Exception("database is locked"))

    locked.door = Door.PHONES  # type: ignore[attr-defined]
    app.view_functions["sync.hand_over"] = locked

    answer = phone.post("/sync", json={"entries": [entry(1)]})

    assert answer.status_code == 503
    assert answer.headers["Retry-After"] == "2"
    assert answer.get_json()["error"]["code"] == "store-busy"


@pytest.mark.parametrize(
    ("path", "policy"),
    [
        ("/phone/", "script-src 'self' 'wasm-unsafe-eval'"),
        ("/sw.js", "script-src 'self' 'wasm-unsafe-eval'"),
        ("/static/look.css", "script-src 'self' 'wasm-unsafe-eval'"),
        ("/", "script-src 'self';"),
        ("/no/such/page", "script-src 'self';"),
        ("/health", "script-src 'self';"),
    ],
)
def test_every_answer_says_what_its_page_may_do(office: FlaskClient, path: str, policy: str) -> None:
    with office.get(path) as answer:
        headers = answer.headers

    assert headers["Content-Security-Policy"].startswith("default-src 'none'; ")
    assert policy in headers["Content-Security-Policy"]
    assert "frame-ancestors 'none'" in headers["Content-Security-Policy"]
    assert "unsafe-inline" not in headers["Content-Security-Policy"]
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"
    assert "Access-Control-Allow-Origin" not in headers


def test_health_tells_version_and_database(office: FlaskClient) -> None:
    from shopfloor import __version__
    from shopfloor.store.opening import MIGRATIONS

    latest = max(path.name[:4] for path in (MIGRATIONS / "versions").glob("0*.py"))

    answer = office.get("/health")

    assert answer.status_code == 200
    assert answer.get_json() == {
        "app": "facemark",
        "version": __version__,
        "database": {"state": "ok", "form": latest},
    }


def test_health_says_when_the_database_cannot_be_read(
    app: Flask, office: FlaskClient, new_phone: Callable[..., FlaskClient]
) -> None:
    from shopfloor.store.opening import writing

    with app.app_context(), writing() as connection:
        connection.exec_driver_sql("ALTER TABLE alembic_version RENAME TO gone")

    answer = office.get("/health")

    assert answer.status_code == 503
    assert answer.get_json()["database"]["state"] == "unreadable"
