"""Frozen records as JSON mappings with names and back, for descriptors that people and other programs read.

In: a record. Out: JSON types, with fields by name and defaults left out; and the record again. Data that do not fit
raise `ValueError` with their place. Reading executes nothing.
"""

from __future__ import annotations

import datetime as dt
import types
import typing
from dataclasses import MISSING
from enum import Enum
from typing import Any, TypeVar, Union, cast

from sitegen.core.records.codec import defaults_of, is_record

_Record = TypeVar("_Record")
_PLAIN = (str, int, float, bool)


def to_mapping(value: Any) -> Any:
    """A record, or a part of one, as JSON types; whole numbers have no decimal point."""
    kind: Any = type(value)
    if is_record(kind):
        given = ((name, getattr(value, name), default) for name, default in defaults_of(kind).items())
        return {name: to_mapping(item) for name, item, default in given if item != default}
    if isinstance(value, tuple):
        return [to_mapping(item) for item in value]
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, float) and value.is_integer():
        return int(value)
    return value.isoformat() if isinstance(value, dt.date) else value


def from_mapping(kind: type[_Record], data: Any) -> _Record:
    """The record that `to_mapping` was given; ValueError where the data do not fit."""
    return cast("_Record", _read(kind, data, kind.__name__.lower()))


def _read(kind: Any, data: Any, where: str) -> Any:
    origin = typing.get_origin(kind)
    if is_record(kind):
        return _record(kind, data, where)
    if origin is tuple:
        return _tuple(typing.get_args(kind), data, where)
    if origin in (Union, types.UnionType):
        return _optional(typing.get_args(kind), data, where)
    if origin is typing.Literal:
        return _one_of(typing.get_args(kind), data, where)
    return _single(kind, data, where)


def _record(kind: Any, data: Any, where: str) -> Any:
    if not isinstance(data, dict):
        raise ValueError(f"`{where}` is not a mapping")
    hints = typing.get_type_hints(kind)
    known = defaults_of(kind)
    for name in data:
        if name not in known:
            raise ValueError(f"`{where}` has no `{name}`")
    for name, default in known.items():
        if name not in data and default is MISSING:
            raise ValueError(f"`{where}` lacks `{name}`")
    return kind(**{name: _read(hints[name], item, f"{where}.{name}") for name, item in data.items()})


def _tuple(parts: tuple[Any, ...], data: Any, where: str) -> tuple[Any, ...]:
    if not isinstance(data, list):
        raise ValueError(f"`{where}` is not a list")
    if len(parts) == 2 and parts[1] is Ellipsis:
        parts = (parts[0],) * len(data)
    if len(parts) != len(data):
        raise ValueError(f"`{where}` has {len(data)} items, not {len(parts)}")
    return tuple(
        _read(part, item, f"{where}[{i}]") for i, (part, item) in enumerate(zip(parts, data, strict=True))
    )


def _optional(kinds: tuple[Any, ...], data: Any, where: str) -> Any:
    if data is None and type(None) in kinds:
        return None
    (kind,) = (each for each in kinds if each is not type(None))
    return _read(kind, data, where)


def _one_of(words: tuple[Any, ...], data: Any, where: str) -> Any:
    if data not in words:
        raise ValueError(f"`{where}` is none of {', '.join(map(repr, words))}")
    return data


def _single(kind: Any, data: Any, where: str) -> Any:
    try:
        if kind is dt.date:
            return dt.date.fromisoformat(data)
        if isinstance(kind, type) and issubclass(kind, Enum):
            return kind(data)
    except (ValueError, TypeError) as error:
        raise ValueError(f"`{where}`: {error}") from error
    if kind is float and type(data) is int:
        return float(data)
    if kind not in _PLAIN or type(data) is not kind:
        raise ValueError(f"`{where}` is not of the type {getattr(kind, '__name__', kind)}")
    return data
