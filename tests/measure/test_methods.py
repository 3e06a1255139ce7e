"""The methods page's text: what a docstring becomes."""

from __future__ import annotations

import importlib
import inspect
import pkgutil

import pytest

import sitegen.measure
from sitegen.core.facts.method import Method, parted
from sitegen.measure.methods import formula, formulas, method_messages, method_of, methods


def half_of(whole: float) -> float:
    """Half of a whole.

    One of two
    equal parts.

    The other is as large.

    Parameters
    ----------
    whole
        Of anything [g].

    Returns
    -------
    float
        Half [g].

    Notes
    -----
    With w the whole::

        half = w / 2
        w = 2 half

    It is never
    more than the whole::

        half ≤ w

    So much for halves.

    References
    ----------
    Euclid (1883). Elements,
    book I.

    By definition.

    """
    return whole / 2


def bare(whole: float) -> float:
    """All of it."""
    return whole


def unsaid(whole: float) -> float:  # noqa: D103 - what becomes of a formula without a docstring
    return whole


def test_a_docstring_becomes_a_method() -> None:
    """Title, paragraphs, literal blocks and references, each on one line, without parameters and markup."""
    assert method_of(half_of) == Method(
        name="half_of",
        title="Half of a whole",
        text="One of two equal parts.\n\nThe other is as large.\n\nWith w the whole:\n\n"
        "It is never more than the whole:\n\nSo much for halves.",
        equation="half = w / 2\nw = 2 half\nhalf ≤ w",
        references=("Euclid (1883). Elements, book I.", "By definition."),
    )


def test_a_docstring_of_one_line() -> None:
    """A title alone has neither text nor equation nor references."""
    assert method_of(bare) == Method("bare", "All of it", "", "", ())


def test_a_block_of_its_own_needs_no_colons() -> None:
    """Two colons that stand alone before an equation are no paragraph."""
    found = {method.name: method for method in methods()}
    assert (found["seeds_sown"].text, found["seeds_sown"].equation) == (
        "All sowings together, later ones in the same spot included.",
        "sown = Σ seeds",
    )
    assert found["daily_light_integral"].references == ("By definition of the quantities.",)


def chained(day: float) -> float:
    """A sum in two lines.

    Notes
    -----
    ::

        sum = a
              + b

    """
    return day


def test_an_equation_keeps_the_indent_of_its_lines() -> None:
    """A line that goes on stays under the part that it goes on from."""
    assert method_of(chained).equation == "sum = a\n      + b"


def test_every_formula_is_registered() -> None:
    """A function of this stage whose docstring has a section on its result is a formula of the methods page."""
    names = [info.name for info in pkgutil.walk_packages(sitegen.measure.__path__, "sitegen.measure.")]
    described = {
        function
        for module in map(importlib.import_module, names)
        for _, function in inspect.getmembers(module, inspect.isfunction)
        if "\nReturns\n-------\n" in (inspect.getdoc(function) or "")
        and function.__module__.startswith("sitegen.measure.")
    }
    assert described == set(formulas())


def test_methods_in_reading_order() -> None:
    """Every formula is a method, in the order in which a reader meets them, none twice."""
    assert [method.name for method in methods()] == [formula.__name__ for formula in formulas()]
    assert len(set(formulas())) == len(formulas())


def test_messages() -> None:
    """Titles, paragraphs, equations, references without a year and the notes behind others are messages, each once."""
    found = method_messages()
    assert found[:4] == (
        "Length in days",
        "From sowing, which is day 0, to the end that the log records; to its last visit while there is no end.",
        "length = last day - 0",
        "First day seen",
    )
    assert len(set(found)) == len(found)
    wanted = {
        text for method in methods() for text in (method.title, *method.text.split("\n\n"), method.equation)
    }
    notes = {"from memory", "mean coverage", "method 1", "method 3"}
    assert set(found) == (wanted - {""}) | {"By definition of the quantities."} | notes


def test_publications_are_no_messages() -> None:
    """References with the year of a publication stay as they are, but for a note in brackets at the end."""
    dated = [text for method in methods() for text in method.references if "(19" in text or "(20" in text]
    assert len(dated) > 10
    assert not set(dated) & set(method_messages())
    assert parted("A., B. (2003). Title (reprint of 1936). Wiley, chapter 7 (from memory).") == (
        "A., B. (2003). Title (reprint of 1936). Wiley, chapter 7",
        "from memory",
    )
    assert parted("A., B. (2003). Title. Wiley.") == ("A., B. (2003). Title. Wiley.", "")


def test_each_formula_has_a_name_of_its_own() -> None:
    """A figure finds its formula by name, so that a second one of a name is refused."""

    def first_day() -> None:
        """Day."""

    with pytest.raises(ValueError, match="there is a formula `first_day` already"):
        formula(reads=())(first_day)
