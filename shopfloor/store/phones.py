"""Which phones may come in?  A phone joins once, with a code from the office, and is known by its token then.

Neither the codes nor the tokens are kept as they are: what is kept is their SHA-256.
"""

from __future__ import annotations

import hashlib
import secrets
from dataclasses import dataclass

from sqlalchemy import delete, insert, select, update

from shopfloor.errors import ShopError
from shopfloor.store import tables
from shopfloor.store.faults import NoSuchPhone
from shopfloor.store.moment import now_ms
from shopfloor.store.opening import reading, writing

SYMBOLS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""The same 32 symbols as on labels: no I, L, O or U to be taken for something else."""
CODE_LENGTH = 8
CODE_LIVES_MS = 10 * 60 * 1000
QR_PREFIX = "JOIN:"
LONGEST_NAME = 60
UNNAMED = "Phone"
_READ_AS = str.maketrans("OIL", "011", " -\t")


class BadJoinCode(ShopError):
    """The code that a phone came with opens nothing."""

    code = "bad-join-code"


@dataclass(frozen=True)
class JoinCode:
    """A code that lets one phone in, once.  `text` is for typing, `qr` is what its QR code says."""

    text: str
    qr: str
    expires_ms: int


@dataclass(frozen=True)
class Joined:
    """What a phone gets for a good code.  Only the phone will know the token."""

    device: str
    incarnation: str
    token: str


@dataclass(frozen=True)
class Phone:
    """`waiting` is how many entries the phone last said it had still to send, None if it never said."""

    id: str
    name: str
    joined_ms: int
    last_seen_ms: int
    waiting: int | None
    withdrawn_ms: int | None


def new_code(at_ms: int | None = None) -> JoinCode:
    """A fresh one-time code, good for ten minutes.  Codes that have run out are cleared away."""
    moment = now_ms() if at_ms is None else at_ms
    symbols = "".join(secrets.choice(SYMBOLS) for _ in range(CODE_LENGTH))
    expires = moment + CODE_LIVES_MS
    with writing() as connection:
        connection.execute(delete(tables.join_code).where(tables.join_code.c.expires_ms < moment))
        connection.execute(insert(tables.join_code).values(hash=_hash(symbols), expires_ms=expires))
    return JoinCode(f"{symbols[:4]}-{symbols[4:]}", QR_PREFIX + symbols, expires)


def read_code(typed: str) -> str:
    """The eight symbols that someone typed or scanned, in capitals, dashes and spaces dropped, O as 0, I and L as 1."""
    return typed.strip().upper().removeprefix(QR_PREFIX).translate(_READ_AS)


def join(typed: str, name: str, at_ms: int | None = None) -> Joined:
    """Let a phone in.  The code is used up.  Raises BadJoinCode if it is unknown, used or has run out."""
    moment = now_ms() if at_ms is None else at_ms
    joined = Joined(secrets.token_hex(8), secrets.token_hex(8), secrets.token_urlsafe(32))
    code = tables.join_code
    with writing() as connection:
        taken = connection.execute(
            update(code)
            .where(code.c.hash == _hash(read_code(typed)), code.c.expires_ms >= moment, code.c.used_ms.is_(None))
            .values(used_ms=moment)
        )
        if taken.rowcount != 1:
            raise BadJoinCode(
                "this code is unknown, used already, or older than ten minutes",
                do="Ask the office for a new one under Phones.",
            )
        connection.execute(
            insert(tables.phone).values(
                id=joined.device,
                name=" ".join(name.split())[:LONGEST_NAME] or UNNAMED,
                token=_hash(joined.token),
                joined_ms=moment,
                last_seen_ms=moment,
            )
        )
    return joined


def by_token(token: str) -> Phone | None:
    """The phone whose cookie this is; also one that has been withdrawn: look at `withdrawn_ms`."""
    phone = tables.phone
    with reading() as connection:
        row = connection.execute(select(*_COLUMNS).where(phone.c.token == _hash(token))).first()
    return None if row is None else Phone(*row)


def all() -> list[Phone]:
    """Every phone that ever joined, the one that joined last first."""
    phone = tables.phone
    with reading() as connection:
        rows = connection.execute(select(*_COLUMNS).order_by(phone.c.joined_ms.desc(), phone.c.id)).all()
    return [Phone(*row) for row in rows]


def seen(phone_id: str, waiting: int | None = None, at_ms: int | None = None) -> None:
    """Note that a phone has called, and how much it had still to send, if it said so."""
    moment = now_ms() if at_ms is None else at_ms
    values = {"last_seen_ms": moment} | ({} if waiting is None else {"waiting": waiting})
    with writing() as connection:
        connection.execute(update(tables.phone).where(tables.phone.c.id == phone_id).values(**values))


def withdraw(phone_id: str, at_ms: int | None = None) -> None:
    """From now on this phone is answered with 401.  What it has handed over stays.  Raises NoSuchPhone."""
    moment = now_ms() if at_ms is None else at_ms
    phone = tables.phone
    with writing() as connection:
        done = connection.execute(
            update(phone).where(phone.c.id == phone_id, phone.c.withdrawn_ms.is_(None)).values(withdrawn_ms=moment)
        )
        if done.rowcount != 1 and connection.scalar(select(phone.c.id).where(phone.c.id == phone_id)) is None:
            raise NoSuchPhone(f"there is no phone {phone_id!r}", do="Look at the list of phones.")


_COLUMNS = tuple(
    tables.phone.c[name] for name in ("id", "name", "joined_ms", "last_seen_ms", "waiting", "withdrawn_ms")
)


def _hash(secret: str) -> bytes:
    return hashlib.sha256(secret.encode("utf-8", "surrogatepass")).digest()
