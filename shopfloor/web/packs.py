"""Where do packs come from?  Built once a revision: drawing 1,500 parts takes seconds, and no phone shall wait for it.

What a pack holds follows from the revision and from this program, so its etag is known before it is built, and the
list of packs is answered at once.  A pack is built when its job is saved, at the start, or when it is asked for.
"""

from __future__ import annotations

import functools
import hashlib
import json
import logging
import threading
from typing import NamedTuple

from flask import Flask, current_app

from shopfloor.settings import ROOT
from shopfloor.store import jobs, shop
from shopfloor.store.faults import CannotJustNow
from shopfloor.trade.part import Job
from shopfloor.web import pack

log = logging.getLogger("facemark.packs")

PACKS = "facemark_packs"


class KeptPack(NamedTuple):
    etag: str
    json: bytes


def save(job: Job, note: str = "") -> int:
    """Keep a job as its next revision, as `jobs.save` does, and have its pack built meanwhile."""
    number = jobs.save(job, note)
    keeper: Packs = current_app.extensions[PACKS]
    keeper.warm(current_app._get_current_object(), job.key)  # type: ignore[attr-defined]
    return number


class Packs:
    """The packs of the latest revisions.  Whoever asks first builds; others who ask meanwhile wait for that one."""

    def __init__(self) -> None:
        self._kept: dict[str, KeptPack] = {}
        self._broken: dict[str, str] = {}
        self._locks: dict[str, threading.Lock] = {}
        self._lock = threading.Lock()
        self._warming: list[threading.Thread] = []

    def warm(self, app: Flask, *keys: str) -> None:
        """Build the packs of these jobs, or of all, the one saved last first, without anybody waiting for it."""

        def build() -> None:
            with app.app_context():
                for key in keys or [job.key for job in jobs.all_jobs()]:
                    try:
                        self.get(key)
                    except Exception:
                        log.exception("no pack of job %r", key)

        thread = threading.Thread(target=build, name="packs", daemon=True)
        with self._lock:
            self._warming = [one for one in self._warming if one.is_alive()] + [thread]
        thread.start()

    def settle(self) -> None:
        """Wait until nothing is being warmed."""
        for thread in list(self._warming):
            thread.join()

    def listed(self) -> list[tuple[jobs.JobRow, str]]:
        """Every job with the etag of its pack; none is built for it.

        One that was found impossible to build is left out, so that no phone asks for it again and again: what is
        wrong with it stands in the log.
        """
        ours = shop.read().id
        tagged = [(job, _etag(job, ours)) for job in jobs.all_jobs()]
        return [(job, etag) for job, etag in tagged if self._broken.get(job.key) != etag]

    def get(self, key: str) -> KeptPack:
        """The pack of a job as it was saved last.  Raises NoSuchJob."""
        job = jobs.row(key)
        etag = _etag(job, shop.read().id)
        kept = self._kept.get(key)
        if kept is not None and kept.etag == etag:
            return kept
        with self._lock:
            own = self._locks.setdefault(key, threading.Lock())
        with own:
            kept = self._kept.get(key)
            if kept is not None and kept.etag == etag:
                return kept
            try:
                kept = self._kept[key] = _build(job, etag)
            except CannotJustNow:
                raise
            except Exception:
                self._broken[key] = etag
                raise
            return kept


def _build(job: jobs.JobRow, etag: str) -> KeptPack:
    given = jobs.at_revision(job.key, job.revision)
    gone = jobs.gone(job.key, job.revision)
    text = json.dumps(
        pack.build(given, job.revision, jobs.codes(job.key), gone, etag), ensure_ascii=False, separators=(",", ":")
    )
    return KeptPack(etag, text.encode("utf-8", "backslashreplace"))


def _etag(job: jobs.JobRow, ours: str) -> str:
    """Another one for another shop, revision, or program.  The time is there for a revision that was lost in a restore,
    and whose number was given again."""
    said = f"{_program()} {ours} {job.revision} {job.saved_ms} {job.key}"
    return hashlib.sha256(said.encode("utf-8", "backslashreplace")).hexdigest()[:32]


@functools.cache
def _program() -> str:
    """What stands for this program: when it draws or words things in another way, phones fetch their packs again."""
    digest = hashlib.sha256()
    for path in sorted((ROOT / "shopfloor").rglob("*.py")):
        digest.update(path.read_bytes())
    return digest.hexdigest()
