"""Where do packs come from?  Built once a revision: drawing 1,500 parts takes seconds, handing them out must not."""

from __future__ import annotations

import json
import threading
from typing import NamedTuple

from shopfloor.store import jobs


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
            from shopfloor.web import pack

            job, revision = jobs.latest(key)
            built = pack.build(job, revision, jobs.codes(key))
            text = json.dumps(built, ensure_ascii=False, separators=(",", ":"))
            kept = self._kept[key] = KeptPack(revision, built["etag"], text.encode("utf-8", "backslashreplace"))
            return kept
