"""A shop that is served for real, and phones that are real browser windows."""

from __future__ import annotations

import os
import socket
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from flask import Flask
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from shopfloor.intake.demo import demo_job
from shopfloor.server import Server
from shopfloor.settings import Settings
from shopfloor.store import jobs, journal, phones
from shopfloor.web import create_app

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
JOB = "choir-cabinet"
SIZE = {"width": 360, "height": 740}


class Shop:
    """The demo job, served at a free port of this computer.  `down` and `up` pull the plug and put it back."""

    def __init__(self, data: Path, port: int = 0) -> None:
        self.app: Flask = create_app(Settings(data=data, first_serial=0))
        with self.app.app_context():
            jobs.save(demo_job())
            self.codes = jobs.codes(JOB)
        self.port = port or free_port()
        self.up()

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def up(self) -> None:
        self._server = Server(self.app, "127.0.0.1", self.port)
        self._server.open()
        self._thread = threading.Thread(target=self._server.serve, daemon=True)
        self._thread.start()

    def down(self) -> None:
        self._server.stop()
        self._thread.join(10)

    def join_code(self) -> phones.JoinCode:
        with self.app.app_context():
            return phones.new_code()

    def rows(self) -> list[dict[str, object]]:
        """What the office knows, in the order of its journal."""
        with self.app.app_context():
            return journal.rows_of_job(JOB)

    def done(self, part: str) -> set[str]:
        """The steps that the office knows to be done on the part with this key."""
        from shopfloor.journal.fold import fold

        code = self.codes[part]
        own = fold(row for row in self.rows() if row["entry"]["part"] == code)  # type: ignore[index]
        return {step for step, state in own.steps.items() if state.done}

    def withdraw_all(self) -> None:
        with self.app.app_context():
            for phone in phones.all():
                phones.withdraw(phone.id)


def free_port() -> int:
    """A port that was free just now.  One that the system chooses on listening could not be taken twice in a row."""
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return int(asked.getsockname()[1])


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """One shop for the tests of a module; each test uses parts of its own."""
    made = Shop(tmp_path_factory.mktemp("shop"))
    yield made
    made.down()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(
            executable_path=os.environ.get("CHROMIUM", "/usr/bin/chromium"), args=FLAGS, headless=True
        )
        yield chromium
        chromium.close()


@pytest.fixture
def window(browser: Browser) -> Iterator[Callable[..., BrowserContext]]:
    """Make a window like that of a phone: 360 x 740, touched, its storage its own."""
    made: list[BrowserContext] = []

    def make(**more: object) -> BrowserContext:
        options = {"viewport": SIZE, "has_touch": True, "is_mobile": True, "device_scale_factor": 2} | more
        made.append(browser.new_context(**options))  # type: ignore[arg-type]
        return made[-1]

    yield make
    for context in made:
        context.close()


@pytest.fixture
def phone(shop: Shop, window: Callable[..., BrowserContext]) -> Callable[..., Page]:
    """Make a phone that has joined the shop, has its packs, and shows Scan."""

    def make(name: str = "Bench phone", **more: object) -> Page:
        page = window(**more).new_page()
        join(page, shop, name)
        page.wait_for_function("() => navigator.serviceWorker.controller !== null")
        return page

    return make


def join(page: Page, shop: Shop, name: str) -> None:
    page.goto(f"{shop.url}/phone/")
    enter_join_code(page, shop.join_code().text, name)
    page.locator(".scan").wait_for()
    packs_there(page)


def enter_join_code(page: Page, code: str, name: str) -> None:
    page.get_by_role("button", name="Type the code").click()
    page.get_by_label("The office's code").fill(code)
    page.get_by_label("What people will read").fill(name)
    page.get_by_role("button", name="Join").click()


def packs_there(page: Page) -> None:
    """Wait until the phone has a job."""
    page.goto(page.url.split("/phone")[0] + "/phone/#stacks")
    page.locator(".stacks li").first.wait_for()
    page.get_by_role("link", name="Scan").click()


def type_code(page: Page, code: str) -> None:
    """From Scan, by the keys' own field, as somebody with clean hands does."""
    page.get_by_role("link", name="Type the code").click()
    page.get_by_label("Code", exact=True).fill(code)


def open_part(page: Page, shop: Shop, part: str) -> None:
    if not page.locator(".scan").is_visible():
        page.get_by_role("link", name="Scan").click()
    type_code(page, shop.codes[part])
    page.locator(".picture svg").wait_for()


def press_next(page: Page) -> str:
    """Press the one thing to do next, and wait until it is on the disk.  Gives what it said."""
    button = page.locator("button.deed")
    says = button.locator("b").inner_text()
    button.click()
    page.get_by_role("button", name="Undo").wait_for()
    return says


def a_moment(page: Page) -> None:
    """Wait until a press at the same place is meant: sooner, it is the second half of a double one."""
    page.wait_for_timeout(700)


def all_sent(page: Page) -> None:
    page.get_by_role("link", name="all sent").wait_for(timeout=20_000)
