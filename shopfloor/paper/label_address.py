"""What may stand before /p/ in the QR codes of labels?  A host that phones can open, short enough for the symbol."""

from __future__ import annotations

import re
from ipaddress import ip_address

from ..errors import ShopError
from .qr import LONGEST_HOST, is_loopback

_NAME = re.compile(r"(?!-)[a-z0-9-]{1,63}(?<!-)(?:\.(?!-)[a-z0-9-]{1,63}(?<!-))*", re.IGNORECASE)
_ADDRESS = re.compile(r"(?:https?://)?([^:/]*)(?::([0-9]{1,5}))?/?", re.IGNORECASE)

WANTED = "Write it like https://shop.local or shop.local:8443."


class BadAddress(ShopError):
    """What was given is not the address of a shop that a phone can open."""

    code = "bad-address"


def is_host(name: str) -> bool:
    """Whether this can be what a computer is called: a name of letters, digits, dashes and dots, or an IP address.

    >>> [is_host(text) for text in ("shop.local", "192.168.1.20", "fe80::1", "shop local", "-", "a..b", "300.1.2.3")]
    [True, True, True, False, False, False, False]
    """
    try:
        ip_address(name)
    except ValueError:
        return len(name) < 254 and bool(_NAME.fullmatch(name)) and not re.fullmatch(r"[0-9.]+", name)
    return True


def label_host(address: str, where: str) -> str:
    """The host of an address, with its port if that is not the usual one; "" for "".  Raises BadAddress.

    >>> label_host("https://Shop.local/", "--address"), label_host("shop.local:8443", "--address")
    ('Shop.local', 'shop.local:8443')
    """
    if not address:
        return ""
    found = _ADDRESS.fullmatch(address)
    if not found or not is_host(found[1]) or not 0 < int(found[2] or 443) < 65_536:
        raise BadAddress(f'"{address[:60]}" is not the address of a shop', where=where, do=WANTED)
    host = found[1] if int(found[2] or 443) == 443 else f"{found[1]}:{int(found[2])}"
    if is_loopback(host):
        raise BadAddress(f"{host[:60]} is this computer only, no phone can open it there", where=where, do=WANTED)
    if len(host) > LONGEST_HOST:
        raise BadAddress(
            f"{host[:60]} has {len(host)} letters, a QR code that is read well takes {LONGEST_HOST}",
            where=where,
            do="Give a shorter name or the IP address, or leave it out: the bare code is printed then.",
        )
    return host
