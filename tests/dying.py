"""A shop that dies when it is told to: after the commit, before the answer.  Served as app.py is, for tests only.

The power goes off in the middle of a request whose path ends in "?die": everything was done but the answer.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from typing import Any

import shopfloor.cli as cli
import shopfloor.web as web

create_app = web.create_app


def dying(settings: Any = None) -> Any:
    app = create_app(settings)
    inner = app.wsgi_app

    def outer(environ: dict[str, Any], start: Callable[..., Any]) -> Iterable[bytes]:
        answer = inner(environ, start)
        if environ.get("QUERY_STRING") == "die":
            os._exit(137)
        return answer

    app.wsgi_app = outer  # type: ignore[method-assign]
    return app


if __name__ == "__main__":
    web.create_app = dying
    cli.main()
