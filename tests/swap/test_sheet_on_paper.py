"""The plan as a sheet, printed by a real browser: pages, size of text, steps and blanks."""

from __future__ import annotations

import datetime
import io
import unicodedata
from dataclasses import replace
from pathlib import Path
from typing import Any, Final

import pytest
from axisproof.findings.site_file_use import SiteFileUse
from axisproof.report import sheet
from axisproof.report.rendering import RenderOptions
from axisproof.report.sheet import css_string
from axisproof.swap.api import spare
from axisproof.swap.result import SpareReport
from pypdf import PdfReader

FIXTURES = Path(__file__).parents[2] / "fixtures"
DAY = datetime.date(2026, 3, 1)
A4 = (595, 842)
"""Width and height in points (ISO 216)."""


USUAL: Final = ("motor_like_fitted", "motor_fewer_turns", "motor_finer_encoder")
"""Usual motor swaps on an axis with a battery-backed encoder: one without, two with settings."""


FIRST, *OTHERS = USUAL

WITH_WARNINGS: Final = (
    "motor_weaker_but_enough",
    pytest.param("motor_light_rotor", marks=pytest.mark.exhaustive),
)
"""Motor swaps on the same axis that fit once their warnings are settled: one step more."""


def judged(name: str) -> SpareReport:
    hall, motor = FIXTURES / "sound" / "hall.yaml", FIXTURES / "spares" / f"{name}.yaml"
    report = spare(hall, "infeed_pusher", "motor", motor, on=DAY, plan=True)
    assert report.verdict.startswith("fits")
    # A file is named as somebody types it, in the folder of the project.
    return replace(report, spare=f"fixtures/spares/{name}.yaml")


@pytest.fixture(
    scope="module",
    params=[FIRST, *(pytest.param(each, marks=pytest.mark.exhaustive) for each in OTHERS)],
)
def report(request: pytest.FixtureRequest) -> SpareReport:
    return judged(request.param)


def opened(browser: Any, report: SpareReport, folder: Path) -> Any:
    file = folder / "sheet.html"
    file.write_text(sheet.render(report, RenderOptions()), "utf-8")
    page = browser.new_context().new_page()
    page.goto(file.as_uri())
    page.emulate_media(media="print")
    return page


@pytest.fixture(scope="module")
def page(browser: Any, report: SpareReport, tmp_path_factory: pytest.TempPathFactory) -> Any:
    return opened(browser, report, tmp_path_factory.mktemp("sheet"))


def on_paper(page: Any) -> PdfReader:
    return PdfReader(io.BytesIO(page.pdf(prefer_css_page_size=True)))


@pytest.fixture(scope="module")
def printed(page: Any) -> PdfReader:
    return on_paper(page)


def squeezed(text: str) -> str:
    """Text without spaces and ligatures, which a PDF places as it likes."""
    return "".join(unicodedata.normalize("NFKC", text).split())


def test_a_usual_motor_swap_prints_on_two_pages_of_a4(printed: PdfReader) -> None:
    assert len(printed.pages) == 2
    for each in printed.pages:
        assert (round(each.mediabox.width), round(each.mediabox.height)) == A4


@pytest.mark.parametrize("name", WITH_WARNINGS)
def test_a_motor_swap_with_warnings_prints_on_two_pages(
    browser: Any, tmp_path: Path, name: str
) -> None:
    report = judged(name)
    printed = on_paper(opened(browser, report, tmp_path))
    text = squeezed("".join(each.extract_text() for each in printed.pages))
    assert len(printed.pages) == 2
    assert squeezed("Step 2 names what to settle.") in text
    for finding in report.warnings:
        assert text.count(squeezed(finding.headline)[:40]) == 1


def test_every_page_has_the_title_and_its_number(printed: PdfReader, report: SpareReport) -> None:
    for number, each in enumerate(printed.pages, 1):
        text = squeezed(each.extract_text())
        assert squeezed(f"{report.machine} · {report.axis}: spare motor") in text
        assert squeezed(f"Page {number} of 2") in text


def test_every_step_is_printed_with_what_to_expect(printed: PdfReader, report: SpareReport) -> None:
    text = squeezed("".join(each.extract_text() for each in printed.pages))
    assert report.plan is not None
    assert len(report.plan.steps) > 30
    for step in report.plan.steps:
        for words in (step.caution, step.do, step.expect):
            # A step may break over two columns, and the title of the next page stands between.
            half = len(squeezed(words)) // 2
            first, second = squeezed(words)[:half], squeezed(words)[half:]
            assert first.replace("`", "")[:30] in text, step.name
            assert second.replace("`", "")[-30:] in text, step.name
    assert "Date" in text


def test_text_is_printed_at_ten_points_or_more(printed: PdfReader, page: Any) -> None:
    sizes = page.evaluate(
        """() => [...document.querySelectorAll("body, body *")]
            .filter(each => each.offsetParent !== null)
            .map(each => parseFloat(getComputedStyle(each).fontSize) * 72 / 96)"""
    )
    assert len(sizes) > 100
    assert min(sizes) >= 9.999


def test_each_reading_has_a_blank_with_a_label_and_a_unit(page: Any, report: SpareReport) -> None:
    assert report.plan is not None
    readings = [reading for step in report.plan.steps for reading in step.readings]
    assert len(readings) > 20
    drawn = page.locator(".reading").all()
    assert [" ".join(each.inner_text().split()) for each in drawn] == [
        f"{reading.label} {reading.unit}" for reading in readings
    ]
    for each in drawn:
        blank = each.locator(".blank")
        assert blank.bounding_box()["width"] >= 50
        assert blank.evaluate("each => getComputedStyle(each).borderBottomStyle") == "solid"


def test_a_position_is_written_down_in_the_unit_of_the_axis(report: SpareReport) -> None:
    assert report.plan is not None
    steps = {step.name: step for step in report.plan.steps}
    assert [(each.label, each.unit) for each in steps["record-position"].readings] == [
        ("true position", "mm"),
        ("indicated", "mm"),
        ("raw reading", "counts"),
    ]


def test_a_screen_shows_the_reasons_that_paper_leaves_out(page: Any) -> None:
    why = page.locator(".why").first
    assert not why.is_visible()
    page.emulate_media(media="screen")
    assert why.is_visible()
    page.emulate_media(media="print")


@pytest.mark.parametrize("width", [360, 768, 1400])
def test_the_sheet_does_not_scroll_sideways(browser: Any, page: Any, width: int) -> None:
    screen = browser.new_context(viewport={"width": width, "height": 740}).new_page()
    screen.goto(page.url)
    assert screen.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("scheme", ["light", pytest.param("dark", marks=pytest.mark.exhaustive)])
def test_the_sheet_breaks_no_rule_of_accessibility(browser: Any, page: Any, scheme: str) -> None:
    from axe_playwright_python.sync_playwright import Axe

    screen = browser.new_context(color_scheme=scheme).new_page()
    screen.goto(page.url)
    results = Axe().run(screen)
    assert results.violations_count == 0, results.generate_report()


@pytest.mark.parametrize(
    "text",
    ['"; } body { display: none } @page { x: "', "</style><script>", "a\\", "\n\u202e", "ä · ✗"],
)
def test_no_name_leaves_the_string_of_the_running_title(text: str) -> None:
    written = css_string(text)
    assert written[0] == written[-1] == '"'
    assert not set(written[1:-1]) & set('"<>;{}\n')


def test_the_title_of_a_sheet_says_what_a_site_file_loosens(report: SpareReport) -> None:
    use = SiteFileUse("axisproof.yaml", switched_off=("a-rule", "another-rule"))
    page = sheet.render(replace(report, site_file=use), RenderOptions())
    assert "2 rules switched off (site file)</h1>" in page
    assert "2 rules switched off (site file)</title>" in page
    assert "site file" not in sheet.render(report, RenderOptions())
