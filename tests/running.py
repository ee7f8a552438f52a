"""The shop served by a process of its own, for tests and benches that need the real thing."""

from __future__ import annotations

import http.client
import json
import os
import queue
import re
import subprocess
import sys
import threading
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Any

from shopfloor.settings import ROOT, Settings
from shopfloor.store import phones
from shopfloor.store.tables import db
from shopfloor.web import create_app


@dataclass
class JoinedPhone:
    """A phone that has joined, as far as a test needs one."""

    port: int
    cookie: str
    answer: dict[str, Any]

    def connect(self) -> http.client.HTTPConnection:
        return http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)

    def ask(self, method: str, path: str, body: object = None) -> tuple[int, Any]:
        """Status and JSON of one request, on a connection of its own."""
        return ask(self.port, method, path, body, {"Cookie": self.cookie})


class Running:
    """`with Running(folder) as running:` -- app.py serves `folder` at any free port until the block ends.

    `program` may be another script that serves in the same way.
    """

    def __init__(self, data: Path, *more: str, program: Path | None = None) -> None:
        self.data, self.more, self.program = data, more, program or ROOT / "app.py"
        self.port = 0
        self.said: list[str] = []

    def __enter__(self) -> Running:
        self.process = subprocess.Popen(
            [sys.executable, str(self.program), "--data", str(self.data), "--port", "0", *self.more],
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            cwd=ROOT,
            env=os.environ | {"PYTHONUNBUFFERED": "1", "PYTHONPATH": str(ROOT)},
        )
        lines: queue.Queue[str | None] = queue.Queue()
        threading.Thread(target=self._read, args=(lines,), daemon=True).start()
        while True:
            line = lines.get(timeout=60)
            if line is None:
                raise AssertionError("the server did not start:\n" + "".join(self.said))
            found = re.search(r"Open this: +\w+://[^/]*:(\d+)/", line)
            if found:
                self.port = int(found[1])
            if line.startswith("Ctrl-C"):
                return self

    def _read(self, lines: queue.Queue[str | None]) -> None:
        assert self.process.stdout
        for line in self.process.stdout:
            self.said.append(line)
            lines.put(line)
        lines.put(None)

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        if self.process.poll() is None:
            self.process.terminate()
        self.process.wait(timeout=30)
        if self.process.stdout:
            self.process.stdout.close()

    def join(self, name: str = "Bench phone") -> JoinedPhone:
        """Let a phone in, with a code made behind the server's back."""
        with create_app(Settings(data=self.data)).app_context():
            code = phones.new_code().text
            db.engine.dispose()
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
        body = json.dumps({"code": code, "name": name})
        connection.request("POST", "/join", body, {"Content-Type": "application/json"})
        response = connection.getresponse()
        answer = json.loads(response.read())
        assert response.status == 200, answer
        cookie = (response.getheader("Set-Cookie") or "").partition(";")[0]
        connection.close()
        return JoinedPhone(self.port, cookie, answer)


def ask(
    port: int, method: str, path: str, body: object = None, headers: dict[str, str] | None = None
) -> tuple[int, Any]:
    """Status and body (JSON read) of one request on a connection of its own."""
    sent = body if isinstance(body, bytes) or body is None else json.dumps(body).encode()
    with closing(http.client.HTTPConnection("127.0.0.1", port, timeout=30)) as connection:
        connection.request(method, path, sent, {"Content-Type": "application/json"} | (headers or {}))
        response = connection.getresponse()
        content = response.read()
    return response.status, json.loads(content) if response.getheader("Content-Type") == "application/json" else content
