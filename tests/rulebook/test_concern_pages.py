"""Pages about the rules: every rule on one, true to the rule, and readable by everyone."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from html import escape
from pathlib import Path

from axisproof import api
from axisproof.authoring.guide import guide_pages
from axisproof.cli import main as cli
from axisproof.findings.rule_info import Concern
from axisproof.report.concern_pages import INDEX, render
from axisproof.rulebook.concerns import head_comment

from tests.captured import Captured
from tests.report.html_pages import Page

GUIDE = {page.name: (page.title, page.text) for page in guide_pages()}

SITE_RULE = """# Ours: <b>belts</b> only.
#
# Second paragraph.
language 2

rule belt-is-short
  level   note
  title   "a belt is no longer than <script>ours</script>"
  each    axis
  require axis.mechanics.final.teeth < 90
  say     "{axis.mechanics.final.teeth} teeth, node {axis.drive.node}"
  why     "Long belts stretch."
  remedy  "Take a shorter one."
  basis   "common practice, no source"
  given
    axis.mechanics.final = {kind: belt, teeth: 100, pitch: "5 mm"}
  passes "89 are less than 90"
    axis.mechanics.final = {kind: belt, teeth: 89, pitch: "5 mm"}
  fails "and the node is not known"
  fails "90 are not less than 90"
    axis.mechanics.final = {kind: belt, teeth: 90, pitch: "5 mm"}
    axis.drive.node = 7
"""


@cache
def concerns() -> tuple[Concern, ...]:
    return api.concerns()


@cache
def pages() -> dict[str, str]:
    return render(concerns(), GUIDE)


def test_every_rule_stands_on_the_page_of_its_file() -> None:
    by_concern = {concern.name: concern for concern in concerns()}
    rules = api.list_rules()
    assert sum(len(concern.rules) for concern in concerns()) == len(rules) > 170
    for rule in rules:
        name = Path(rule.file).stem.replace("_", " ") if rule.line else "statements"
        assert rule.name in [each.info.name for each in by_concern[name].rules]


def test_every_rule_with_text_shows_what_it_finds_in_one_of_its_own_examples() -> None:
    for concern in concerns():
        for rule in concern.rules:
            if not rule.info.line:
                continue
            assert rule.example is not None
            assert rule.finding is not None, rule.info.name
            assert rule.example.kind == "fails"
            assert rule.example in rule.info.examples
            assert rule.finding.rule == rule.info.name
            assert rule.finding.message


def test_a_page_says_meaning_formula_basis_settings_and_an_example() -> None:
    page = Page(pages()["turn-counter.html"])
    for words in (
        "turn-range-covers-travel",
        "What the turn counter of a multi-turn encoder must satisfy",
        "absolute_turns × units_per_encoder_rev",
        "CiA 402 feed constant (0x6092)",
        "turn_range_margin",
        "how much longer the absolute range of a turn counter must be than the travel",
        "Example finding: ",
    ):
        assert words in page.text, words
    rules = next(each for each in concerns() if each.name == "turn counter").rules
    for rule in rules:
        assert rule.finding is not None
        assert re.sub(r"\s+", " ", rule.finding.message) in page.text
        assert rule.info.basis in page.text


def test_every_link_leads_to_a_page_and_a_place_on_it() -> None:
    ids = {name: Page(text).ids for name, text in pages().items()}
    assert all(len(found) == len(set(found)) for found in ids.values())
    followed = 0
    for name, text in pages().items():
        for _, attribute, value in Page(text).attributes:
            if attribute == "href" and not value.startswith("data:"):
                file, _, fragment = value.partition("#")
                assert not fragment or fragment in ids[file or name], value
                assert (file or name) in pages()
                followed += 1
    assert followed > 2 * len(api.list_rules())


def test_pages_load_nothing_and_run_nothing() -> None:
    for text in pages().values():
        page = Page(text)
        assert page.tags["script"] == page.tags["img"] == page.tags["iframe"] == 0
        assert "default-src 'none'" in text
        assert "http://" not in text.replace("http-equiv", "")


def test_site_rules_have_a_page_whose_text_is_no_markup(tmp_path: Path, capsys: Captured) -> None:
    (tmp_path / "own.rules").write_text(SITE_RULE)
    out = tmp_path / "new" / "pages"
    assert cli.run(["rules", "pages", str(out), "--rules", str(tmp_path / "own.rules")]) == 0
    written = {path.name: path.read_text("utf-8") for path in out.iterdir()}
    assert f"Written: {len(written)} pages" in capsys.readouterr().out
    assert set(written) == {*pages(), "own.html"}
    page = Page(written["own.html"])
    assert page.tags["script"] == 0
    assert "Ours: <b>belts</b> only. Second paragraph." in page.text
    assert "no longer than <script>ours</script>" in page.text
    assert "90 teeth, node 7" in page.text  # the example that knows all values, not the first
    assert 'fails "90 are not less than 90" axis.mechanics.final = {kind: belt' in page.text


def test_pages_that_are_there_are_not_replaced_unasked(tmp_path: Path, capsys: Captured) -> None:
    (tmp_path / "limits.html").write_text("mine")
    assert cli.run(["rules", "pages", str(tmp_path)]) == 2
    told = " ".join(capsys.readouterr().err.split())
    assert "limits.html exists and would be overwritten" in told
    assert [path.name for path in tmp_path.iterdir()] == ["limits.html"]
    assert cli.run(["rules", "pages", str(tmp_path), "--force"]) == 0
    assert (tmp_path / "limits.html").read_text("utf-8") == pages()["limits.html"]


def test_a_file_in_place_of_the_folder_is_refused(tmp_path: Path, capsys: Captured) -> None:
    (tmp_path / "pages").write_text("mine")
    assert cli.run(["rules", "pages", str(tmp_path / "pages")]) == 2
    assert "is a file" in " ".join(capsys.readouterr().err.split())


def test_two_concerns_of_one_name_get_two_pages() -> None:
    limits = next(each for each in concerns() if each.name == "limits")
    twice = render([limits, replace(limits, name="Limits"), Concern("index", (), ())])
    assert list(twice) == [INDEX, "limits.html", "limits-2.html", "index-2.html"]


def test_the_comment_at_the_head_ends_where_the_rules_begin() -> None:
    assert head_comment("# One\n# two.\n#\n# Three.\n\n# Not this.\n") == ("One two.", "Three.")
    assert head_comment("language 2\n# Not this.\n") == ()


def test_the_guide_stands_beside_the_rules_with_its_drawings_and_links() -> None:
    for topic, (title, text) in GUIDE.items():
        page = pages()[f"guide-{topic}.html"]
        assert f'href="guide-{topic}.html">{escape(title, quote=False)}</a>' in pages()[INDEX]
        assert page.count("<h1>") == 1
        drawn = re.findall(r"(?ms)^```text\n(.*?)^```", text)
        assert all(escape(each) in page for each in drawn)
    assert '<a href="guide-facts.html"><code>facts</code></a>' in pages()["guide-where.html"]


def test_markup_in_the_guide_is_text() -> None:
    page = render([], {"odd": ("Odd <b>", "# Odd\n\n<script>x</script> `<i>`\n")})["guide-odd.html"]
    assert "<script>" not in page
    assert "<title>Odd &lt;b&gt;" in page
    assert "<code>&lt;i&gt;</code>" in page
