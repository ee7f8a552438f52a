"""What time is it?  Whole milliseconds since 1970."""

from __future__ import annotations

import time


def now_ms() -> int:
    return time.time_ns() // 1_000_000
