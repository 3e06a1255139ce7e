"""Every regular expression of the package, found in its source.

In: nothing. Out: `Made` patterns, each with its places; places where a pattern is made in a way that cannot be seen.
Compiled ones are caught as modules are imported and functions run by replacing nothing: the source says where each is
made, and the values of its module fill in what it is made of.
"""

from __future__ import annotations

import ast
import importlib
import pkgutil
import re
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import sitegen

__all__ = ["every_pattern", "unseen"]

ROOT = Path(sitegen.__file__).parent
_ONE_TRY = {"match", "fullmatch"}
_MAKES = {"compile", "match", "fullmatch", "search", "sub", "subn", "split", "findall", "finditer"}


def modules() -> Iterator[ModuleType]:
    """All modules of the package."""
    for found in pkgutil.walk_packages([str(ROOT)], "sitegen."):
        if not found.name.endswith("__main__"):
            yield importlib.import_module(found.name)


def methods_of() -> dict[re.Pattern[str], frozenset[str]]:
    """What each named pattern is used for: `fullmatch` alone, or what looks through a whole text too."""
    used: dict[Any, set[str]] = {}
    for module in modules():
        for each in ast.walk(ast.parse(Path(module.__file__ or "").read_text("utf-8"))):
            if isinstance(each, ast.Attribute) and each.attr in _MAKES and isinstance(each.value, ast.Name):
                made = vars(module).get(each.value.id)
                if isinstance(made, re.Pattern):
                    used.setdefault(made, set()).add(each.attr if each.attr in _ONE_TRY else "search")
    return {made: frozenset(names) for made, names in used.items()}


def every_pattern() -> dict[re.Pattern[str], list[str]]:
    """All patterns, each with the places that it stands at."""
    patterns: dict[re.Pattern[str], list[str]] = {}
    for place, made in _all_made():
        if isinstance(made, re.Pattern) and isinstance(made.pattern, str):
            patterns.setdefault(made, []).append(place)
    return patterns


def unseen() -> list[str]:
    """The places where a pattern is made of what only a running function knows."""
    return [place for place, made in _all_made() if made is None]


def _all_made() -> Iterator[tuple[str, re.Pattern[Any] | None]]:
    for module in modules():
        path = Path(module.__file__ or "")
        name = path.relative_to(ROOT).as_posix()
        for pattern in _held(vars(module), set()):
            yield name, pattern
        for call in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(call, ast.Call) and _makes_pattern(call):
                yield f"{name}:{call.lineno}", _value(call, module)


def _makes_pattern(call: ast.Call) -> bool:
    made = call.func
    return (
        isinstance(made, ast.Attribute)
        and made.attr in _MAKES
        and isinstance(made.value, ast.Name)
        and made.value.id == "re"
    )


def _value(call: ast.Call, module: ModuleType) -> re.Pattern[Any] | None:
    """The pattern of a call to `re`, where the names of its module say what it is."""
    flags = [each.value for each in call.keywords if each.arg == "flags"]
    if isinstance(call.func, ast.Attribute) and call.func.attr == "compile":
        flags += call.args[1:2]
    known = vars(module)
    codes = [compile(ast.Expression(each), "", "eval") for each in (call.args[0], *flags)]
    try:
        values = [eval(code, known) for code in codes]  # noqa: S307 - the package's own source
    except NameError:
        return None
    made = values[0]
    return made if isinstance(made, re.Pattern) else re.compile(made, *values[1:])


def _held(value: Any, seen: set[int]) -> Iterator[re.Pattern[Any]]:
    """The compiled patterns in a value: in collections, and in fields of the package's own classes."""
    if isinstance(value, re.Pattern):
        yield value
        return
    if id(value) in seen or isinstance(value, (str, bytes, int, float, ModuleType)):
        return
    seen.add(id(value))
    if isinstance(value, dict):
        for each in (*value.keys(), *value.values()):
            yield from _held(each, seen)
    elif isinstance(value, (list, tuple, set, frozenset)):
        for each in value:
            yield from _held(each, seen)
    elif type(value).__module__.startswith("sitegen.") or (
        isinstance(value, type) and value.__module__.startswith("sitegen.")
    ):
        names = [*getattr(value, "__slots__", ()), *getattr(value, "__dict__", {})]
        for name in names:
            yield from _held(getattr(value, name, None), seen)
