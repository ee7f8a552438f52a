"""What can go wrong with what is kept, as a person reads it."""

from __future__ import annotations

from sqlalchemy.exc import OperationalError

from shopfloor.errors import ShopError

CannotJustNow = OperationalError
"""What is raised, as a mistake of nobody's, when the database is locked for too long or its disk is full."""


class StoreFault(ShopError):
    """The data folder or the database in it cannot be used as it is."""

    code = "store-fault"


class NewerDatabase(StoreFault):
    """The database was written by a later version of the program."""

    code = "newer-database"


class NoSuchJob(ShopError):
    """There is no job of that key."""

    code = "no-such-job"


class NoSuchPhone(ShopError):
    """There is no phone of that id."""

    code = "no-such-phone"
