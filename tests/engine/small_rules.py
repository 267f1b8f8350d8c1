"""One rule, a machine in plain values, and its check."""

from __future__ import annotations

from typing import Any

from axisproof.catalogue.catalogue import Catalogue, from_texts
from axisproof.engine.engine import Options, Results, check_machine
from axisproof.machine.machine import Machine
from axisproof.machine.reader import read_plain

RULE = """
rule {name}
  level error
  title "t"
  each {each}
  {when}
  {lets}
  require {require}
  say "{say}"
  why "w"
  remedy "r"
  {extra}
  basis "b"
  passes "p"
  fails "f"
"""


def rule(name: str, require: str, **parts: str) -> str:
    fields = {"each": "axis", "when": "", "lets": "", "say": "s", "extra": ""} | parts
    return RULE.format(name=name, require=require, **fields)


def catalogue_of(*rules: str) -> Catalogue:
    return from_texts({"a.rules": "language 2\n" + "".join(rules)})


def checked(found: Catalogue, machine: Machine, **options: bool) -> Results:
    machine.facts.setdefault("check_date", 0)
    return check_machine(machine, "hall", found, Options(**options))


def plain(**axes: dict[str, Any]) -> Machine:
    return read_plain({"axes": {name: {"motion": "linear"} | axis for name, axis in axes.items()}})


def node(number: int | None) -> dict[str, Any]:
    return {"drive": {"node": number}} if number else {}
