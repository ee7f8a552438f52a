"""Where do packs come from?  Built once a revision: drawing 1,500 parts takes seconds, handing them out must not."""

from __future__ import annotations

import json
import logging
import threading
from typing import NamedTuple

from flask import Flask

from shopfloor.store import jobs
from shopfloor.web import pack

log = logging.getLogger("facemark.packs")


class KeptPack(NamedTuple):
    revision: int
    etag: str
    json: bytes


class Packs:
    """The packs of the latest revisions.  Whoever asks first builds; others who ask meanwhile wait for that one."""

    def __init__(self) -> None:
        self._kept: dict[str, KeptPack] = {}
        self._locks: dict[str, threading.Lock] = {}
        self._lock = threading.Lock()

    def warm(self, app: Flask) -> None:
        """Build the packs of all jobs, the one saved last first, without anybody waiting for it."""

        def build() -> None:
            with app.app_context():
                self.all()

        threading.Thread(target=build, name="packs", daemon=True).start()

    def all(self) -> list[tuple[jobs.JobRow, KeptPack]]:
        """Every job that has a pack.  One that cannot be built is told in the log, and keeps no other from phones."""
        found = []
        for job in jobs.all_jobs():
            try:
                found.append((job, self.get(job.key)))
            except Exception:
                log.exception("no pack of job %r", job.key)
        return found

    def get(self, key: str) -> KeptPack:
        """The pack of a job as it was saved last.  Raises NoSuchJob."""
        revision = jobs.latest_number(key)
        kept = self._kept.get(key)
        if kept is not None and kept.revision == revision:
            return kept
        with self._lock:
            own = self._locks.setdefault(key, threading.Lock())
        with own:
            kept = self._kept.get(key)
            if kept is not None and kept.revision == revision:
                return kept
            job, revision = jobs.latest(key)
            built = pack.build(job, revision, jobs.codes(key))
            text = json.dumps(built, ensure_ascii=False, separators=(",", ":"))
            kept = self._kept[key] = KeptPack(revision, built["etag"], text.encode("utf-8", "backslashreplace"))
            return kept
