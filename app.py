"""Start here: `python app.py` serves the shop, `python app.py --help` tells the rest."""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - an older Python should say so, and not fail at some word
    sys.exit("Facemark needs Python 3.11 or newer; this is Python " + sys.version.split()[0] + ".")

from shopfloor.cli import main
from shopfloor.web import create_app

__all__ = ["create_app", "main"]

if __name__ == "__main__":
    main()
