"""What can be asked for at the command line?  Serving, and the few things that are done without a browser.

`--data` and the options of serving may stand before the command or after it (options.py).
"""

from __future__ import annotations

import copy
import io
import logging
import os
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

import click
from flask import g
from flask.cli import AppGroup, ScriptInfo, with_appcontext
from flask_migrate.cli import db as library

from shopfloor import __version__, web
from shopfloor.errors import ShopError
from shopfloor.intake.demo import demo_job
from shopfloor.intake.job_file import read_job
from shopfloor.options import FILE, WORD, Unusable, data, serving, settings_of
from shopfloor.paper.label_address import label_host
from shopfloor.server import Server
from shopfloor.server import serve as run_server
from shopfloor.settings import Settings
from shopfloor.store import jobs, phones, shop
from shopfloor.trade import document
from shopfloor.trade.construct.compose import follow
from shopfloor.web.labels import USUAL_SHEET, print_labels
from shopfloor.web.packs import PACKS, Packs
from shopfloor.web.rods_print import print_rods

FAULT = 2
"""Exit code when something cannot be done as asked."""
LOG_LEVELS = ("DEBUG", "INFO", "WARNING", "ERROR", "CRITICAL")
LOG_VARIABLE = "FACEMARK_LOG"
MOST_LISTED = 10
"""Jobs named in one sentence; more of them are counted."""
PATIENCE, EVERY = 0.5, 0.2
"""Seconds before a count is shown, and between two of them."""


@click.group(cls=AppGroup, invoke_without_command=True, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="Facemark")
@data
@serving
@click.pass_context
def group(ctx: click.Context) -> None:
    """Facemark: a label on each part, its sheet on the phone, and the office knows.

    Without a command the shop is served, until Ctrl-C.
    """
    if ctx.invoked_subcommand is None:
        ctx.invoke(serve)


@group.command(with_appcontext=False)
@data
@serving
@click.pass_context
def serve(ctx: click.Context) -> None:
    """Serve the shop (what happens without a command)."""
    info = ctx.ensure_object(ScriptInfo)
    given = settings_of(info)
    app = info.load_app()
    with app.app_context():
        if info.data.get("demo"):
            _load_demo()
        first = next((job.key for job in jobs.all_jobs()), None)

    def ready(server: Server) -> None:
        app.config["FACEMARK"] = given = _with_port(settings_of(info), server.port)
        click.echo(_welcome(given, first))
        sys.stdout.flush()
        packs: Packs = app.extensions[PACKS]
        packs.warm(app)

    run_server(app, given.host, given.port, given.cert, given.key, ready)
    click.echo("Stopped.")


@group.command()
@data
@click.option("--job", "key", help="Key of the job; may be left out if there is one job only.")
@click.option("--out", type=FILE, required=True, help="The PDF file to write.")
@click.option(
    "--sheet", default=USUAL_SHEET, help=f"Label sheet, by its name ({USUAL_SHEET}); a wrong name lists them."
)
@click.option("--stacks", default=None, help="Numbers of the stacks to print, such as 1,4-6; else all.")
@click.option("--start", type=click.IntRange(1), default=1, help="First free place on a sheet that is begun (1).")
@click.option(
    "--address",
    type=WORD,
    help="What the QR codes begin with, like https://shop.local; without it they carry the bare code.",
)
def labels(key: str | None, out: Path, sheet: str, stacks: str | None, start: int, address: str | None) -> None:
    """Write the labels of a job as a PDF."""
    host = label_host(address or "", "--address")
    with _told_on_the_way() as told:
        printed = print_labels(_one_job(key), sheet, stacks, start, host, told)
    _write(out, printed.pdf)
    many = "1 page" if printed.pages == 1 else f"{printed.pages:,} pages"
    click.echo(f"{printed.labels:,} label{'s' * (printed.labels != 1)} on {many}: {out}")
    for sentence in printed.mind:
        click.echo(sentence, err=True)


@group.command()
@data
@click.option("--job", "key", help="Key of the job; may be left out if there is one job only.")
@click.option("--out", type=FILE, required=True, help="The PDF file to write.")
@click.option("--paper", default=None, help="a4 or letter (letter for a job in inches, a4 for one in millimetres).")
@click.option("--stacks", default=None, help="Numbers of the stacks whose rods to print, such as 1,4-6; else all.")
@click.option("--part", type=WORD, help="Code of a part, to print its rod alone.")
def rods(key: str | None, out: Path, paper: str | None, stacks: str | None, part: str | None) -> None:
    """Write the rods of a job, marks at full size, as a PDF."""
    printed = print_rods(_one_job(key), paper, stacks, part or "")
    _write(out, printed.pdf)
    many = "1 page" if printed.pages == 1 else f"{printed.pages:,} pages"
    click.echo(f"{printed.rods:,} rod{'s' * (printed.rods != 1)} on {many}: {out}")


@group.command("phone-code", short_help="Print a code that lets one phone join, once.")
@data
def phone_code() -> None:
    """Print a code that lets one phone join, once, within ten minutes."""
    click.echo(phones.new_code().text)


@group.command("jobs")
@data
def list_jobs() -> None:
    """List the jobs: key, revision, name."""
    for job in jobs.all_jobs():
        click.echo(f"{job.key}\t{job.revision}\t{job.name}")


@group.command("import", short_help="Take in a job from a .toml or .json file.")
@data
@click.argument("file", type=FILE)
@click.option("--note", default="", help="What is new in this revision.")
def import_job(file: Path, note: str) -> None:
    """Take in a job from a .toml or .json file, as a new job or as the next revision of the one it names."""
    try:
        job = read_job(file.read_bytes(), str(file))
    except OSError as error:
        why = (error.strerror or "it does not work").lower()
        raise Unusable(f"this file cannot be read: {why}", where=str(file), do="Give a .toml or .json file.") from error
    wrong = follow(job).faults
    if wrong:
        raise Unusable(wrong[0].what, where=wrong[0].where, do=f"{wrong[0].do} Nothing was taken in.".strip())
    before = {row.key: row.revision for row in jobs.all_jobs()}.get(job.key)
    number = jobs.save(job, note)
    became = f"; revision {before} was there before" if before not in (None, number) else ""
    click.echo(f"{job.key} is at revision {number}{became}")


@group.command("export")
@data
@click.option("--job", "key", help="Key of the job; may be left out if there is one job only.")
@click.option("--out", type=FILE, required=True, help="The file to write; .toml or .json says which.")
def export_job(key: str | None, out: Path) -> None:
    """Write a job as a file that people and other programs can read."""
    job, _ = jobs.latest(_one_job(key))
    if out.suffix not in (".toml", ".json"):
        raise Unusable("a job is written as .toml or .json", where=str(out), do="Give the file one of these endings.")
    _write(out, document.as_file(job, out.suffix.removeprefix(".")))
    click.echo(f"{job.name}: {out}")


@group.group("db")
@data
def migrations() -> None:
    """Show or change the form of the database.

    For people who change Facemark: every start brings the database to the present form by itself.
    """


def _with_data(command: click.Command) -> click.Command:
    """A command of the library for migrations that knows --data, and finds ours without being told where."""
    own, does = copy.copy(command), command.callback
    assert does

    @with_appcontext
    def run(*values: Any, **given: Any) -> Any:
        g.directory, g.x_arg = None, ()
        return does(*values, **given)

    own.params, own.callback = list(command.params), run
    return data(own)


for _command in library.commands.values():
    if _command.name not in ("init", "list-templates"):  # those begin another set of migrations
        migrations.add_command(_with_data(_command))


def main(arguments: list[str] | None = None) -> None:
    """Run the command line and exit: 0 if done, 2 with one sentence on stderr if it cannot be done."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A pipe or a log may not take every letter of a name; that is no reason to stop.
            stream.reconfigure(errors="backslashreplace")
    info = ScriptInfo(create_app=lambda: _create(info), set_debug_flag=False, load_dotenv_defaults=False)
    try:
        logging.basicConfig(level=_log_level(), format="%(levelname)s %(name)s %(message)s")
        group.main(arguments, prog_name="app.py", obj=info)
    except ShopError as error:
        click.echo(str(error), err=True)
        sys.exit(FAULT)


def _create(info: ScriptInfo) -> Any:
    return web.create_app(settings_of(info))


def _log_level() -> str:
    level = os.environ.get(LOG_VARIABLE, "").strip().upper() or "WARNING"
    if level not in LOG_LEVELS:
        raise Unusable(f"{level[:20]!r} is no level", where=LOG_VARIABLE, do=f"Set one of {', '.join(LOG_LEVELS)}.")
    return level


def _with_port(given: Settings, port: int) -> Settings:
    return replace(given, port=port)


def _welcome(given: Settings, first_job: str | None) -> str:
    lines = [
        ("Open this:", "/"),
        ("Print labels here:", f"/jobs/{first_job}/print") if first_job else ("Take in a cut list here:", "/cut-list"),
        ("Add a phone here:", "/phones"),
    ]
    told = "\n".join(f"  {says:<25}{given.address}{path}" for says, path in lines)
    return f"Facemark {__version__}, data in {given.data}\n{told}\nCtrl-C stops."


def _load_demo() -> None:
    demo = demo_job()
    there = {job.key for job in jobs.all_jobs()}
    if not there and shop.read().name == shop.FIRST_NAME:
        shop.rename(shop.DEMO_NAME)  # a phone that comes from here to the real shop can tell the two apart
    if demo.key not in there:
        jobs.save(demo, "the demo")


def _one_job(key: str | None) -> str:
    there = [job.key for job in jobs.all_jobs()]
    if not there:
        raise Unusable("there is no job yet", do="Take in a cut list, or start with --demo.")
    more = f" and {len(there) - MOST_LISTED} more" if len(there) > MOST_LISTED else ""
    one_of = f"{', '.join(there[:MOST_LISTED])}{more}"
    if key is not None and key not in there:
        raise Unusable(
            f"there is no job {key!r}", where="--job", do=f"There {'is' if not there[1:] else 'are'} {one_of}."
        )
    if key is None and len(there) > 1:
        raise Unusable("there is more than one job", where="--job", do=f"Give one of: {one_of}.")
    return key or there[0]


@contextmanager
def _told_on_the_way() -> Iterator[Callable[[int, int], None]]:
    """Counts on one line of the terminal, "600 of 3,000 labels", as long as it goes on; nothing where nobody looks."""
    begun = last = time.monotonic()
    width = 0

    def told(done: int, of: int) -> None:
        nonlocal last, width
        now = time.monotonic()
        if now - begun > PATIENCE and now - last > EVERY:
            says = f"{done:,} of {of:,} labels"
            click.echo(f"\r{says:<{width}}", nl=False, err=True)
            last, width = now, len(says)

    try:
        yield told if sys.stderr.isatty() else lambda done, of: None
    finally:
        if width:
            click.echo(f"\r{'':<{width}}\r", nl=False, err=True)


def _write(out: Path, contents: bytes) -> None:
    try:
        out.write_bytes(contents)
    except OSError as error:
        why = (error.strerror or "it does not work").lower()
        raise Unusable(f"this file cannot be written: {why}", where=str(out), do="Give another --out.") from error
