"""Print the scripts that the phone gets, each as it lies there and as it is sent: {address: [source, sent]} in JSON."""

from __future__ import annotations

import json

from shopfloor.settings import ROOT
from shopfloor.web.small import without_comments

if __name__ == "__main__":
    static = ROOT / "static"
    ours = [path for path in sorted(static.rglob("*.js")) if "vendor" not in path.parts]
    told = {
        path.relative_to(static).as_posix(): [
            path.read_text(encoding="utf-8"),
            without_comments(path.read_bytes()).decode("utf-8"),
        ]
        for path in ours
    }
    print(json.dumps(told))
