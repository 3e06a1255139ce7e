"""Frozen records as compact JSON values and back, by their annotations.

In: a record type. Out: `Codec`, which encodes its values as lists, texts and numbers. Equal values give equal JSON.
Decoding executes nothing; data that do not fit raise `ValueError`, and the caller then makes the value anew.
"""

from __future__ import annotations

import datetime as dt
import types
import typing
from collections.abc import Callable, Collection
from dataclasses import MISSING, Field, fields, is_dataclass
from enum import Enum
from functools import cache
from pathlib import Path
from typing import Any, Generic, TypeVar, Union, cast

_Value = TypeVar("_Value")
_Turn = Callable[[Any], Any]
_Fields = frozenset[tuple[type, str]]  # a record's type and the name of one of its fields
_PLAIN = (str, int, bool, float, type(None))
_AS_TEXT: dict[Any, tuple[_Turn, _Turn]] = {
    dt.date: (dt.date.isoformat, dt.date.fromisoformat),
    dt.datetime: (dt.datetime.isoformat, dt.datetime.fromisoformat),
    Path: (str, Path),
}


class Codec(Generic[_Value]):
    """Encodes and decodes one type. A record is encoded as the list of its fields, up to the last without its default.

    Decoding leaves the fields of `without`, each a type and a name, at their defaults, whatever they were.
    """

    def __init__(self, kind: type[_Value], without: Collection[tuple[type, str]] = ()) -> None:
        self._to, self._from = _turns(typing.cast("Any", kind), frozenset(without))

    def encode(self, value: _Value) -> Any:
        """The value as JSON types."""
        return self._to(value)

    def decode(self, data: Any) -> _Value:
        """The value that `encode` was given; ValueError where the data do not fit."""
        try:
            value: _Value = self._from(data)
        except (TypeError, KeyError, IndexError, AttributeError) as error:
            raise ValueError(f"not data of this type: {error}") from error
        return value


def codec_for(kind: type[_Value], without: Collection[tuple[type, str]] = ()) -> Codec[_Value]:
    """The codec of a type; `without` is that of `Codec`."""
    return Codec(kind, without)


def _same(value: Any) -> Any:
    return value


def _always(value: Any) -> _Turn:
    return lambda _: value


@cache
def _turns(kind: Any, without: _Fields) -> tuple[_Turn, _Turn]:
    """The encoder and the decoder of an annotation; cached."""
    origin = typing.get_origin(kind)
    if kind in (*_PLAIN, Any) or origin is typing.Literal:
        return _same, _same
    if kind in _AS_TEXT:
        return _AS_TEXT[kind]
    if isinstance(kind, type) and issubclass(kind, Enum):
        return (lambda value: value.value), {each.value: each for each in kind}.__getitem__
    if is_record(kind):
        return _record(kind, without)
    if origin is tuple:
        return _tuple(typing.get_args(kind), without)
    if origin in (Union, types.UnionType):
        return _union(typing.get_args(kind), without)
    raise TypeError(f"no codec for {kind}")


def _record(kind: Any, without: _Fields) -> tuple[_Turn, _Turn]:
    hints, defaults = typing.get_type_hints(kind), defaults_of(kind)
    turns = {name: _turns(hints[name], without) for name in defaults}
    into = tuple((name, to, defaults[name]) for name, (to, _) in turns.items())
    turned = (
        (place, _always(defaults[name]) if (kind, name) in without else turns[name][1])
        for place, name in enumerate(defaults)
    )
    back = tuple((place, turn) for place, turn in turned if turn is not _same)  # most values stay as they are
    least = sum(default is MISSING for default in defaults.values())

    def encode(value: Any) -> list[Any]:
        data, end = [], 0
        for name, to, default in into:
            item = getattr(value, name)
            data.append(to(item))
            if default is MISSING or item != default:
                end = len(data)
        return data[:end]

    def decode(data: Any) -> Any:
        if not (isinstance(data, list) and least <= len(data) <= len(into)):
            raise ValueError(f"{kind.__name__} has {least} to {len(into)} fields")
        items, number = data.copy(), len(data)
        for place, turn in back:
            if place < number:
                items[place] = turn(items[place])
        return kind(*items)

    return encode, decode


def _tuple(parts: tuple[Any, ...], without: _Fields) -> tuple[_Turn, _Turn]:
    if len(parts) == 2 and parts[1] is Ellipsis:
        to, back = _turns(parts[0], without)
        if to is _same:
            return list, tuple
        return (lambda value: [to(item) for item in value]), (
            lambda data: tuple([back(item) for item in data])
        )
    turns = tuple(_turns(part, without) for part in parts)

    def encode(value: Any) -> list[Any]:
        return [turn(item) for (turn, _), item in zip(turns, value, strict=True)]

    def decode(data: Any) -> tuple[Any, ...]:
        return tuple([turn(item) for (_, turn), item in zip(turns, data, strict=True)])

    return encode, decode


def _union(kinds: tuple[Any, ...], without: _Fields) -> tuple[_Turn, _Turn]:
    """One of several types: None and plain JSON types as they are, any other under its name if there are several."""
    others = tuple(kind for kind in kinds if kind not in _PLAIN)
    if len(others) == 1 and set(kinds) == {others[0], type(None)}:
        return _optional_turns(*_turns(others[0], without))
    turns = {kind.__name__: _turns(kind, without) for kind in others}

    def encode(value: Any) -> Any:
        if isinstance(value, _PLAIN):
            return value
        name = type(value).__name__
        return {name: turns[name][0](value)}

    def decode(data: Any) -> Any:
        if not isinstance(data, dict):
            return data
        ((name, inner),) = data.items()
        return turns[name][1](inner)

    return encode, decode


def _optional_turns(to: _Turn, back: _Turn) -> tuple[_Turn, _Turn]:
    return (lambda value: None if value is None else to(value)), (
        lambda data: None if data is None else back(data)
    )


def is_record(kind: Any) -> bool:
    """Whether a type has named fields."""
    return isinstance(kind, type) and (is_dataclass(kind) or hasattr(kind, "_fields"))


@cache
def defaults_of(kind: Any) -> dict[str, Any]:
    """The fields of a record in order, each with its default; `MISSING` where it has none."""
    if is_dataclass(kind):
        return {field.name: _default(field) for field in fields(kind) if field.init}
    return {name: kind._field_defaults.get(name, MISSING) for name in kind._fields}


def _default(field: Field[Any]) -> Any:
    if field.default is not MISSING:
        return field.default
    return MISSING if field.default_factory is MISSING else field.default_factory()


_Record = TypeVar("_Record")
_UNCHANGED = (str, int, float, bool)


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
        return _named_record(kind, data, where)
    if origin is tuple:
        return _named_tuple(typing.get_args(kind), data, where)
    if origin in (Union, types.UnionType):
        return _optional(typing.get_args(kind), data, where)
    if origin is typing.Literal:
        return _one_of(typing.get_args(kind), data, where)
    return _single(kind, data, where)


def _named_record(kind: Any, data: Any, where: str) -> Any:
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


def _named_tuple(parts: tuple[Any, ...], data: Any, where: str) -> tuple[Any, ...]:
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
    if kind not in _UNCHANGED or type(data) is not kind:
        raise ValueError(f"`{where}` is not of the type {getattr(kind, '__name__', kind)}")
    return data
