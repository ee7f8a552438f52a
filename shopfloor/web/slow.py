"""How often may someone be wrong?  Counts wrong tries in a sliding window, for one address and for all together."""

from __future__ import annotations

import threading
from collections import deque


class Slow:
    """At most `each` wrong tries of one address, and `together` of all, within `per_ms` milliseconds."""

    def __init__(self, each: int, together: int, per_ms: int) -> None:
        self.each, self.together, self.per_ms = each, together, per_ms
        self._tries: deque[tuple[int, str]] = deque()
        self._lock = threading.Lock()

    def may(self, who: str, now: int) -> bool:
        with self._lock:
            while self._tries and self._tries[0][0] <= now - self.per_ms:
                self._tries.popleft()
            own = sum(1 for _, one in self._tries if one == who)
            return own < self.each and len(self._tries) < self.together

    def count(self, who: str, now: int) -> None:
        with self._lock:
            self._tries.append((now, who))
