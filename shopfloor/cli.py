"""What can be asked for at the command line?  Serving, and the few things that are done without a browser.

`--data` and the options of serving may stand before the command or after it.
"""

from __future__ import annotations

import logging
import os
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any, TypeVar

import click
from flask.cli import AppGroup, ScriptInfo
from flask_migrate.cli import db as migrations

from shopfloor import __version__, web
from shopfloor.errors import ShopError
from shopfloor.intake.demo import demo_job
from shopfloor.intake.job_file import read_job
from shopfloor.server import Server
from shopfloor.server import serve as run_server
from shopfloor.settings import DATA_FOLDER, DATA_VARIABLE, DEFAULT_PORT, ROOT, Settings, is_loopback
from shopfloor.store import jobs, phones
from shopfloor.trade import document
from shopfloor.web.labels import USUAL_SHEET, print_labels
from shopfloor.web.packs import Packs
from shopfloor.web.phone import PACKS

F = TypeVar("F", bound=Callable[..., Any])
EVERYWHERE = ("0.0.0.0", "::")
"""Listening here answers at every address of this computer."""
FAULT = 2
"""Exit code when something cannot be done as asked."""


class Unusable(ShopError):
    """What was asked for at the command line cannot be done."""

    code = "unusable-option"


def _note(ctx: click.Context, option: click.Parameter, value: Any) -> None:
    """Remember an option for the settings, wherever on the line it stood."""
    if value is not None and value != ():
        ctx.ensure_object(ScriptInfo).data[option.name] = value


def _noted(*names: str, **more: Any) -> Callable[[F], F]:
    return click.option(*names, expose_value=False, callback=_note, **more)


FOLDER = click.Path(path_type=Path)
_data = _noted(
    "--data", type=FOLDER, help=f"The folder with the shop's data (or set {DATA_VARIABLE}; else ./{DATA_FOLDER})."
)


def _serving(view: F) -> F:
    for option in reversed(
        (
            _noted(
                "--port", type=click.IntRange(0, 65535), help=f"Port to serve at; 0 is any free one ({DEFAULT_PORT})."
            ),
            _noted(
                "--host", help="Address to serve at; any but this computer's own needs --cert and --key (127.0.0.1)."
            ),
            _noted("--name", multiple=True, help="A name that phones call this computer by; the first goes on labels."),
            _noted("--cert", type=FOLDER, help="Certificate to serve https with, a PEM file."),
            _noted("--key", type=FOLDER, help="Its private key, a PEM file."),
            _noted("--demo", is_flag=True, default=None, help="Load the demo job if it is not there."),
        )
    ):
        view = option(view)
    return view


@click.group(cls=AppGroup, invoke_without_command=True, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="Facemark")
@_data
@_serving
@click.pass_context
def group(ctx: click.Context) -> None:
    """Facemark: a label on each part, its sheet on the phone, and the office knows.

    Without a command the shop is served, until Ctrl-C.
    """
    if ctx.invoked_subcommand is None:
        ctx.invoke(serve)


@group.command(with_appcontext=False)
@_data
@_serving
@click.pass_context
def serve(ctx: click.Context) -> None:
    """Serve the shop (what happens without a command)."""
    info = ctx.ensure_object(ScriptInfo)
    given = _settings(info)
    app = info.load_app()
    with app.app_context():
        if info.data.get("demo"):
            _load_demo()
        first = next((job.key for job in jobs.all_jobs()), None)

    def ready(server: Server) -> None:
        app.config["FACEMARK"] = given = _with_port(_settings(info), server.port)
        click.echo(_welcome(given, first))
        sys.stdout.flush()
        packs: Packs = app.extensions[PACKS]
        packs.warm(app)

    run_server(app, given.host, given.port, given.cert, given.key, ready)
    click.echo("Stopped.")


@group.command()
@_data
@click.option("--job", "key", help="Key of the job; may be left out if there is one job only.")
@click.option("--out", type=FOLDER, required=True, help="The PDF file to write.")
@click.option("--sheet", default=None, help="Label sheet, by its name; a wrong name lists them.")
@click.option("--stacks", default=None, help="Numbers of the stacks to print, such as 1,4-6; else all.")
@click.option("--start", type=click.IntRange(1), default=1, help="First free place on a sheet that is begun (1).")
@click.option("--address", default="", help="What the QR codes begin with: a name and port that phones can open.")
def labels(key: str | None, out: Path, sheet: str | None, stacks: str | None, start: int, address: str) -> None:
    """Write the labels of a job as a PDF."""
    printed = print_labels(_one_job(key), sheet or USUAL_SHEET, stacks, start, address)
    _write(out, printed.pdf)
    many = "1 page" if printed.pages == 1 else f"{printed.pages} pages"
    click.echo(f"{printed.labels} labels on {many}: {out}")


@group.command("phone-code")
@_data
def phone_code() -> None:
    """Print a code that lets one phone join, once, within ten minutes."""
    click.echo(phones.new_code().text)


@group.command("jobs")
@_data
def list_jobs() -> None:
    """List the jobs: key, revision, name."""
    for job in jobs.all_jobs():
        click.echo(f"{job.key}\t{job.revision}\t{job.name}")


@group.command("import")
@_data
@click.argument("file", type=FOLDER)
@click.option("--note", default="", help="What is new in this revision.")
def import_job(file: Path, note: str) -> None:
    """Take in a job from a .toml or .json file, as a new job or as the next revision of the one it names."""
    try:
        job = read_job(file.read_bytes(), str(file))
    except OSError as error:
        why = (error.strerror or "it does not work").lower()
        raise Unusable(f"this file cannot be read: {why}", where=str(file), do="Give a .toml or .json file.") from error
    click.echo(f"{job.key} is at revision {jobs.save(job, note)}")


@group.command("export")
@_data
@click.option("--job", "key", help="Key of the job; may be left out if there is one job only.")
@click.option("--out", type=FOLDER, required=True, help="The file to write; .toml or .json says which.")
def export_job(key: str | None, out: Path) -> None:
    """Write a job as a file that people and other programs can read."""
    job, _ = jobs.latest(_one_job(key))
    if out.suffix not in (".toml", ".json"):
        raise Unusable("a job is written as .toml or .json", where=str(out), do="Give the file one of these endings.")
    text = document.to_toml(job) if out.suffix == ".toml" else document.to_json(job, indent=2)
    _write(out, text.encode())
    click.echo(f"{job.name}: {out}")


migrations.hidden = True
group.add_command(migrations)


def main(arguments: list[str] | None = None) -> None:
    """Run the command line and exit: 0 if done, 2 with one sentence on stderr if it cannot be done."""
    logging.basicConfig(
        level=os.environ.get("FACEMARK_LOG", "WARNING").upper(), format="%(levelname)s %(name)s %(message)s"
    )
    info = ScriptInfo(create_app=lambda: _create(info), set_debug_flag=False, load_dotenv_defaults=False)
    try:
        group.main(arguments, prog_name="app.py", obj=info)
    except ShopError as error:
        click.echo(str(error), err=True)
        sys.exit(FAULT)


def _create(info: ScriptInfo) -> Any:
    return web.create_app(_settings(info))


def _settings(info: ScriptInfo) -> Settings:
    given = info.data
    folder = given.get("data") or os.environ.get(DATA_VARIABLE) or ROOT / DATA_FOLDER
    settings = Settings(
        data=Path(folder).expanduser().absolute(),
        host=given.get("host", "127.0.0.1"),
        port=given.get("port", DEFAULT_PORT),
        names=tuple(given.get("name", ())),
        cert=given.get("cert"),
        key=given.get("key"),
    )
    if (settings.cert is None) != (settings.key is None):
        raise Unusable("a certificate goes with its key", do="Give both --cert and --key, or neither.")
    if settings.host in EVERYWHERE and not settings.names:
        raise Unusable(
            f"{settings.host} is no address that a phone can open",
            where="--host",
            do="Give a name or address with --name.",
        )
    if not is_loopback(settings.host) and not settings.secure:
        raise Unusable(
            f"serving at {settings.host} needs https, or phones will not keep the app",
            where="--host",
            do="Give --cert and --key, or leave --host out.",
        )
    return settings


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
    if demo.key not in {job.key for job in jobs.all_jobs()}:
        jobs.save(demo, "the demo")


def _one_job(key: str | None) -> str:
    if key is not None:
        jobs.latest_number(key)
        return key
    there = [job.key for job in jobs.all_jobs()]
    if len(there) == 1:
        return there[0]
    if not there:
        raise Unusable("there is no job yet", do="Take in a cut list, or start with --demo.")
    raise Unusable("there is more than one job", where="--job", do="Give one of: " + ", ".join(there) + ".")


def _write(out: Path, contents: bytes) -> None:
    try:
        out.write_bytes(contents)
    except OSError as error:
        why = (error.strerror or "it does not work").lower()
        raise Unusable(f"this file cannot be written: {why}", where=str(out), do="Give another --out.") from error
