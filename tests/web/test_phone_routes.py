"""What the app fetches: its shell, the service worker with the list of files, the manifest, the packs."""

from __future__ import annotations

import gzip
import hashlib
import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient

from shopfloor.settings import ROOT
from shopfloor.store import jobs
from shopfloor.trade.part import Job
from shopfloor.web.shell import Shelf
from tests.store.test_jobs import stand


def shell_of(client: FlaskClient) -> dict[str, object]:
    """The list that the service worker carries."""
    found = re.search(r"const SHELL = (\{.*?\}) ?;", client.get("/sw.js").text)
    assert found
    shell: dict[str, object] = json.loads(found[1])
    return shell


@pytest.mark.parametrize("path", ["/phone/", "/p/K7Q2MX", "/P/K7Q2MX", "/p/%3Cb%3E", "/P/not-a-code"])
def test_one_page_answers_every_address_of_the_app(app: Flask, path: str) -> None:
    client = app.test_client()

    answer = client.get(path)

    assert answer.status_code == 200
    assert answer.data == client.get("/phone/").data
    assert answer.mimetype == "text/html"
    assert answer.headers["Cache-Control"] == "no-cache"


def test_the_page_holds_nothing_that_its_policy_forbids(app: Flask) -> None:
    page = app.test_client().get("/phone/").text

    assert not re.search(r"<style|\sstyle=|\son\w+=|javascript:", page)
    assert not re.search(r"<script(?![^>]*\ssrc=)", page)
    assert not re.search(r"""(?:src|href)=["'](?:https?:)?//""", page)


def test_the_worker_comes_from_the_root_and_is_never_kept(app: Flask) -> None:
    answer = app.test_client().get("/sw.js")

    assert answer.mimetype == "text/javascript"
    assert answer.headers["Cache-Control"] == "no-cache"
    assert "'wasm-unsafe-eval'" in answer.headers["Content-Security-Policy"]
    again = app.test_client().get("/sw.js", headers={"If-None-Match": answer.headers["ETag"]})
    assert again.status_code == 304


def test_every_listed_file_is_there_and_is_what_the_list_says(app: Flask) -> None:
    client = app.test_client()
    files = shell_of(client)["files"]

    assert isinstance(files, list) and len(files) > 5
    for address, digest in files:
        with client.get(address) as answer:
            assert answer.status_code == 200, address
            assert hashlib.sha256(answer.data).hexdigest() == digest, address


def test_the_list_holds_what_the_app_needs_and_nothing_of_the_office(app: Flask) -> None:
    files = shell_of(app.test_client())["files"]
    assert isinstance(files, list)
    addresses = [address for address, _ in files]

    page = app.test_client().get("/phone/").text
    wanted = re.findall(r"""(?:src|href)=["'](/static/[^"']+)""", page)
    assert wanted and set(wanted) - set(addresses) <= {"/static/icons/apple-touch-180.png"}
    assert "/phone/" in addresses
    for address in addresses:
        assert not re.search(r"/office|\.d\.ts$|LICENSE|sw\.js|\.json$", address), address


def test_every_module_that_the_app_imports_is_listed(app: Flask) -> None:
    files = shell_of(app.test_client())["files"]
    assert isinstance(files, list)
    addresses = {address for address, _ in files}

    missing = []
    for address in addresses:
        if address.endswith(".js") and "/vendor/" not in address:
            source = (ROOT / address[1:]).read_text()
            for name in re.findall(r"""^\s*(?:import|export)[^'"\n]*?['"](\.{1,2}/[^'"]+)['"]""", source, re.MULTILINE):
                target = "/" + (ROOT / address[1:]).parent.joinpath(name).resolve().relative_to(ROOT).as_posix()
                if target not in addresses:
                    missing.append((address, name))
    assert missing == []


@pytest.mark.parametrize("change", ["a file changes", "a file comes", "a file goes", "the page changes"])
def test_the_version_is_another_when_anything_is(tmp_path: Path, change: str) -> None:
    (tmp_path / "phone").mkdir()
    (tmp_path / "look.css").write_text("body {}")
    (tmp_path / "phone" / "main.js").write_text("1")
    shelf, page = Shelf(tmp_path), b"page"
    before = shelf.shell(page)
    assert shelf.shell(page) == before

    if change == "a file changes":
        (tmp_path / "look.css").write_text("body { color: black }")
    elif change == "a file comes":
        (tmp_path / "phone" / "more.js").write_text("2")
    elif change == "a file goes":
        (tmp_path / "look.css").unlink()
    else:
        page = b"another page"

    assert shelf.shell(page).version != before.version


def test_a_worker_without_its_place_for_the_list_is_a_mistake_of_ours(tmp_path: Path) -> None:
    (tmp_path / "sw.js").write_text("const SHELL = {};")

    with pytest.raises(ValueError, match="one place"):
        Shelf(tmp_path).worker(b"page")


def test_the_manifest_is_one_and_its_icons_are_there(app: Flask) -> None:
    client = app.test_client()
    answer = client.get("/manifest.webmanifest")

    assert answer.mimetype == "application/manifest+json"
    manifest = json.loads(answer.data)
    assert manifest["display"] == "standalone" and manifest["start_url"] == "/phone/"
    for icon in manifest["icons"]:
        with client.get(icon["src"]) as picture:
            assert picture.status_code == 200
            assert picture.mimetype == "image/png"


@pytest.mark.parametrize(
    ("ending", "mimetype"),
    [(".js", "text/javascript"), (".css", "text/css"), (".woff2", "font/woff2"), (".wasm", "application/wasm")],
)
def test_files_have_the_names_that_browsers_insist_on(app: Flask, ending: str, mimetype: str) -> None:
    path = next((ROOT / "static").rglob(f"*{ending}")).relative_to(ROOT)

    with app.test_client().get(f"/{path.as_posix()}") as answer:
        assert answer.mimetype == mimetype
        assert answer.headers["Cache-Control"] == "no-cache"


# --- packs -------------------------------------------------------------------------------------------------------


def test_packs_are_listed_with_what_is_in_them_now(app: Flask, phone: FlaskClient) -> None:
    assert phone.get("/packs").get_json()["jobs"] == []
    with app.app_context():
        jobs.save(stand("leg.left"))

    [listed] = phone.get("/packs").get_json()["jobs"]
    pack = phone.get("/pack/music-stand").get_json()

    assert listed == {"key": "music-stand", "name": "Music stand", "etag": pack["etag"]}
    assert [part["key"] for part in pack["parts"]] == ["leg.left"]


def test_a_pack_that_the_phone_has_is_not_sent_again(app: Flask, phone: FlaskClient) -> None:
    with app.app_context():
        jobs.save(stand("leg.left"))
    first = phone.get("/pack/music-stand")

    again = phone.get("/pack/music-stand", headers={"If-None-Match": first.headers["ETag"]})
    with app.app_context():
        jobs.save(stand("leg.left", "leg.right"))
    changed = phone.get("/pack/music-stand", headers={"If-None-Match": first.headers["ETag"]})

    assert first.headers["ETag"] == f'"{first.get_json()["etag"]}"'
    assert again.status_code == 304 and again.data == b""
    assert changed.status_code == 200 and len(changed.get_json()["parts"]) == 2


def test_a_pack_of_a_job_that_is_not_there_is_404_in_json(phone: FlaskClient) -> None:
    answer = phone.get("/pack/no-such")

    assert answer.status_code == 404
    assert answer.get_json()["error"]["code"] == "no-such-job"


def test_a_job_whose_pack_cannot_be_built_keeps_no_other_from_the_phones(
    app: Flask, phone: FlaskClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    from shopfloor.web import pack

    with app.app_context():
        jobs.save(stand("leg.left"))
        jobs.save(stand("leg.left", key="spoiled"))
    build = pack.build

    def sometimes(job: Job, *rest: Any) -> dict[str, Any]:
        if job.key == "spoiled":
            raise ZeroDivisionError
        return build(job, *rest)

    monkeypatch.setattr(pack, "build", sometimes)

    first = {job["key"] for job in phone.get("/packs").get_json()["jobs"]}
    answers = {key: phone.get(f"/pack/{key}").status_code for key in first}
    then = [job["key"] for job in phone.get("/packs").get_json()["jobs"]]

    assert answers == {"music-stand": 200, "spoiled": 500}
    assert then == ["music-stand"], "no phone asks for it again and again"


def test_asking_for_packs_lengthens_the_life_of_the_cookie(phone: FlaskClient) -> None:
    answer = phone.get("/packs")

    assert "Max-Age=34560000" in answer.headers["Set-Cookie"]
    assert phone.get("/packs").status_code == 200


# --- small over the air ------------------------------------------------------------------------------------------


def _bare(text: bytes) -> bytes:
    """Without comments and white space: what a style sheet or a page says."""
    return re.sub(rb"\s+", b"", re.sub(rb"/\*.*?\*/", b"", text, flags=re.DOTALL))


@pytest.mark.parametrize("path", ["/static/look.css", "/static/phone.css", "/static/drawing.css", "/phone/", "/sw.js"])
def test_text_is_sent_small_to_who_can_read_it(app: Flask, path: str) -> None:
    client = app.test_client()
    with client.get(path) as plain, client.get(path, headers={"Accept-Encoding": "gzip, br"}) as small:
        assert "Content-Encoding" not in plain.headers
        assert small.headers["Content-Encoding"] == "gzip"
        assert _bare(gzip.decompress(small.data)) == _bare(plain.data)
        assert len(small.data) == int(small.headers["Content-Length"]) < len(plain.data)
        assert "Accept-Encoding" in small.headers["Vary"] and "Accept-Encoding" in plain.headers["Vary"]
        tag = small.headers["ETag"]

    with client.get(path, headers={"Accept-Encoding": "gzip", "If-None-Match": tag}) as again:
        assert again.status_code == 304


@pytest.mark.parametrize("path", ["/static/icons/icon-192.png", "/health"])
def test_what_would_not_get_smaller_is_sent_as_it_is(app: Flask, path: str) -> None:
    with app.test_client().get(path, headers={"Accept-Encoding": "gzip"}) as answer:
        assert "Content-Encoding" not in answer.headers


def test_a_changed_pack_is_not_answered_with_the_small_form_of_the_old_one(
    app: Flask, new_phone: Callable[..., FlaskClient]
) -> None:
    phone = new_phone()
    small = {"Accept-Encoding": "gzip"}
    for parts in (("leg.left",), ("leg.left", "leg.right")):
        with app.app_context():
            jobs.save(stand(*parts))
        pack = json.loads(gzip.decompress(phone.get("/pack/music-stand", headers=small).data))
        assert [part["key"] for part in pack["parts"]] == list(parts)
