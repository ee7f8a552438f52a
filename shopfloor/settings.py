"""Configuration: what can be set from outside, and what it is when nobody sets it."""

from __future__ import annotations

import ipaddress
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
"""The folder that app.py lies in."""

DEFAULT_PORT = 8000
DATA_FOLDER = "facemark-data"
DATA_VARIABLE = "FACEMARK_DATA"
DATABASE_FILE = "facemark.sqlite"


def is_loopback(host: str) -> bool:
    """True for an address or a name that only this computer can reach."""
    if host == "localhost":
        return True
    try:
        address = ipaddress.ip_address(host.strip("[]").partition("%")[0])
    except ValueError:
        return False
    mapped = getattr(address, "ipv4_mapped", None)
    return bool((mapped or address).is_loopback)


@dataclass(frozen=True)
class Settings:
    """Where the shop's data lies and where it is served.

    `names` are the names that phones may call this computer by; the first is the one that goes on labels.  `cert` and
    `key` are PEM files; with them the shop is served over https.  `first_serial` is where the codes of a new shop
    begin; anywhere, if it is not given.
    """

    data: Path = ROOT / DATA_FOLDER
    host: str = "127.0.0.1"
    port: int = DEFAULT_PORT
    names: tuple[str, ...] = ()
    cert: Path | None = None
    key: Path | None = None
    first_serial: int | None = None

    @property
    def database(self) -> Path:
        return self.data / DATABASE_FILE

    @property
    def secure(self) -> bool:
        """True if the shop is served over https."""
        return self.cert is not None

    @property
    def called(self) -> str:
        """The name or address that people type: the first of the names given, or what is listened at."""
        return self.names[0] if self.names else self.host

    @property
    def address(self) -> str:
        """Where the shop is served, as a browser wants it: "http://127.0.0.1:8000"."""
        scheme, usual = ("https", 443) if self.secure else ("http", 80)
        host = f"[{self.called}]" if ":" in self.called else self.called
        return f"{scheme}://{host}" + ("" if self.port == usual else f":{self.port}")

    @property
    def label_host(self) -> str:
        """What a label's address begins with; empty, for the bare code, if only this computer could open it."""
        if not self.secure or is_loopback(self.called):
            return ""
        return self.address.partition("://")[2]
