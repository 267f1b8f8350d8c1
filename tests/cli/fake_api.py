"""What stands in for the API where a test is about the command line."""

from __future__ import annotations

from dataclasses import asdict, replace
from types import ModuleType
from typing import Any

from axisproof.api import CheckOptions
from axisproof.base.errors import UsageError
from axisproof.checking.fixing import Repair
from axisproof.findings.finding import Finding, Narrowed, Report, Tally
from axisproof.findings.rule_info import (
    Concern,
    ConcernRule,
    FactInfo,
    NameInfo,
    RuleInfo,
    RuleTestReport,
    SettingInfo,
)

CLEAN = Report(("hall.yaml",), ("hall",), 1, 15, tallies=(Tally("hall", "infeed", 12, 0, 0, 3),))
WARNING = Finding("a-rule", "warning", "hall", "infeed", "t", "message", "why", "remedy", "basis")


RULE = RuleInfo(
    "a-rule", "A title", "note", "axis", "computed", "rule a-rule", "why", "remedy", "", "x is 1",
    (), (), "a.rules", 1, (), "a concern",
)  # fmt: skip


class FakeApi(ModuleType):
    """Stands in for axisproof.api: returns ``report`` or raises ``failure``, keeps the calls."""

    def __init__(self) -> None:
        super().__init__("axisproof.api")
        self.report: Report = CLEAN
        self.rule = RULE
        self.tested = RuleTestReport(1, 2, 3, 3)
        self.failure: BaseException | None = None
        self.calls: list[tuple[Any, dict[str, Any]]] = []
        self.narrowings: list[Any] = []

    CheckOptions = staticmethod(CheckOptions)

    def check(self, paths: Any, options: CheckOptions, **told: Any) -> Report:
        self.calls.append((paths, asdict(options) | told))
        if self.failure:
            raise self.failure
        if told.get("recorded"):
            told["recorded"]("{}")
        return self.report

    def narrowed(self, report: Report, *given: Any, **named: Any) -> Report:
        self.narrowings.append((given, named))
        return replace(report, narrowed=Narrowed(*given[:2], {}))

    def list_rules(self, rules: Any = ()) -> tuple[RuleInfo, ...]:
        self.calls.append((rules, {}))
        return (self.rule,)

    def fixes(self, paths: Any, options: CheckOptions) -> Repair:
        return Repair((), (), self.check(paths, options))

    def concerns(self, rules: Any = ()) -> tuple[Concern, ...]:
        return (Concern("a concern", ("About it.",), (ConcernRule(self.rule),)),)

    def list_settings(self, rules: Any = ()) -> tuple[SettingInfo, ...]:
        return (SettingInfo("range_margin", "10 %", "spare range", "common practice, no source"),)

    def explain(self, name: str, rules: Any = ()) -> RuleInfo | tuple[FactInfo, ...]:
        if name in ("wraps retained", "controller.unfolding"):
            return (FactInfo("controller.wraps_retained", "true or false", "It counts.", ()),)
        if name != self.rule.name:
            raise UsageError(f"there is no rule {name}", expected="perhaps a-rule")
        return self.rule

    def list_names(self, words: Any = (), rules: Any = ()) -> tuple[NameInfo, ...]:
        self.calls.append((words, {"rules": rules}))
        return (NameInfo("axis.hangs", "definition", "true or false", "gravity moves it"),)

    def test_rules(self, paths: Any) -> RuleTestReport:
        self.calls.append((paths, {}))
        return self.tested
