"""Dataclasses and patterns that cost next to nothing to define, for modules every run imports.

``dataclasses`` imports ``inspect`` and compiles methods for each class, which was a third of the
start of a small check. What is here means the same (a test compares the two) and is the same to
a type checker; ``dataclasses.replace``, ``fields`` and ``asdict`` work on it. Making an object
takes a microsecond longer; a class that is made in great numbers writes its own ``__init__``.
A ``pattern`` is a regular expression that is compiled when it is first used. Modules that every run
imports name what they take from ``typing`` only for the type checker, since that module takes
longer to import than a file takes to check.
"""

from __future__ import annotations

from collections import namedtuple
from collections.abc import Callable
from operator import attrgetter, ge, gt, le, lt

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
    from typing import NamedTuple as NamedTuple
else:

    class _NamedTupleType(type):
        """Makes a named tuple of the fields that a class annotates."""

        def __new__(cls, name: str, bases: tuple[type, ...], space: dict[str, Any]) -> type:
            if not bases:
                return super().__new__(cls, name, bases, space)
            made = namedtuple(name, space["__annotations__"], module=space["__module__"])
            made.__doc__, made.__annotations__ = space["__doc__"], space["__annotations__"]
            return made

    class NamedTuple(metaclass=_NamedTupleType):
        """Base of a class that only names and annotates fields, as typing's one of that name."""


class _Field:
    """A default that is made anew for each object, or a field that ``repr`` passes over."""

    def __init__(
        self, *, default_factory: Callable[[], Any] | None = None, repr: bool = True
    ) -> None:
        self.make = default_factory
        self.repr = repr


class _Real:
    """An attribute of the real dataclass with the same fields, made when it is first asked for."""

    def __init__(self, name: str) -> None:
        self.name = name

    def __get__(self, instance: object, owner: type) -> Any:
        from dataclasses import field, make_dataclass

        fields: list[Any] = []
        for name in owner.__match_args__:  # type: ignore[attr-defined]
            if name not in owner._defaults:  # type: ignore[attr-defined]
                fields.append((name, object))
                continue
            default = owner._defaults[name]  # type: ignore[attr-defined]
            made = default.make if isinstance(default, _Field) else None
            given = field(default_factory=made) if made else field(default=default)
            fields.append((name, object, given))
        real = make_dataclass(owner.__name__, fields, frozen=True)
        for name in ("__dataclass_fields__", "__dataclass_params__"):
            setattr(owner, name, getattr(real, name))
        return getattr(real, self.name)


def _frozen(
    *, frozen: bool, slots: bool = False, eq: bool = True, order: bool = False
) -> Callable[[type], type]:
    assert frozen

    def decorate(cls: type) -> type:
        return _made(cls, slots, eq, order)

    return decorate


def _made(cls: type, slots: bool, eq: bool, order: bool) -> type:
    names = tuple(n for n, kind in cls.__annotations__.items() if not kind.startswith("ClassVar"))
    stated = {name: cls.__dict__[name] for name in names if name in cls.__dict__}
    left_out = {"__dict__", "__weakref__", *stated}
    space = {key: value for key, value in cls.__dict__.items() if key not in left_out}
    hidden = {n for n, each in stated.items() if isinstance(each, _Field) and not each.repr}
    space["_defaults"] = {
        name: each
        for name, each in stated.items()
        if not isinstance(each, _Field) or each.make is not None
    }
    space["__qualname__"] = cls.__qualname__
    space["__match_args__"] = names
    space["__dataclass_fields__"] = _Real("__dataclass_fields__")
    space["__dataclass_params__"] = _Real("__dataclass_params__")
    space["__replace__"] = _replace  # what copy.replace asks for, from Python 3.13 on
    space["__setattr__"] = _refuse_to_set
    space["__delattr__"] = _refuse_to_delete
    space.setdefault("__repr__", _repr(tuple(name for name in names if name not in hidden)))
    values = _values(names)
    if slots:
        space["__slots__"] = names
        space["__reduce__"] = lambda self: (self.__class__, values(self))
    if eq:
        space.setdefault("__eq__", _eq(values))
        space.setdefault("__hash__", lambda self: hash(values(self)))
    if order:
        space |= _ordering(values)
    own = "__init__" in space
    made = type(cls.__name__, cls.__bases__, space)
    if not own:
        made.__init__ = _init(made, names, slots)  # type: ignore[misc]
    return made


def _values(names: tuple[str, ...]) -> Callable[[Any], tuple[Any, ...]]:
    if len(names) > 1:
        return attrgetter(*names)
    return lambda self: tuple(getattr(self, name) for name in names)


def _init(cls: type, names: tuple[str, ...], slots: bool) -> Callable[..., None]:
    count = len(names)
    puts = tuple(cls.__dict__[name].__set__ for name in names) if slots else ()

    def __init__(self: Any, *given: Any, **named: Any) -> None:
        if named or len(given) != count:
            given = tuple(_completed(cls, given, named))
        if slots:
            for put, value in zip(puts, given):  # noqa: B905 - as many, and hot
                put(self, value)
        else:
            self.__dict__.update(zip(names, given))  # noqa: B905

    return __init__


def _completed(cls: Any, given: tuple[Any, ...], named: dict[str, Any]) -> list[Any]:
    """All values in the order of the fields. Raises TypeError for too many and for missing ones."""
    names: tuple[str, ...] = cls.__match_args__
    if len(given) > len(names):
        raise TypeError(f"{cls.__name__}() takes {len(names)} values, {len(given)} were given")
    values = list(given)
    used = 0
    for name in names[len(given) :]:
        if name in named:
            values.append(named[name])
            used += 1
        elif name in cls._defaults:
            default = cls._defaults[name]
            made = default.make if isinstance(default, _Field) else None
            values.append(made() if made else default)
        else:
            raise TypeError(f"{cls.__name__}() lacks the value of {name!r}")
    if used != len(named):
        taken = names[len(given) :]
        wrong = next(name for name in named if name not in taken)
        raise TypeError(f"{cls.__name__}() has no place for {wrong!r}, or has it twice")
    return values


def _repr(names: tuple[str, ...]) -> Callable[[Any], str]:
    def __repr__(self: Any) -> str:
        shown = ", ".join(f"{name}={getattr(self, name)!r}" for name in names)
        return f"{self.__class__.__qualname__}({shown})"

    return __repr__


def _eq(values: Callable[[Any], tuple[Any, ...]]) -> Callable[[Any, object], bool]:
    def __eq__(self: Any, other: object) -> bool:
        if other.__class__ is not self.__class__:
            return NotImplemented
        return bool(values(self) == values(other))

    return __eq__


def _ordering(values: Callable[[Any], tuple[Any, ...]]) -> dict[str, Any]:
    def compare(question: Callable[[Any, Any], bool]) -> Callable[[Any, object], Any]:
        def answer(self: Any, other: object) -> Any:
            if other.__class__ is not self.__class__:
                return NotImplemented
            return question(values(self), values(other))

        return answer

    return {
        "__lt__": compare(lt),
        "__le__": compare(le),
        "__gt__": compare(gt),
        "__ge__": compare(ge),
    }


def _refuse_to_set(self: object, name: str, value: object) -> None:
    from dataclasses import FrozenInstanceError

    raise FrozenInstanceError(f"cannot assign to field {name!r}")


def _refuse_to_delete(self: object, name: str) -> None:
    from dataclasses import FrozenInstanceError

    raise FrozenInstanceError(f"cannot delete field {name!r}")


def _replace(one: Any, **changes: Any) -> Any:
    """A copy with some values changed."""
    cls = one.__class__
    return cls(**{name: getattr(one, name) for name in cls.__match_args__} | changes)


class _Pattern:
    """A regular expression that is compiled when it is first used."""

    def __init__(self, *given: Any) -> None:
        self._given = given

    def __getattr__(self, name: str) -> Any:
        import re

        if name.startswith("__"):
            raise AttributeError(name)
        found = getattr(re.compile(*self._given), name)
        setattr(self, name, found)  # next time it is at hand
        return found


if TYPE_CHECKING:
    import re
    from dataclasses import dataclass as dataclass
    from dataclasses import field as field
    from dataclasses import replace as replace

    pattern = re.compile
else:
    dataclass, field, replace, pattern = _frozen, _Field, _replace, _Pattern
