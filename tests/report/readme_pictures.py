"""The text screen and the picture of the page that README.md shows, both made by a command.

``python -m tests.report.screens`` writes them anew. The picture is held current by what it was made
from: the part of the page that it shows, whose seal stands beside it.
"""

from __future__ import annotations

import hashlib
import re
import shutil
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).parents[2]
README: Final = ROOT / "README.md"
PICTURE: Final = ROOT / "fixtures" / "screens" / "page_demo.png"
SEAL: Final = PICTURE.with_suffix(".sha256")
LINES: Final = 33
"""Lines of the screen in the README: the table, and the first finding."""

WIDTH, HEIGHT = 1200, 860
_BLOCK: Final = re.compile(r"(<!-- screen: [^\n]* -->\n```text\n).*?(```)", re.DOTALL)


def first_screen(report: str) -> str:
    """The first lines of a report, up to the end of a finding."""
    lines = report.splitlines()[:LINES]
    while lines and lines[-1]:
        del lines[-1]
    return "\n".join(lines).rstrip() + "\n…\n"


def with_screen(readme: str, report: str) -> str:
    """The README with the first lines of a report in its place."""
    return _BLOCK.sub(lambda found: found[1] + first_screen(report) + found[2], readme)


def shown_part(page: str) -> str:
    """What a reader sees of a page without scrolling: its style, and all before the first axis."""
    style = page[page.index("<style") : page.index("</style>")]
    main = page[page.index("<body") :]
    end = main.find("<section", main.index("</table>"))
    return style + main[:end]


def seal_of(page: str) -> str:
    """What stands beside a picture that was made of a page."""
    return hashlib.sha256(shown_part(page).encode()).hexdigest() + "\n"


def take_picture(page: str) -> bool:
    """Write the picture of a page and its seal; False where there is no Chromium."""
    browser_path = shutil.which("chromium") or shutil.which("chromium-browser")
    if browser_path is None:
        return False
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=browser_path, args=["--no-sandbox"])
        tab = browser.new_page(viewport={"width": WIDTH, "height": HEIGHT})
        tab.set_content(page)
        tab.screenshot(path=PICTURE)
        browser.close()
    SEAL.write_text(seal_of(page), "utf-8")
    return True
