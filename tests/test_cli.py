"""The command line: what a stranger types first, and every way in which it can fail to start."""

from __future__ import annotations

import os
import re
import socket
import sqlite3
import subprocess
import sys
from contextlib import closing, redirect_stderr, redirect_stdout
from dataclasses import replace
from io import StringIO
from pathlib import Path
from typing import NamedTuple

import pypdfium2
import pytest
import zxingcpp
from flask.cli import ScriptInfo

from shopfloor import __version__, cli
from shopfloor.cli import main
from shopfloor.intake.demo import demo_job
from shopfloor.options import settings_of
from shopfloor.settings import Settings
from shopfloor.store import jobs, phones
from shopfloor.store.tables import db
from shopfloor.trade.construct.cabinet import Cabinet
from shopfloor.trade.document import to_toml
from shopfloor.trade.length import read
from shopfloor.trade.part import Assembly, Job, Line, Part
from shopfloor.web import create_app
from tests.running import ROOT, Running, ask


class Ended(NamedTuple):
    """How a command ended."""

    returncode: int
    stdout: str
    stderr: str


def run(*arguments: str | Path) -> Ended:
    """Run app.py's command line in here: starting Python anew takes a second each time."""
    with redirect_stdout(StringIO()) as out, redirect_stderr(StringIO()) as err:
        try:
            main([str(argument) for argument in arguments])
        except SystemExit as ended:
            return Ended(int(ended.code or 0), out.getvalue(), err.getvalue())
    raise AssertionError("a command line ends with an exit code")


def run_really(*arguments: str | Path, **environment: str) -> Ended:
    """Run app.py as a person does."""
    ended = subprocess.run(
        [sys.executable, str(ROOT / "app.py"), *map(str, arguments)],
        capture_output=True,
        text=True,
        cwd=ROOT,
        timeout=60,
        env=os.environ | environment,
    )
    return Ended(ended.returncode, ended.stdout, ended.stderr)


def assert_told_in_one_sentence(ended: Ended, *says: str) -> None:
    """Exit code 2, one line on stderr that holds all of this, nothing on stdout."""
    assert ended.returncode == 2
    assert ended.stdout == ""
    assert ended.stderr.count("\n") == 1, ended.stderr
    for words in says:
        assert words in ended.stderr


def test_the_start_names_the_folder_and_what_to_do_next(tmp_path: Path) -> None:
    data = tmp_path / "shop data"
    with Running(data, "--demo") as running:
        told = running.said
        address = f"http://127.0.0.1:{running.port}"
        assert told[0] == f"Facemark {__version__}, data in {data}\n"
        assert [re.sub(r" +", " ", line) for line in told[1:]] == [
            f" Open this: {address}/\n",
            f" Print labels here: {address}/jobs/choir-cabinet/print\n",
            f" Add a phone here: {address}/phones\n",
            "Ctrl-C stops.\n",
        ]
        for path in ("/", "/jobs/choir-cabinet/print", "/phones"):
            assert ask(running.port, "GET", path)[0] == 200


def test_an_empty_shop_says_where_to_begin(tmp_path: Path) -> None:
    with Running(tmp_path / "data") as running:
        assert any("Take in a cut list here:" in line for line in running.said)
        assert ask(running.port, "GET", "/cut-list")[0] == 200


def test_a_second_start_with_the_demo_loads_it_once(tmp_path: Path) -> None:
    for _ in range(2):
        with Running(tmp_path / "data", "--demo"):
            pass

    assert run("jobs", "--data", tmp_path / "data").stdout == "choir-cabinet\t1\tChoir cabinet\n"


def test_two_programs_may_serve_the_same_shop(tmp_path: Path) -> None:
    with Running(tmp_path / "data") as one, Running(tmp_path / "data") as other:
        phone = one.join()
        phone.port = other.port
        assert phone.ask("GET", "/sync")[0] == 200


@pytest.mark.parametrize("before", [True, False], ids=["before the command", "after the command"])
def test_the_data_folder_is_understood_on_either_side(tmp_path: Path, before: bool) -> None:
    folder = ["--data", str(tmp_path / "data")]

    ended = run(*(folder if before else []), "jobs", *([] if before else folder))

    assert (ended.returncode, ended.stdout, ended.stderr) == (0, "", "")
    assert (tmp_path / "data" / "facemark.sqlite").is_file()


def test_the_data_folder_may_stand_in_the_environment(tmp_path: Path) -> None:
    assert run_really("jobs", FACEMARK_DATA=str(tmp_path / "data")).returncode == 0
    assert (tmp_path / "data" / "facemark.sqlite").is_file()


@pytest.mark.parametrize("where", [["--port", "0", "serve"], ["serve", "--port", "0"]], ids=str)
def test_serving_may_be_asked_for_by_name(tmp_path: Path, where: list[str]) -> None:
    with subprocess.Popen(
        [sys.executable, str(ROOT / "app.py"), "--data", str(tmp_path / "data"), *where],
        stdout=subprocess.PIPE,
        text=True,
        cwd=ROOT,
    ) as process:
        assert process.stdout
        said = [process.stdout.readline() for _ in range(2)]
        process.terminate()
        process.stdout.read()
    found = re.search(r"http://127\.0\.0\.1:(\d+)/", said[1])
    assert found and found[1] not in ("0", "8000")


COMMANDS = ["serve", "labels", "phone-code", "jobs", "import", "export", "db", "db upgrade", "db current"]


def test_help_explains_every_command() -> None:
    ended = run("--help")

    assert ended.returncode == 0
    for command in COMMANDS[:7]:
        assert re.search(rf"^  {command} +\w", ended.stdout, re.MULTILINE), command
    for option in ("--data", "--port", "--host", "--demo"):
        assert option in ended.stdout


@pytest.mark.parametrize("command", COMMANDS)
def test_each_command_explains_itself(command: str) -> None:
    ended = run(*command.split(), "--help")

    assert ended.returncode == 0
    assert "--data" in ended.stdout


def test_help_says_where_the_data_lies_when_nobody_says_so() -> None:
    assert settings_of(ScriptInfo()).data == ROOT / "facemark-data"
    assert "else facemark-data, beside app.py" in " ".join(run("--help").stdout.split())


@pytest.mark.parametrize("before", [True, False], ids=["before the command", "after the command"])
def test_the_form_of_a_database_can_be_asked_for_in_its_own_folder(tmp_path: Path, before: bool) -> None:
    folder = ["--data", str(tmp_path / "data")]

    upgraded = run("db", *folder, "upgrade") if before else run("db", "upgrade", *folder)
    ended = run_really(*folder, "db", "current") if before else run_really("db", "current", *folder)

    assert upgraded.returncode == 0, upgraded.stderr
    assert re.fullmatch(r"\d{4} \(head\)\n", ended.stdout)
    assert (tmp_path / "data" / "facemark.sqlite").is_file()


def test_version() -> None:
    assert run("--version").stdout == f"Facemark, version {__version__}\n"


# --- what cannot be started --------------------------------------------------------------------------------------


def test_a_taken_port_is_one_sentence(tmp_path: Path) -> None:
    with closing(socket.create_server(("127.0.0.1", 0))) as taken:
        port = taken.getsockname()[1]
        assert_told_in_one_sentence(
            run_really("--data", tmp_path / "data", "--port", str(port)), f"port {port}", "taken"
        )


def test_a_database_from_a_newer_version_is_one_sentence(tmp_path: Path) -> None:
    run("jobs", "--data", tmp_path)
    with closing(sqlite3.connect(tmp_path / "facemark.sqlite")) as database:
        database.execute("UPDATE alembic_version SET version_num = '9999'")
        database.commit()

    assert_told_in_one_sentence(run_really("--data", tmp_path), "newer version", str(tmp_path))


def test_a_file_for_a_data_folder_is_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")

    assert_told_in_one_sentence(run("--data", tmp_path / "file"), "is a file", "--data")


def test_a_folder_that_cannot_be_written_is_one_sentence(tmp_path: Path) -> None:
    # Root may write anywhere, so that not even it can be stopped by a mode; a file in the way stops everybody.
    (tmp_path / "file").write_text("")

    assert_told_in_one_sentence(run("--data", tmp_path / "file" / "data"), "cannot be written to", "--data")


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--host", "0.0.0.0", "--name", "shop.local"], "needs https"),
        (["--host", "0.0.0.0", "--cert", "x.pem", "--key", "x.pem"], "is no address that a phone can open"),
        (["--host", "192.168.4.1"], "needs https"),
        (["--cert", "x.pem"], "a certificate goes with its key"),
        (["--key", "x.pem"], "a certificate goes with its key"),
        (["--cert", "no-such.pem", "--key", "no-such.pem"], "the certificate cannot be used"),
        (["labels", "--out", "x.pdf"], "there is no job yet"),
        (["labels", "--out", "x.pdf", "--job", "no-such"], "there is no job yet"),
        (["export", "--out", "x.toml"], "there is no job yet"),
        (["import", "no-such.toml"], "this file cannot be read"),
        (["--data", ""], "--data: there is no folder in ''"),
        (["jobs", "--data", " "], "--data: there is no folder in ' '"),
        (["--data", "~no-such-person/x"], "no such home folder"),
        (["--host", ""], "--host: there is no text in ''"),
        (["--host", "not a host"], '--host: "not a host" is not the name of a computer'),
        (["--name", "https://shop.local"], '--name: "https://shop.local" is not the name of a computer'),
        (["--name", "shop.local:8443"], "--name: "),
        (["--cert", "", "--key", "x"], "--cert: there is no file in ''"),
        (["export", "--out", ""], "--out: there is no file in ''"),
        (["import", ""], "there is no file in ''"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else None,
)
def test_what_cannot_be_done_as_asked_is_one_sentence(tmp_path: Path, arguments: list[str], says: str) -> None:
    assert_told_in_one_sentence(run("--data", tmp_path / "data", *arguments), says)


@pytest.mark.parametrize(
    "arguments", [["--port", "99999"], ["--port", "x"], ["--no-such"], ["no-such"], ["labels"]], ids=" ".join
)
def test_a_slip_of_the_fingers_is_told_and_exits_with_2(arguments: list[str]) -> None:
    ended = run(*arguments)

    assert ended.returncode == 2
    assert "Traceback" not in ended.stderr
    assert "Error: " in ended.stderr


# --- the other commands ------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A data folder with the demo in it."""
    data = tmp_path_factory.mktemp("demo") / "data"
    with Running(data, "--demo"):
        pass
    return data


def test_labels_are_written_as_a_pdf(demo: Path, tmp_path: Path) -> None:
    out = tmp_path / "labels.pdf"

    ended = run("labels", "--data", demo, "--job", "choir-cabinet", "--out", out, "--sheet", "a4-2x7", "--start", "14")

    assert ended.returncode == 0, ended.stderr
    found = re.fullmatch(r"(\d+) labels on (\d+) pages: .*labels\.pdf\n", ended.stdout)
    assert found
    with pypdfium2.PdfDocument(out) as document:
        # 74 parts and 12 stacks; the first page has one free place, the others 14 each.
        assert (int(found[1]), int(found[2]), len(document)) == (86, 8, 8)


@pytest.mark.parametrize(
    ("option", "says"),
    [
        (["--sheet", "a9"], "Choose one of a4-3x8"),
        (["--stacks", "77"], "there is no stack '77'"),
        (["--start", "999"], "first free place: the sheet has places 1 to"),
        (["--sheet", ""], "there is no sheet"),
        (["--job", "nope"], "--job: there is no job 'nope'. There is choir-cabinet.\n"),
        (["--job", "x" * 5_000], "xxx…. There is choir-cabinet."),
        (["--address", ""], "--address: there is no text"),
        (["--address", "shop local"], '--address: "shop local" is not the address of a shop. Write it like https://'),
        (["--address", "ftp://shop.local"], "is not the address of a shop"),
        (["--address", "https://"], "is not the address of a shop"),
        (["--address", "https://shop.local/phone"], "is not the address of a shop"),
        (["--address", "https://me@shop.local"], "is not the address of a shop"),
        (["--address", "shop.local:70000"], "is not the address of a shop"),
        (["--address", "-shop.local"], "is not the address of a shop"),
        (["--address", "http://localhost:8000"], "this computer only"),
        (["--address", "a-computer-with-a-long-name.lan"], "has 31 letters, a QR code that is read well takes 21"),
    ],
    ids=lambda value: value[0] if isinstance(value, list) else None,
)
def test_labels_that_cannot_be_printed_are_one_sentence(
    demo: Path, tmp_path: Path, option: list[str], says: str
) -> None:
    out = tmp_path / "labels.pdf"

    assert_told_in_one_sentence(run("labels", "--data", demo, "--out", out, *option), says)
    assert not out.exists()


def test_rods_are_written_as_a_pdf(demo: Path, tmp_path: Path) -> None:
    out = tmp_path / "rods.pdf"

    ended = run("rods", "--data", demo, "--out", out, "--stacks", "1", "--paper", "a4")

    assert ended.returncode == 0, ended.stderr
    found = re.fullmatch(r"2 rods on (\d+) pages: .*rods\.pdf\n", ended.stdout)  # front legs and back legs
    assert found
    with pypdfium2.PdfDocument(out) as document:
        assert len(document) == int(found[1])


@pytest.mark.parametrize(
    ("option", "says"),
    [
        (["--paper", "a3"], 'there is no paper "a3". Choose a4 or letter'),
        (["--stacks", "77"], "there is no stack '77'"),
        (["--stacks", "12"], "there is no rod to print"),
        (["--part", "Q"], "part: "),
    ],
    ids=lambda value: value[0] if isinstance(value, list) else None,
)
def test_rods_that_cannot_be_printed_are_one_sentence(demo: Path, tmp_path: Path, option: list[str], says: str) -> None:
    out = tmp_path / "rods.pdf"

    assert_told_in_one_sentence(run("rods", "--data", demo, "--out", out, *option), says)
    assert not out.exists()


@pytest.mark.parametrize(
    ("address", "printed"),
    [
        ("shop.local", "HTTPS://SHOP.LOCAL/P/"),
        ("https://shop.local", "HTTPS://SHOP.LOCAL/P/"),
        ("http://shop.local/", "HTTPS://SHOP.LOCAL/P/"),
        ("https://Shop.local:8443/", "HTTPS://SHOP.LOCAL:8443/P/"),
        ("https://192.168.4.20:443", "HTTPS://192.168.4.20/P/"),
    ],
)
def test_the_address_of_the_shop_stands_in_the_symbols(demo: Path, tmp_path: Path, address: str, printed: str) -> None:
    out = tmp_path / "labels.pdf"

    ended = run("labels", "--data", demo, "--out", out, "--stacks", "12", "--sheet", "a4-2x7", "--address", address)

    assert ended.returncode == 0, ended.stderr
    with pypdfium2.PdfDocument(out) as document:
        found = zxingcpp.read_barcodes(document[0].render(scale=300 / 72).to_pil().convert("L"))
    assert [one.text[: len(printed)] for one in found] == [printed, printed]


def test_an_address_that_a_label_has_no_room_for_is_not_left_out_silently(demo: Path, tmp_path: Path) -> None:
    given = ["labels", "--data", demo, "--out", tmp_path / "labels.pdf", "--stacks", "12", "--address", "shop.local"]

    small, large = run(*given, "--sheet", "50x20"), run(*given, "--sheet", "62x40")

    assert small.stderr == "The address has no room on these labels: their QR codes carry the bare code.\n"
    assert (small.returncode, large.returncode, large.stderr) == (0, 0, "")


def test_the_jobs_there_are_are_named_but_not_without_end(tmp_path: Path) -> None:
    with create_app(Settings(data=tmp_path)).app_context():
        for number in range(13):
            jobs.save(Job(f"stand-{number:02}", f"Stand {number}"), at_ms=20 - number)
        db.engine.dispose()

    ended = run("export", "--data", tmp_path, "--out", "x.toml")
    assert_told_in_one_sentence(ended, "more than one job", "Give one of: stand-00, stand-01", "stand-09 and 3 more.")


def test_letters_that_cannot_be_printed_are_said_on_the_command_line(tmp_path: Path) -> None:
    with create_app(Settings(data=tmp_path)).app_context():
        slat = Line("slat", "seat", "棚", 1, 1, 1, parts=(Part("slat.1"),))
        jobs.save(Job("bench", "Bench", assemblies=(Assembly("seat", 1, "Seat"),), lines=(slat,)))
        db.engine.dispose()

    ended = run("labels", "--data", tmp_path, "--out", tmp_path / "labels.pdf")

    assert (ended.returncode, ended.stdout) == (0, f"2 labels on 1 page: {tmp_path / 'labels.pdf'}\n")
    assert ended.stderr.startswith("Our fonts do not have 棚: on the labels of “棚” the sign")


class Terminal(StringIO):
    """A stderr that somebody looks at."""

    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize("terminal", [True, False], ids=["a terminal", "a file"])
def test_a_long_run_is_counted_on_one_line_where_somebody_looks(
    demo: Path, tmp_path: Path, terminal: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cli, "PATIENCE", 0)
    monkeypatch.setattr(cli, "EVERY", 0)
    monkeypatch.setattr(sys, "stderr", Terminal() if terminal else StringIO())

    with pytest.raises(SystemExit) as ended, redirect_stdout(StringIO()):
        main(["labels", "--data", str(demo), "--out", str(tmp_path / "labels.pdf")])

    assert not ended.value.code
    said = sys.stderr.getvalue()  # type: ignore[attr-defined]
    if terminal:
        # The line is wiped at the end, so that what is said next stands alone.
        assert said.startswith("\r1 of 86 labels\r2 of 86 labels\r")
        assert re.search(r"\r86 of 86 labels\r +\r$", said)
    else:
        assert said == ""


def test_a_word_that_is_no_level_of_the_log_is_one_sentence(tmp_path: Path) -> None:
    assert_told_in_one_sentence(
        run_really("jobs", "--data", tmp_path, FACEMARK_LOG="loud"), "FACEMARK_LOG: 'LOUD' is no level", "WARNING"
    )


def test_a_file_that_cannot_be_written_is_one_sentence(demo: Path, tmp_path: Path) -> None:
    out = tmp_path / "no" / "such" / "folder" / "labels.pdf"

    assert_told_in_one_sentence(run("labels", "--data", demo, "--out", out), "cannot be written", str(out))


def test_a_code_for_a_phone_is_printed_and_lets_one_in(tmp_path: Path) -> None:
    with Running(tmp_path / "data") as running:
        code = run("phone-code", "--data", tmp_path / "data").stdout.strip()

        assert re.fullmatch(f"[{phones.SYMBOLS}]{{4}}-[{phones.SYMBOLS}]{{4}}", code)
        assert ask(running.port, "POST", "/join", {"code": code, "name": "x"})[0] == 200
        assert ask(running.port, "POST", "/join", {"code": code, "name": "y"})[0] == 403


@pytest.mark.parametrize("ending", [".toml", ".json"])
def test_a_job_goes_out_and_comes_in_unchanged(demo: Path, tmp_path: Path, ending: str) -> None:
    out = tmp_path / f"job{ending}"

    exported = run("export", "--data", demo, "--out", out)
    imported = run("import", out, "--data", tmp_path / "other")
    again = run("import", out, "--data", tmp_path / "other")
    back = run("export", "--data", tmp_path / "other", "--out", tmp_path / f"back{ending}")

    assert exported.returncode == imported.returncode == again.returncode == back.returncode == 0
    assert imported.stdout == again.stdout == "choir-cabinet is at revision 1\n"
    assert (tmp_path / f"back{ending}").read_bytes() == out.read_bytes()


def test_a_revision_in_place_of_another_is_said(demo: Path, tmp_path: Path) -> None:
    out = tmp_path / "job.toml"
    run("export", "--data", demo, "--out", out)
    run("import", out, "--data", tmp_path / "other")
    out.write_text(out.read_text(encoding="utf-8").replace("Choir cabinet", "Singers"), encoding="utf-8")

    ended = run("import", out, "--data", tmp_path / "other")

    assert ended.stdout == "choir-cabinet is at revision 2; revision 1 was there before\n"


def test_a_name_that_a_log_cannot_hold_stops_nothing(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text('key = "chair"\nname = "椅子"\n', encoding="utf-8")
    data = tmp_path / "Шоп"

    taken = run_really("import", job, "--data", data, PYTHONIOENCODING="cp1252")
    listed = run_really("jobs", "--data", data, PYTHONIOENCODING="cp1252")

    assert (taken.returncode, listed.returncode) == (0, 0), taken.stderr + listed.stderr
    assert listed.stdout == "chair\t1\t\\u6905\\u5b50\n"


def test_a_job_goes_out_as_toml_or_json_only(demo: Path, tmp_path: Path) -> None:
    assert_told_in_one_sentence(run("export", "--data", demo, "--out", tmp_path / "job.txt"), ".toml or .json")


def test_a_file_that_is_no_job_is_told_fault_by_fault(tmp_path: Path) -> None:
    file = tmp_path / "job.toml"
    file.write_text('name = "Music stand"\ncolour = "red"\n')

    ended = run("import", file, "--data", tmp_path / "data")

    assert ended.returncode == 2
    assert "colour" in ended.stderr and "key" in ended.stderr and "Traceback" not in ended.stderr
    assert run("jobs", "--data", tmp_path / "data").stdout == ""


def test_a_document_of_which_something_cannot_be_made_is_not_taken_in(tmp_path: Path) -> None:
    (cabinet,) = demo_job().constructions
    assert isinstance(cabinet, Cabinet)
    file = tmp_path / "low.toml"
    file.write_text(to_toml(replace(demo_job(), constructions=(replace(cabinet, height=read("3")),))), encoding="utf-8")

    ended = run("--data", tmp_path / "data", "import", file)

    assert_told_in_one_sentence(ended, "Nothing was taken in.")
