"""How is the shop served?  A threaded server that a phone walking out of the Wi-Fi cannot bring to a halt.

Source of the numbers: our own measurements with silent and half-silent connections; tests/test_server.py holds them.
The usual TLS adapter shakes hands in the thread that accepts connections, so that one silent client stops everybody;
here each connection shakes hands in its own worker, within the time-out.
"""

from __future__ import annotations

import logging
import os
import signal
import socket
import ssl
import threading
from collections.abc import Callable
from pathlib import Path
from types import FrameType
from typing import Any

from cheroot import wsgi
from cheroot.errors import FatalSSLAlert
from cheroot.ssl.builtin import BuiltinSSLAdapter

from shopfloor.errors import ShopError

log = logging.getLogger("facemark.server")

THREADS = 64
TIMEOUT = 10
"""Seconds without a byte after which a connection is let go."""
MOST_BODY = 256 * 1024 * 1024
"""What is larger is cut off without a word from us.  The app refuses far earlier, with a sentence and its own page."""
PATIENCE = 5
"""Seconds that a request under way may still take after Ctrl-C.  What is committed is on the disk already."""
KEPT_ALIVE = 200


class PortTaken(ShopError):
    """Something else listens there."""

    code = "port-taken"


class BadCertificate(ShopError):
    """The certificate or its key cannot be used."""

    code = "bad-certificate"


class LazyTls(BuiltinSSLAdapter):
    """Shakes hands when the first byte is wanted, in the worker that wants it."""

    def wrap(self, sock: socket.socket) -> tuple[ssl.SSLSocket, dict[str, str]]:
        try:
            sock.getpeername()
            wrapped = self.context.wrap_socket(sock, do_handshake_on_connect=False, server_side=True)
        except OSError as error:  # gone before we looked
            sock.close()
            raise FatalSSLAlert(*error.args) from error
        return wrapped, {"wsgi.url_scheme": "https", "HTTPS": "on"}


class Server(wsgi.Server):
    """The shop's server; `port` is the real one after `prepare`."""

    max_request_body_size = MOST_BODY
    max_request_header_size = 32 * 1024
    keep_alive_conn_limit = KEPT_ALIVE

    def __init__(self, app: Any, host: str, port: int, cert: Path | None = None, key: Path | None = None) -> None:
        super().__init__(
            (host, port),
            app,
            numthreads=THREADS,
            request_queue_size=256,
            timeout=TIMEOUT,
            shutdown_timeout=2,
            server_name="facemark",
        )
        if cert is not None:
            self.ssl_adapter = _tls(cert, key)

    @property
    def port(self) -> int:
        return int(self.bind_addr[1])

    def open(self) -> None:
        """Listen; connections are answered once `serve` runs.  Raises PortTaken."""
        host, port = self.bind_addr
        try:
            self.prepare()
        except OSError as error:
            raise PortTaken(
                f"cannot listen at {host}, port {port}: it is taken, or not ours",
                do="Give another one with --port, or --port 0 for any free one.",
            ) from error

    def error_log(self, msg: str = "", level: int = 20, traceback: bool = False) -> None:
        # Every phone that walks away in mid-word is an error to the library.  It belongs in the log, in one line.
        log.log(min(level, logging.INFO) if not traceback else logging.DEBUG, "%s", msg, exc_info=traceback)


def serve(
    app: Any,
    host: str,
    port: int,
    cert: Path | None = None,
    key: Path | None = None,
    ready: Callable[[Server], None] = lambda server: None,
) -> None:
    """Serve until Ctrl-C or SIGTERM, then stop cleanly.  `ready` is called once, when connections are welcome."""
    server = Server(app, host, port, cert, key)
    server.open()
    _stop_when_told()
    try:
        ready(server)
        server.serve()
    except KeyboardInterrupt:
        log.info("stopping")
        # A worker in a long print run would hold the program for as long as that takes.
        hurry = threading.Timer(PATIENCE, os._exit, [0])
        hurry.daemon = True
        hurry.start()
    finally:
        server.stop()


def _stop_when_told() -> None:
    """Let the other ways of asking a program to stop do what Ctrl-C does.  Signals go to the main thread only."""
    if threading.current_thread() is not threading.main_thread():
        return

    def stop(_number: int, _frame: FrameType | None) -> None:
        raise KeyboardInterrupt

    for name in ("SIGTERM", "SIGBREAK"):  # the first is not sent on Windows, the second exists only there
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), stop)


def _tls(cert: Path, key: Path | None) -> LazyTls:
    try:
        adapter = LazyTls(str(cert), str(key or cert))
    except (OSError, ssl.SSLError) as error:
        why = error.strerror or str(error)
        raise BadCertificate(
            f"the certificate cannot be used: {why}", where=str(cert), do="Give two PEM files with --cert and --key."
        ) from error
    adapter.context.minimum_version = ssl.TLSVersion.TLSv1_2
    return adapter
