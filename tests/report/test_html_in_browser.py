"""The HTML report in a real browser: accessible, self-contained, fit for small screens and print.

Needs a Chromium of the system (``apt-get install chromium``); skipped where there is none, except
in CI, where a missing browser is a failure.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.report.concern_pages import render as render_concerns
from axisproof.report.html import render
from axisproof.report.rendering import RenderOptions

from tests.report.report_samples import FULL


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    from playwright.sync_api import sync_playwright

    found = next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)
    if found is None:
        if os.environ.get("CI"):
            pytest.fail("CI has no chromium, so the HTML report cannot be opened")
        pytest.skip("no chromium on this machine, so the HTML report cannot be opened")
    with sync_playwright() as playwright:
        # Containers have no user namespaces for the sandbox; the page is our own.
        browser = playwright.chromium.launch(executable_path=found, args=["--no-sandbox"])
        yield browser
        browser.close()


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("html") / "report.html"
    path.write_text(render(FULL, RenderOptions()), "utf-8")
    return path


@pytest.fixture(scope="module")
def catalogue_pages(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("pages")
    for name, text in render_concerns(api.concerns()).items():
        (folder / name).write_text(text, "utf-8")
    return folder


def opened(browser: Any, file: Path, **options: Any) -> Any:
    page = browser.new_context(**options).new_page()
    page.goto(file.as_uri())
    return page


@pytest.mark.parametrize(
    "options",
    [
        {"color_scheme": "light"},
        {"color_scheme": "dark"},
        {"color_scheme": "dark", "viewport": {"width": 360, "height": 640}},
        {"forced_colors": "active"},
    ],
    ids=["light", "dark", "small", "forced colours"],
)
def test_the_page_breaks_no_rule_of_accessibility(
    browser: Any, file: Path, options: dict[str, Any]
) -> None:
    from axe_playwright_python.sync_playwright import Axe

    results = Axe().run(opened(browser, file, **options))
    assert results.violations_count == 0, results.generate_report()
    assert len(results.response["passes"]) > 20


@pytest.mark.exhaustive
@pytest.mark.parametrize("name", ["index.html", "turn-counter.html", "statements.html"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_pages_about_rules_break_no_rule_of_accessibility(
    browser: Any, catalogue_pages: Path, name: str, scheme: str
) -> None:
    from axe_playwright_python.sync_playwright import Axe

    small = {"color_scheme": scheme, "viewport": {"width": 360, "height": 640}}
    page = opened(browser, catalogue_pages / name, **small)
    results = Axe().run(page)
    assert results.violations_count == 0, results.generate_report()
    assert page.evaluate("document.documentElement.scrollWidth") <= 360


def test_the_page_asks_for_nothing_and_complains_of_nothing(browser: Any, file: Path) -> None:
    page = browser.new_context().new_page()
    requests: list[str] = []
    messages: list[str] = []
    page.on("request", lambda request: requests.append(request.url))
    page.on("console", lambda message: messages.append(message.text))
    page.goto(file.as_uri())
    assert [url for url in requests if not url.startswith("data:")] == [file.as_uri()]
    assert messages == []


def test_a_small_screen_scrolls_tables_and_pictures_but_not_the_page(
    browser: Any, file: Path
) -> None:
    page = opened(browser, file, viewport={"width": 360, "height": 640})
    assert page.evaluate("document.documentElement.scrollWidth") <= 360


def test_dark_and_light_have_unlike_grounds_and_print_is_black_on_white(
    browser: Any, file: Path
) -> None:
    def ground(page: Any) -> str:
        return str(page.evaluate("getComputedStyle(document.documentElement).backgroundColor"))

    page = opened(browser, file, color_scheme="dark")
    dark = ground(page)
    page.emulate_media(color_scheme="light")
    assert ground(page) != dark
    page.emulate_media(color_scheme="dark", media="print")
    assert ground(page) == "rgb(255, 255, 255)"
    assert page.evaluate("getComputedStyle(document.body).color") == "rgb(0, 0, 0)"


def test_the_lines_of_a_picture_stand_out_from_a_ground_that_the_reader_forces(
    browser: Any, file: Path
) -> None:
    page = opened(browser, file, forced_colors="active", color_scheme="dark")
    stroke, ground = page.evaluate(
        """() => {
            const style = getComputedStyle(document.querySelector("svg .hard-stop line"));
            return [style.stroke, getComputedStyle(document.body).backgroundColor];
        }"""
    )
    text = page.evaluate("getComputedStyle(document.body).color")
    assert stroke == text != ground


def test_print_shows_the_workings_and_no_navigation(browser: Any, file: Path) -> None:
    page = opened(browser, file)
    workings = page.locator("ol.workings").first
    assert not workings.is_visible()
    page.emulate_media(media="print")
    assert workings.is_visible()
    assert not page.locator("nav").is_visible()
    assert page.pdf(format="A4").startswith(b"%PDF")


def test_pictures_keep_their_proportions_within_the_page(browser: Any, file: Path) -> None:
    page = opened(browser, file, viewport={"width": 1200, "height": 800})
    strip, dial = (box.bounding_box() for box in page.locator("svg.picture").all())
    assert round(strip["width"]) == 960
    assert strip["x"] + strip["width"] <= 1200
    assert round(dial["width"]) == round(dial["height"])


def test_a_screen_reader_hears_title_and_summary_of_a_picture(browser: Any, file: Path) -> None:
    page = opened(browser, file)
    travel = page.get_by_role("img", name="Travel Hard stops at -10 mm and 110 mm.")
    assert travel.count() == 1
    assert page.get_by_role("heading", name="error rollover-divides-cycle").count() == 1
