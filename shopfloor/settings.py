"""Configuration: what can be set from outside, and what it is when nobody sets it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

DEFAULT_PORT = 8000
DATA_FOLDER = "facemark-data"
DATABASE_FILE = "facemark.sqlite"


@dataclass(frozen=True)
class Settings:
    """Where the shop's data lies and where it is served."""

    data: Path
    host: str = "127.0.0.1"
    port: int = DEFAULT_PORT

    @property
    def database(self) -> Path:
        return self.data / DATABASE_FILE
