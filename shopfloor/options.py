"""What can be set on the command line, and what is wrong with it?  Options that many commands share, and their checks.

They may stand before the command or after it: each is noted, and the settings are made of the notes.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click
from flask.cli import ScriptInfo

from shopfloor.errors import ShopError
from shopfloor.paper.label_address import is_host
from shopfloor.settings import DATA_FOLDER, DATA_VARIABLE, DEFAULT_PORT, ROOT, Settings, is_loopback

F = TypeVar("F", bound=Callable[..., Any])
EVERYWHERE = ("0.0.0.0", "::")
"""Listening here answers at every address of this computer."""


class Unusable(ShopError):
    """What was asked for at the command line cannot be done."""

    code = "unusable-option"


class Given(click.ParamType):  # type: ignore[type-arg]  # older versions of click give it no argument
    """A text or a path that is not empty: `--data ""` is a slip of a script, not the folder that it runs in."""

    def __init__(self, kind: type[str] | type[Path], name: str) -> None:
        self.kind, self.name = kind, name

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> str | Path:
        if isinstance(value, str) and (not value.strip() or "\0" in value):
            where = param.opts[0] if param else ""
            raise Unusable(f"there is no {self.name} in {value[:20]!r}", where=where, do="Give one, or leave it out.")
        return self.kind(value)


FOLDER, FILE, WORD = Given(Path, "folder"), Given(Path, "file"), Given(str, "text")


def _note(ctx: click.Context, option: click.Parameter, value: Any) -> None:
    """Remember an option for the settings, wherever on the line it stood."""
    if value is not None and value != ():
        ctx.ensure_object(ScriptInfo).data[option.name] = value


def _noted(*names: str, **more: Any) -> Callable[[F], F]:
    return click.option(*names, expose_value=False, callback=_note, **more)


data = _noted(
    "--data",
    type=FOLDER,
    help=f"The folder with the shop's data (or set {DATA_VARIABLE}; else {DATA_FOLDER}, beside app.py).",
)


def serving(view: F) -> F:
    """The options of serving."""
    for option in reversed(
        (
            _noted(
                "--port", type=click.IntRange(0, 65535), help=f"Port to serve at; 0 is any free one ({DEFAULT_PORT})."
            ),
            _noted(
                "--host",
                type=WORD,
                help="Address to serve at; any but this computer's own needs --cert and --key (127.0.0.1).",
            ),
            _noted(
                "--name",
                type=WORD,
                multiple=True,
                help="A name that phones call this computer by; the first goes on labels.",
            ),
            _noted("--cert", type=FILE, help="Certificate to serve https with, a PEM file."),
            _noted("--key", type=FILE, help="Its private key, a PEM file."),
            _noted("--demo", is_flag=True, default=None, help="Load the demo job if it is not there."),
        )
    ):
        view = option(view)
    return view


def settings_of(info: ScriptInfo) -> Settings:
    """The settings that were asked for.  Raises Unusable."""
    given = info.data
    folder = given.get("data") or os.environ.get(DATA_VARIABLE) or ROOT / DATA_FOLDER
    settings = Settings(
        data=_absolute(Path(folder)),
        host=given.get("host", "127.0.0.1"),
        port=given.get("port", DEFAULT_PORT),
        names=tuple(given.get("name", ())),
        cert=given.get("cert"),
        key=given.get("key"),
    )
    for where, name in (("--host", settings.host), *(("--name", name) for name in settings.names)):
        if not is_host(name):
            raise Unusable(
                f'"{name[:60]}" is not the name of a computer',
                where=where,
                do="Write it like shop.local or 192.168.1.20.",
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


def _absolute(folder: Path) -> Path:
    try:
        return folder.expanduser().absolute()
    except RuntimeError as error:  # ~name, and nobody of that name is known here
        raise Unusable("there is no such home folder", where=str(folder), do="Write the folder out.") from error
