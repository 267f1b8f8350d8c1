"""Values of expressions by generated code, where a list is too long to trace each of its items."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping
from typing import Any, Final

from .compiler import function_of, load, source_of_definition
from .syntax import Definition, Expr

_NUMBERS: Final = itertools.count()
"""Gives every function a name of its own, under which a machine keeps what its loops found."""


class FastValues:
    """The values of expressions; the function of each is made when it is first asked for."""

    def __init__(
        self, definitions: Mapping[tuple[str, str], Definition], defaults: Mapping[str, Expr]
    ) -> None:
        self.definitions = definitions
        self.defaults = defaults
        self._namespace: dict[str, Any] = {}
        self._loaded: set[tuple[str, str]] = set()
        self._functions: dict[int, tuple[Expr, Callable[[Mapping[str, Any]], Any]]] = {}

    def of(self, expr: Expr) -> Callable[[Mapping[str, Any]], Any]:
        """What gives the value of an expression in the environment of a tracer; None: unknown."""
        found = self._functions.get(id(expr))
        if found is None:  # the node is kept, so that its id stays its own
            found = self._functions[id(expr)] = expr, self._made(expr)
        return found[1]

    def _made(self, expr: Expr) -> Callable[[Mapping[str, Any]], Any]:
        self._load_definitions(expr)
        name = f"fast_{next(_NUMBERS)}"
        source, variables = function_of(expr, name, self.defaults, self.definitions)
        function = load(source, self._namespace)[name]

        def value(env: Mapping[str, Any]) -> Any:
            return function(
                *(env[each].value if each.startswith("let ") else env[each] for each in variables)
            )

        return value

    def _load_definitions(self, expr: Expr) -> None:
        for node in expr.walk():
            if node.op != "derived":
                continue
            _, name, kind = node.data
            if (kind, name) not in self._loaded:
                self._loaded.add((kind, name))
                definition = self.definitions[kind, name]
                self._load_definitions(definition.expr)
                load(
                    source_of_definition(definition, self.defaults, self.definitions),
                    self._namespace,
                )
