"""What has the shop said about itself?  One JSON value a name; what is not there stands as the program has it."""

from __future__ import annotations

import json
from typing import Any

from sqlalchemy import delete, insert, select

from shopfloor.store.opening import reading, writing
from shopfloor.store.tables import setting


def read(name: str) -> Any:
    """What was said under that name, or None."""
    with reading() as connection:
        value = connection.scalar(select(setting.c.value).where(setting.c.name == name))
    return None if value is None else json.loads(value)


def keep(name: str, value: Any) -> None:
    """Say something under that name; None takes it back."""
    with writing() as connection:
        connection.execute(delete(setting).where(setting.c.name == name))
        if value is not None:
            connection.execute(insert(setting).values(name=name, value=json.dumps(value)))
