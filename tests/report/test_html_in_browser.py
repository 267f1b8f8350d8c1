"""The HTML report in a real browser: accessible, self-contained, fit for small screens and print.

Needs a Chromium of the system, see ``tests/browser.py``.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.report.concern_pages import render as render_concerns
from axisproof.report.html import render
from axisproof.report.rendering import RenderOptions

from tests.report.report_samples import FULL

DEMO = Path(__file__).parents[2] / "fixtures" / "demo"


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("html") / "report.html"
    path.write_text(render(FULL, RenderOptions()), "utf-8")
    return path


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("demo") / "report.html"
    needs = {"every_outcome": True, "workings": True, "sketches": True}
    report = api.check([DEMO], api.CheckOptions(**needs))
    path.write_text(render(report, RenderOptions()), "utf-8")
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
        *(
            pytest.param(each, marks=pytest.mark.exhaustive)
            for each in (
                {"color_scheme": "dark"},
                {"color_scheme": "dark", "viewport": {"width": 360, "height": 640}},
                {"forced_colors": "active"},
            )
        ),
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


@pytest.mark.parametrize(
    ("width", "media"), [(360, "screen"), (768, "screen"), (1400, "screen"), (688, "print")]
)
def test_neither_page_nor_overview_nor_picture_scrolls_sideways(
    browser: Any, file: Path, width: int, media: str
) -> None:
    """A4 has 688 px between its margins."""
    page = opened(browser, file, viewport={"width": width, "height": 740})
    page.emulate_media(media=media)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    for part in page.locator(".overview, svg.picture").all():
        box = part.bounding_box()
        assert box is None or box["x"] + box["width"] <= width


@pytest.mark.parametrize("width", [360, 768, 1400])
def test_the_first_screen_tells_what_failed_on_the_worst_axis(
    browser: Any, demo: Path, width: int
) -> None:
    page = opened(browser, demo, viewport={"width": width, "height": 800 if width < 500 else 900})
    first = page.locator(".headlines li").first
    box = first.bounding_box()
    assert box["y"] + box["height"] <= page.viewport_size["height"]
    assert "The turn counter rolls over within a cycle" in first.inner_text()


def test_text_in_a_picture_is_large_enough_to_read(browser: Any, file: Path) -> None:
    for width in (360, 768, 1400):
        page = opened(browser, file, viewport={"width": width, "height": 740})
        heights = page.evaluate(
            """() => [...document.querySelectorAll("svg .label tspan")]
                .map(each => each.getBoundingClientRect().height).filter(height => height > 0)"""
        )
        assert heights
        assert min(heights) >= 12


def test_the_filter_shows_one_level_or_axis_and_says_so(browser: Any, file: Path) -> None:
    page = opened(browser, file)
    told = page.locator(".filtered")
    assert not told.is_visible()
    page.get_by_label("errors", exact=True).check()
    assert told.is_visible()
    assert page.locator(".finding.error").first.is_visible()
    assert not page.locator(".finding.warning").first.is_visible()
    assert not page.locator(".finding.undecided").first.is_visible()
    assert page.locator(".headlines .undecided").first.is_visible()
    page.get_by_label("everything").check()
    page.get_by_role("radio", name="infeed").check()
    assert told.is_visible()
    assert [each.is_visible() for each in page.locator("section.axis").all()] == [
        False,
        False,
        True,
    ]


def test_the_filter_works_with_the_keyboard(browser: Any, file: Path) -> None:
    page = opened(browser, file)
    page.get_by_label("everything").focus()
    page.keyboard.press("ArrowRight")
    assert page.get_by_label("errors", exact=True).is_checked()
    assert page.locator(".filtered").is_visible()


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


def test_print_folds_the_workings_and_says_so(browser: Any, file: Path) -> None:
    page = opened(browser, file)
    workings = page.locator("ol.workings").first
    note = page.locator(".print-only")
    assert not note.is_visible()
    page.emulate_media(media="print")
    assert not workings.is_visible()
    assert note.is_visible()
    assert not page.locator("nav").first.is_visible()
    page.locator("details:has(ol.workings)").first.evaluate("each => each.open = true")
    assert workings.is_visible()
    assert page.pdf(format="A4").startswith(b"%PDF")


def test_pictures_keep_their_proportions_within_the_page(browser: Any, file: Path) -> None:
    page = opened(browser, file, viewport={"width": 1200, "height": 800})
    for picture in page.locator(".wide-picture svg.picture").all():
        box = picture.bounding_box()
        across, tall = map(float, picture.get_attribute("viewBox").split()[2:])
        assert box["x"] + box["width"] <= 1200
        assert box["height"] / box["width"] == pytest.approx(tall / across, rel=0.01)


def test_a_screen_reader_hears_title_and_summary_of_a_picture(browser: Any, file: Path) -> None:
    page = opened(browser, file)
    travel = page.get_by_role("img", name="Travel Hard stops at -10 mm and 110 mm.")
    assert travel.locator("visible=true").count() == 1
    assert page.get_by_role("heading", name="error After 65536 encoder revolutions").count() == 1
