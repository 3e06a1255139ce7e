"""Small changes of a program's meaning: which there are in a file, and a random sample of them.

In: source files. Out: `Mutant`s, each with the whole changed source. The operators are mutmut's, without those on
strings and without those that put None in place of an argument or of an assigned value, which nearly any test notices;
those on conditions, returned values and whole statements are added here. Nothing is changed in annotations, docstrings,
imports, type aliases, `__all__`, decorators, assertions (they state the impossible), and literal strings.
"""

from __future__ import annotations

import ast
import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from random import Random
from typing import Any

import libcst as cst
from libcst.metadata import CodeRange, MetadataWrapper, PositionProvider
from mutmut.mutation import mutators

Operator = Callable[[Any], Iterable[cst.CSTNode]]

_SKIPPED = (cst.Annotation, cst.Assert, cst.Decorator, cst.Import, cst.ImportFrom)
_TYPING = {"NewType", "ParamSpec", "TypeVar"}
_CHECKED = {"cast", "isinstance", "issubclass", "len"}  # with another number of arguments they always fail
_TYPE_NAME = re.compile(r"_?[A-Z]\w*[a-z]\w*|_?[A-Z]")


@dataclass(frozen=True)
class Mutant:
    """One change. Its identity is the file, the function, which of equal lines in it, and the changed lines' text."""

    file: str
    function: str
    turn: int
    before: str
    after: str
    line: int
    lines: range
    operator: str
    source: str

    @property
    def identity(self) -> tuple[str, str, str, str]:
        """What stays the same where lines move."""
        name = self.function if self.turn == 1 else f"{self.function}#{self.turn}"
        return self.file, name, self.before, self.after

    def __str__(self) -> str:
        after = self.after or "(nothing)"
        return f"{self.file}:{self.line} {self.identity[1]} [{self.operator}]\n    - {self.before}\n    + {after}"


def _condition(node: cst.If | cst.While | cst.CompIf) -> Iterator[cst.CSTNode]:
    """A condition that always holds, or never does; a loop without end would only be waited for."""
    for word, kinds in (("True", cst.If | cst.CompIf), ("False", cst.If | cst.While)):
        if isinstance(node, kinds):
            yield node.with_changes(test=cst.Name(word))


def _returned(node: cst.Return) -> Iterator[cst.CSTNode]:
    """None in place of a value; literal strings stay."""
    if not (node.value is None or isinstance(node.value, cst.BaseString) or _named(node.value, {"None"})):
        yield node.with_changes(value=cst.Name("None"))


def _statement(node: cst.Expr | cst.Raise | cst.Del) -> Iterator[cst.CSTNode]:
    """A statement that does nothing."""
    if not (isinstance(node, cst.Expr) and isinstance(node.value, cst.BaseString | cst.Ellipsis)):
        yield cst.Pass()


def _argument(node: cst.Call) -> Iterator[cst.CSTNode]:
    """An argument less: a named one or the last, since others are hardly ever optional; literal strings stay."""
    for changed in () if _named(node.func, _CHECKED) else mutators.operator_arg_removal(node):
        if len(changed.args) < len(node.args):
            pairs = zip(node.args, [*changed.args, None], strict=True)
            argument = next(old for old, new in pairs if old is not new)
            optional = argument.keyword or argument is node.args[-1]
            if optional and not (_lenient(argument) or isinstance(argument.value, cst.BaseString)):
                yield changed


_OWN: Mapping[Operator, Operator | None] = {
    mutators.operator_string: None,
    mutators.operator_dict_arguments: None,
    mutators.operator_arg_removal: _argument,
    mutators.operator_assignment: None,
}
OPERATORS: Sequence[tuple[Any, Operator]] = (
    *((kind, own) for kind, theirs in mutators.mutation_operators if (own := _OWN.get(theirs, theirs))),
    (cst.If | cst.While | cst.CompIf, _condition),
    (cst.Return, _returned),
    (cst.Expr | cst.Raise | cst.Del, _statement),
)


def _named(node: cst.CSTNode | None, names: set[str]) -> bool:
    return isinstance(node, cst.Name) and node.value in names


def _lenient(argument: cst.Arg) -> bool:
    """Whether an argument only asserts that lengths are equal."""
    return _named(argument.keyword, {"strict"})


def _without_meaning(node: cst.CSTNode) -> bool:
    """Whether nothing in a node is to be changed."""
    if isinstance(node, cst.If):
        test = node.test.left if isinstance(node.test, cst.Comparison) else node.test
        return _named(test, {"TYPE_CHECKING", "__name__"})
    if isinstance(node, cst.Call):
        return _named(node.func, _TYPING)
    if isinstance(node, cst.Arg):
        return _lenient(node)
    if isinstance(node, cst.Assign | cst.AnnAssign):
        target = node.targets[0].target if isinstance(node, cst.Assign) else node.target
        return isinstance(target, cst.Name) and (
            target.value in {"__all__", "__slots__"} or _TYPE_NAME.fullmatch(target.value) is not None
        )
    return isinstance(node, _SKIPPED)


@dataclass(frozen=True)
class _Change:
    old: cst.CSTNode
    new: cst.CSTNode
    operator: str
    top: int  # the place in the module of the statement that it is in
    function: str
    begin: int  # the function's first line
    line: int
    lines: range  # of the statement


class _Finder(cst.CSTVisitor):
    METADATA_DEPENDENCIES = (PositionProvider,)

    def __init__(self, module: cst.Module) -> None:
        super().__init__()
        self.found: list[_Change] = []
        self._tops = {id(node): place for place, node in enumerate(module.body)}
        self._top = 0
        self._scopes: list[tuple[str, int]] = []
        self._statement: range | None = None
        self._type: cst.CSTNode | None = None  # that a value is cast to

    def on_visit(self, node: cst.CSTNode) -> bool:
        """Collect the changes of a node."""
        if _without_meaning(node) or node is self._type:
            return False
        if isinstance(node, cst.Call) and _named(node.func, {"cast"}):
            self._type = node.args[0]
        self._top = self._tops.get(id(node), self._top)
        where = self._place(node)
        if isinstance(node, cst.FunctionDef | cst.ClassDef):
            self._scopes.append((node.name.value, where.start.line))
        if isinstance(node, cst.SimpleStatementLine):
            self._statement = range(where.start.line, where.end.line + 1)
        for kind, operator in OPERATORS:
            if isinstance(node, kind):
                for new in operator(node):
                    self._add(node, new, operator.__name__.removeprefix("operator").strip("_"))
        return True

    def on_leave(self, original_node: cst.CSTNode) -> None:
        """Leave a scope or a statement."""
        if isinstance(original_node, cst.FunctionDef | cst.ClassDef):
            self._scopes.pop()
        if isinstance(original_node, cst.SimpleStatementLine):
            self._statement = None

    def _place(self, node: cst.CSTNode) -> CodeRange:
        where: CodeRange = self.get_metadata(PositionProvider, node)
        return where

    def _add(self, old: cst.CSTNode, new: cst.CSTNode, operator: str) -> None:
        place = self._place(old.test if isinstance(old, cst.If | cst.While) else old)
        lines = self._statement or range(place.start.line, place.end.line + 1)
        name = ".".join(name for name, _ in self._scopes) or "<module>"
        begin = self._scopes[-1][1] if self._scopes else 1
        self.found.append(_Change(old, new, operator, self._top, name, begin, place.start.line, lines))


@dataclass(frozen=True)
class Source:
    """A source file: its path from the root, its text, and the changes that can be made in it."""

    file: str
    text: str

    @classmethod
    def read(cls, root: Path, path: Path) -> Source:
        """A file below a root."""
        return cls(path.relative_to(root).as_posix(), path.read_text("utf-8"))

    @cached_property
    def _tree(self) -> cst.Module:
        return cst.parse_module(self.text)

    @cached_property
    def _statements(self) -> list[str]:
        """The text of each statement of the module."""
        return [self._tree.code_for_node(node) for node in self._tree.body]

    @cached_property
    def _changes(self) -> Sequence[_Change]:
        finder = _Finder(self._tree)
        MetadataWrapper(self._tree, unsafe_skip_copy=True).visit(finder)
        return finder.found

    def mutants(self) -> Iterator[Mutant]:
        """All of them."""
        for change in self._changes:
            if (mutant := self._made(change)) is not None:
                yield mutant

    def drawn(self, count: int, random: Random) -> Iterator[Mutant]:
        """So many, none twice: a line at random, an operator that fits, one of its changes."""
        left = self._by_line()
        seen = {self.text}
        while left and count:
            line = random.choice(sorted(left))
            operator = random.choice(sorted(left[line]))
            changes = left[line][operator]
            mutant = self._made(changes.pop(random.randrange(len(changes))))
            if not changes:
                del left[line][operator]
            if not left[line]:
                del left[line]
            if mutant is not None and mutant.source not in seen:
                seen.add(mutant.source)
                count -= 1
                yield mutant

    def _by_line(self) -> dict[int, dict[str, list[_Change]]]:
        found: dict[int, dict[str, list[_Change]]] = defaultdict(lambda: defaultdict(list))
        for change in self._changes:
            found[change.line][change.operator].append(change)
        return found

    def _made(self, change: _Change) -> Mutant | None:
        """A change made; None where it is no program, or the same one."""
        old = self._statements[change.top]
        new = self._tree.code_for_node(self._tree.body[change.top].deep_replace(change.old, change.new))
        begin = self.text.index("".join(self._statements)) + sum(map(len, self._statements[: change.top]))
        source = self.text[:begin] + new + self.text[begin + len(old) :]
        try:
            if ast.dump(ast.parse(new)) == ast.dump(ast.parse(old)):
                return None
            compile(source, self.file, "exec", dont_inherit=True)
        except SyntaxError:
            return None
        first, before, after = _changed(self.text.splitlines(), source.splitlines())
        turn = _turn(self.text.splitlines()[change.begin - 1 : first + 1])
        return Mutant(
            self.file,
            change.function,
            turn,
            before,
            after,
            first + 1,
            change.lines,
            change.operator,
            source,
        )


def _changed(old: Sequence[str], new: Sequence[str]) -> tuple[int, str, str]:
    """The place of the first line that differs, and the text of those that do."""
    shorter = min(len(old), len(new))
    first = next((n for n in range(shorter) if old[n] != new[n]), shorter)
    rest = range(shorter - first)
    last = next((n for n in rest if old[-1 - n].strip() != new[-1 - n].strip()), len(rest))
    before, after = (" ".join(map(str.strip, lines[first : len(lines) - last])) for lines in (old, new))
    return first, before, after


def _turn(lines: Sequence[str]) -> int:
    """How many lines, to the last, are equal to the last."""
    return sum(line.strip() == lines[-1].strip() for line in lines)


def code_lines(text: str) -> int:
    """The lines with code: neither empty, nor comments, nor docstrings."""
    found: set[int] = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.stmt) and not (
            isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
        ):
            last = node.body[0].lineno - 1 if hasattr(node, "body") and node.body else node.end_lineno
            found |= set(range(node.lineno, max(node.lineno, last or 0) + 1))
    lines = text.splitlines()
    return sum(1 for n in found if lines[n - 1].strip() and not lines[n - 1].lstrip().startswith("#"))


def sample(sources: Sequence[Source], count: int, seed: int) -> list[Mutant]:
    """So many mutants, of each file in proportion to its lines of code; the same for the same files and seed."""
    weights = {source.file: code_lines(source.text) for source in sources}
    shares = {name: count * weight / sum(weights.values()) for name, weight in weights.items()}
    most = sorted(shares, key=lambda name: (int(shares[name]) - shares[name], name))
    more = set(most[: count - sum(map(int, shares.values()))])
    found: list[Mutant] = []
    for source in sources:
        random = Random(f"{seed} {source.file}")  # noqa: S311 - a sample, no secret
        found += source.drawn(int(shares[source.file]) + (source.file in more), random)
    return found
