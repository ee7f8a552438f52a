"""Phones walk out of the Wi-Fi in mid-word.  Nobody else may notice.

Each of these once brought a server to a halt: silence after connecting, silence inside a request, silence instead of
a TLS handshake, and a crowd that talks nonsense.
"""

from __future__ import annotations

import http.client
import random
import shutil
import socket
import ssl
import struct
import subprocess
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from typing import Any

import pytest

from shopfloor.server import THREADS, TIMEOUT, BadCertificate, Server

SHORT = 4
"""Time-out of the server under test, seconds; the shop's own is longer, and nobody has to wait for it here."""

PATIENCE = 2.0
"""Seconds that somebody at the bench waits for an answer before walking off."""


def answers(environ: dict[str, Any], start: Callable[..., Any]) -> list[bytes]:
    """The smallest shop: takes what is sent, and says how much that was."""
    length = len(environ["wsgi.input"].read())
    body = f"{environ['wsgi.url_scheme']} {length}".encode()
    start("200 OK", [("Content-Type", "text/plain"), ("Content-Length", str(len(body)))])
    return [body]


@contextmanager
def serving(cert: Path | None = None, key: Path | None = None) -> Iterator[Server]:
    server = Server(answers, "127.0.0.1", 0, cert, key)
    server.timeout = SHORT
    server.open()
    thread = threading.Thread(target=server.serve)
    thread.start()
    try:
        yield server
    finally:
        server.stop()
        thread.join(20)
        assert not thread.is_alive()


@pytest.fixture(scope="module")
def certificate(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """A throw-away certificate for 127.0.0.1 and its key."""
    folder = tmp_path_factory.mktemp("certificate")
    openssl = shutil.which("openssl")
    assert openssl, "openssl makes the certificate for this test"
    subprocess.run(
        [
            *(openssl, "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes", "-days", "2"),
            *("-subj", "/CN=shop", "-addext", "subjectAltName=IP:127.0.0.1"),
            *("-keyout", str(folder / "key.pem"), "-out", str(folder / "cert.pem")),
        ],
        check=True,
        capture_output=True,
    )
    return folder / "cert.pem", folder / "key.pem"


@pytest.fixture(scope="module", params=["http", "https"])
def door(request: pytest.FixtureRequest, certificate: tuple[Path, Path]) -> Iterator[Door]:
    secure = request.param == "https"
    with serving(*(certificate if secure else ())) as server:
        yield Door(server.port, certificate[0] if secure else None)


class Door:
    """How to reach the server under test."""

    def __init__(self, port: int, cert: Path | None) -> None:
        self.port, self.scheme = port, "https" if cert else "http"
        self.tls = ssl.create_default_context(cafile=str(cert)) if cert else None

    def get(self, patience: float = PATIENCE, body: bytes | None = None) -> tuple[float, bytes]:
        """Seconds until the answer, and the answer."""
        start = time.perf_counter()
        connection: http.client.HTTPConnection
        if self.tls:
            connection = http.client.HTTPSConnection("127.0.0.1", self.port, timeout=patience, context=self.tls)
        else:
            connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=patience)
        connection.request("POST" if body is not None else "GET", "/", body)
        answer = connection.getresponse().read()
        connection.close()
        return time.perf_counter() - start, answer

    def reach(self, crowd: ExitStack) -> socket.socket:
        """A bare connection, shaken hands with if need be, closed with the crowd."""
        made = crowd.enter_context(socket.create_connection(("127.0.0.1", self.port), timeout=PATIENCE))
        return crowd.enter_context(self.tls.wrap_socket(made, server_hostname="127.0.0.1")) if self.tls else made


def test_an_answer_comes_back(door: Door) -> None:
    assert door.get(body=b"twelve bytes")[1] == f"{door.scheme} 12".encode()


@pytest.mark.parametrize("silent", [1, THREADS - 1])
def test_silent_connections_hold_nobody_up(door: Door, silent: int) -> None:
    with ExitStack() as crowd:
        for _ in range(silent):
            # Connected, and not a byte: under TLS the handshake itself never comes.
            crowd.enter_context(socket.create_connection(("127.0.0.1", door.port)))
        time.sleep(0.3)

        took, _ = door.get()

    assert took < PATIENCE


def test_posts_that_stop_half_way_hold_nobody_up(door: Door) -> None:
    with ExitStack() as crowd:
        for _ in range(THREADS - 8):
            door.reach(crowd).sendall(b"POST / HTTP/1.1\r\nHost: shop\r\nContent-Length: 5000\r\n\r\nhalf")
        time.sleep(0.3)

        took, _ = door.get()

    assert took < PATIENCE


def test_more_stalled_posts_than_workers_delay_others_by_one_time_out_at_most(door: Door) -> None:
    with ExitStack() as crowd:
        start = time.perf_counter()
        stalled = [door.reach(crowd) for _ in range(THREADS)]
        for one in stalled:
            one.sendall(b"POST / HTTP/1.1\r\nHost: shop\r\nContent-Length: 5000\r\n\r\nhalf")
        for _ in range(32):
            crowd.enter_context(socket.create_connection(("127.0.0.1", door.port)))

        took, _ = door.get(patience=SHORT + 5)

        assert took < SHORT + 3
        # And those that stopped are let go, so that their workers serve again.
        stalled[0].settimeout(max(1.0, SHORT + 5 - (time.perf_counter() - start)))
        assert b"408" in stalled[0].recv(100)
    assert door.get()[0] < PATIENCE


def _hostile(port: int, dice: random.Random) -> None:
    with socket.create_connection(("127.0.0.1", port), timeout=PATIENCE) as made:
        what = dice.randrange(5)
        if what == 0:
            made.sendall(b"GET / HTTP/1.1\r\nHost: shop\r\n\r\n")
        elif what == 1:
            made.sendall(dice.randbytes(dice.randrange(1, 400)))
        elif what == 2:
            made.sendall(b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03" + dice.randbytes(32))
        elif what == 3:
            made.sendall(b"POST / HTTP/1.1\r\nContent-Length: 99999999999\r\n\r\n")
        made.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))  # closing resets


# When a connection is reset between our look at it and ssl's, ssl drops its half-made socket without closing it: Python
# closes it at once, and says so.
@pytest.mark.filterwarnings("ignore:Exception ignored in. <ssl.SSLSocket:pytest.PytestUnraisableExceptionWarning")
def test_after_a_crowd_that_talks_nonsense_everybody_is_answered(door: Door, capfd: pytest.CaptureFixture[str]) -> None:
    dice = random.Random(4)
    for _ in range(400):
        with suppress(ConnectionError, TimeoutError):  # being rude has its price
            _hostile(door.port, dice)
    results: list[bytes] = []
    crowd = [threading.Thread(target=lambda: results.append(door.get(patience=12)[1])) for _ in range(80)]

    for thread in crowd:
        thread.start()
    for thread in crowd:
        thread.join()

    assert results == [f"{door.scheme} 0".encode()] * 80
    assert "Traceback" not in "".join(capfd.readouterr())


def test_the_shop_itself_lets_go_after_ten_seconds() -> None:
    assert Server(answers, "127.0.0.1", 0).timeout == TIMEOUT == 10


def test_old_tls_is_refused(certificate: tuple[Path, Path]) -> None:
    with serving(*certificate) as server:
        assert server.ssl_adapter.context.minimum_version == ssl.TLSVersion.TLSv1_2


def test_a_body_beyond_all_measure_is_refused_before_it_is_read(door: Door) -> None:
    with ExitStack() as crowd:
        made = door.reach(crowd)
        made.sendall(b"POST / HTTP/1.1\r\nHost: shop\r\nContent-Length: 99999999999\r\n\r\n")

        assert made.recv(100).startswith(b"HTTP/1.1 413")


@pytest.mark.parametrize("spoiled", ["missing", "no certificate", "the key of another"])
def test_a_certificate_that_will_not_do_is_told_in_one_sentence(
    tmp_path: Path, certificate: tuple[Path, Path], spoiled: str
) -> None:
    cert, key = certificate
    if spoiled == "missing":
        cert = tmp_path / "no-such.pem"
    elif spoiled == "no certificate":
        cert = tmp_path / "cert.pem"
        cert.write_text("This is a shopping list.")
    else:
        key = tmp_path / "key.pem"
        made = subprocess.run(
            ["openssl", "genpkey", "-algorithm", "EC", "-pkeyopt", "ec_paramgen_curve:P-256"],
            check=True,
            capture_output=True,
        )
        key.write_bytes(made.stdout)

    with pytest.raises(BadCertificate) as told:
        Server(answers, "127.0.0.1", 0, cert, key)

    assert str(cert) in str(told.value) and "\n" not in str(told.value)
