"""Templates of a journal: they come with the journal, perhaps from somebody else, and so they run confined.

In: the options of a Jinja environment. Out: `AuthorEnvironment`. A template reaches data and what the theme gives it, no
more: no attribute with an underscore, nothing that opens a file. Loops, texts and output have bounds, so that it ends
soon and in little memory. What is refused raises `SecurityError`.
"""

from __future__ import annotations

import re
import warnings
from collections.abc import Callable, Iterable, Iterator, Sized
from contextlib import contextmanager
from contextvars import ContextVar
from functools import wraps
from types import CodeType
from typing import Any

from jinja2 import nodes, pass_eval_context
from jinja2.exceptions import SecurityError, TemplateRuntimeError, TemplateSyntaxError
from jinja2.nodes import EvalContext
from jinja2.runtime import Context, markup_join, str_join
from jinja2.sandbox import ImmutableSandboxedEnvironment
from jinja2.visitor import NodeTransformer

STEPS = (
    200_000  # rounds of loops and calls in one rendering; the largest page of 1,000 runs takes some 20,000
)
LONGEST_SOURCE = 200_000  # characters of a template
LONGEST = 1_000_000  # characters of one text, or items of one list
OUTPUT = 20_000_000  # characters of all values printed
WORK = (
    50_000_000  # characters and items of all values that filters, methods and comparisons were given or made
)
WIDEST = 10_000  # a number given to a filter or a method of a text: a width, a count
LARGEST_POWER = 100

# What Python raises for a template of an author, beside the library's own errors: names, types, sums, calls of macros by
# themselves; code that Python refuses, such as an infinite number or too many brackets.
FAILURES = (
    TypeError,
    AttributeError,
    LookupError,
    NameError,
    ValueError,
    ArithmeticError,
    RecursionError,
    MemoryError,
    SyntaxError,
)

# Data, and what templates are made of. Anything else has methods of its own: a path opens files.
_PLAIN = ("builtins", "datetime", "decimal", "collections", "markupsafe", "jinja2.")
_NO_WIDTHS = {"abs", "count", "filesizeformat", "float", "index", "int", "round", "default", "d"}
_WIDE = re.compile(r"\d{5}")  # a width in a format


class _Budget:
    """What one rendering has used."""

    def __init__(self) -> None:
        self.steps = 0
        self.output = 0
        self.work = 0

    def step(self) -> None:
        self.steps += 1
        if self.steps > STEPS:
            raise SecurityError(f"the template takes more than {STEPS:,} rounds and calls")

    def print(self, value: object) -> None:
        weight = _weight(value)
        if weight > LONGEST and not isinstance(value, str):
            raise SecurityError("the list is too long")
        self.output += weight
        if self.output > OUTPUT:
            raise SecurityError(f"the template prints more than {OUTPUT:,} characters")

    def handle(self, value: object) -> None:
        weight = _weight(value)
        if weight > LONGEST:
            raise SecurityError("the text is too long" if isinstance(value, str) else "the list is too long")
        self.work += weight
        if self.work > WORK:
            raise SecurityError(f"the template handles more than {WORK:,} characters and items")


def _weight(value: object) -> int:
    """How many characters and items a value has when written out; any number above the bound for a longer list.

    A list that holds another one twice counts it twice: a few lines can make one that could never be written out.
    """
    if isinstance(value, str):
        return len(value)
    total, waiting = 0, [value]
    while waiting and total <= LONGEST:
        each = waiting.pop()
        total += 1 + (len(each) if isinstance(each, str) else 0)
        if isinstance(each, dict):
            waiting += [*each.keys(), *each.values()]
        elif isinstance(each, (list, tuple)):
            waiting += each
    return total


_BUDGET: ContextVar[_Budget] = ContextVar("budget")


def _budget() -> _Budget:
    # While a template is compiled, its constants are calculated outside of any rendering.
    return _BUDGET.get(None) or _Budget()


@contextmanager
def rendering() -> Iterator[None]:
    """One rendering, with a budget of its own."""
    before = _BUDGET.set(_Budget())
    try:
        yield
    finally:
        _BUDGET.reset(before)


class _Bounded(NodeTransformer):
    """Sets a count into every loop, and a bound on every joined, compared and cut text."""

    def visit_For(self, node: nodes.For) -> nodes.For:  # noqa: N802 - named by the library
        self.generic_visit(node)
        node.iter = nodes.Filter(node.iter, "_counted", [], [], None, None, lineno=node.lineno)
        return node

    def visit_Concat(self, node: nodes.Concat) -> nodes.Expr:  # noqa: N802 - as above
        self.generic_visit(node)
        parts = nodes.List(node.nodes, lineno=node.lineno)
        return nodes.Filter(parts, "_joined", [], [], None, None, lineno=node.lineno)

    def visit_Compare(self, node: nodes.Compare) -> nodes.Compare:  # noqa: N802 - as above
        self.generic_visit(node)
        node.expr = _handled_by(node.expr)
        for operand in node.ops:
            operand.expr = _handled_by(operand.expr)
        return node

    def visit_Getitem(self, node: nodes.Getitem) -> nodes.Getitem:  # noqa: N802 - as above
        self.generic_visit(node)
        if isinstance(node.arg, nodes.Slice):
            node.node = _handled_by(node.node)
        return node


def _handled_by(node: nodes.Expr) -> nodes.Expr:
    return nodes.Filter(node, "_handled", [], [], None, None, lineno=node.lineno)


@contextmanager
def _no_warnings() -> Iterator[None]:
    # Of code that nobody wrote: Python would print them with a line that the author does not know.
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        yield


class AuthorEnvironment(ImmutableSandboxedEnvironment):
    """An environment for templates that are not the program's own."""

    intercepted_binops = frozenset({"+", "*", "**", "%"})

    def __init__(self, **options: Any) -> None:
        super().__init__(**options, finalize=_printed)
        del self.globals["lipsum"]  # of no use, and slow
        self.filters = {name: _narrow(name, function) for name, function in self.filters.items()}
        self.filters |= {"_counted": _counted, "_joined": _joined, "_handled": _handled}

    def _parse(self, source: str, name: str | None, filename: str | None) -> nodes.Template:
        if len(source) > LONGEST_SOURCE:
            message = f"it has {len(source):,} characters; at most {LONGEST_SOURCE:,} are read"
            raise TemplateSyntaxError(message, 1, name, filename)
        with _no_warnings():
            tree: nodes.Template = _Bounded().visit(super()._parse(source, name, filename))
        return tree

    def _compile(self, source: str, filename: str) -> CodeType:
        with _no_warnings():
            return super()._compile(source, filename)

    def is_safe_attribute(self, obj: Any, attr: str, value: Any) -> bool:
        """Whether an attribute may be read: of data and of the project's own records."""
        home = type(obj).__module__
        plain = home.startswith(("sitegen.", *_PLAIN)) or isinstance(obj, (dict, list, tuple, str))
        return plain and super().is_safe_attribute(obj, attr, value)

    def call(self, context: Context, function: Any, /, *args: Any, **kwargs: Any) -> Any:
        """Call a function, one step of the budget."""
        _budget().step()
        method = getattr(function, "__wrapped__", function)  # `format` of a text is wrapped by the library
        of = getattr(method, "__self__", None)
        if isinstance(of, (str, list, dict)):
            _check_arguments(method.__name__, of, [*args, *kwargs.values()])
            _budget().handle(of)
            return _handled(super().call(context, function, *args, **kwargs))
        return super().call(context, function, *args, **kwargs)

    def call_binop(self, context: Context, operator: str, left: Any, right: Any) -> Any:
        """Calculate, where the result cannot be huge."""
        if operator == "**" and isinstance(right, (int, float)) and abs(right) > LARGEST_POWER:
            raise SecurityError(f"a power of {right} is too large")
        sizes = [len(side) for side in (left, right) if isinstance(side, Sized)]
        numbers = [side for side in (left, right) if isinstance(side, int)]
        if operator == "*" and sizes and numbers and sizes[0] * numbers[0] > LONGEST:
            raise SecurityError("the text is too long")
        if operator == "+" and sum(sizes) > LONGEST:
            raise SecurityError("the text is too long")
        if operator == "%" and isinstance(left, str):
            _check_filled(left, right if isinstance(right, (tuple, dict)) else (right,))
        if any(abs(number) > 10**LARGEST_POWER for number in numbers):
            raise SecurityError("the number is too large")
        return super().call_binop(context, operator, left, right)


def _printed(value: Any) -> Any:
    _budget().print(value)
    return value


def _handled(value: Any) -> Any:
    _budget().handle(value)
    return value


def _counted(items: Iterable[Any]) -> Iterator[Any]:
    budget = _budget()
    for item in items:
        budget.step()
        yield item


@pass_eval_context
def _joined(context: EvalContext, parts: list[Any]) -> str:
    _budget().handle(parts)
    return markup_join(parts) if context.autoescape else str_join(parts)


def _narrow(name: str, function: Callable[..., Any]) -> Callable[..., Any]:
    """A filter that refuses wide results before they are made."""

    @wraps(function)  # with the marks that tell the library to hand over the environment or the context
    def narrow(*args: Any, **kwargs: Any) -> Any:
        given = [v for v in (*args, *kwargs.values()) if isinstance(v, (str, int, list, tuple, dict))]
        _check_arguments(name, given[0] if given else "", given[1:])
        for value in given:
            _budget().handle(value)
        try:
            return _handled(function(*args, **kwargs))
        except AssertionError as error:  # how the library says that an argument does not fit
            raise TemplateRuntimeError(f"`{name}` does not take this: {error}") from error

    return narrow


def _check_arguments(name: str, text: Any, arguments: Iterable[Any]) -> None:
    given = list(arguments)
    wide = any(isinstance(value, int) and abs(value) > WIDEST for value in given)
    if wide and name not in _NO_WIDTHS:
        raise SecurityError(f"`{name}` takes no number above {WIDEST:,}")
    if name in _REPEATS:
        counted = [value for value in given if name in _INDENTS or not isinstance(value, int)]
        repeated = max((v if isinstance(v, int) else _weight(v) for v in counted), default=0)
        if (_weight(text) + 1) * repeated > LONGEST:
            raise SecurityError("the text is too long")
    if name in {"format", "format_map"} and isinstance(text, str):
        _check_filled(text, given)
    if name == "sum" and any(isinstance(value, (list, tuple)) for value in given):
        raise SecurityError("`sum` adds numbers")


# What writes an argument again and again: between items, at links, at the end or the beginning of lines.
_INDENTS = {"indent", "tojson", "pprint"}
_REPEATS = {"replace", "join", "wordwrap", "urlize", "translate", *_INDENTS}


def _check_filled(text: str, given: Iterable[Any]) -> None:
    """Refuse a format that writes wide, or its values so often that the text would be long."""
    if _WIDE.search(text):
        raise SecurityError("a format takes no width of five digits")
    longest = max(map(_weight, given.values() if isinstance(given, dict) else given), default=0)
    if (text.count("%") + text.count("{")) * longest > LONGEST:
        raise SecurityError("the text is too long")
