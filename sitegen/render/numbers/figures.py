"""Figures as they stand on a page: said in words, and leading to their working.

In: figures of the facts. Out: HTML whose text is the wording of the figure, and the working of all that
was shown. Never computes a value.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from itertools import groupby
from typing import Protocol

from markupsafe import Markup, escape

from sitegen.core.facts.figure import Figure
from sitegen.core.facts.method import Method
from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr, tr_c
from sitegen.core.language.wording import Pieces, Wording, opening
from sitegen.core.site.addresses import experiment_page, link, record_page, working_anchor
from sitegen.core.values.quantity import Quantity
from sitegen.render.numbers.labels import SUBJECTS, Labels, subject_of, subject_words
from sitegen.render.numbers.places import Places


class Experiment(Protocol):
    """Whose figure it is: facts, on the experiment's own page; a summary elsewhere."""

    @property
    def id(self) -> str:
        """The experiment's id."""


@dataclass(frozen=True, slots=True)
class Working:
    """How one figure came about; `value` in the units that it was measured in."""

    figure: Figure
    value: str
    anchor: str
    label: str
    method: str
    method_title: str
    places: Markup
    rounding: str


@dataclass(frozen=True, slots=True)
class WorkingGroup:
    """The working of all figures of one subject."""

    subject: str
    title: str
    items: tuple[Working, ...]

    @property
    def by_method(self) -> tuple[tuple[tuple[Working, ...], ...], ...]:
        """The items by formula, and those of one formula by the rows that they are from."""
        found: dict[str, dict[Markup, list[Working]]] = {}
        for item in self.items:
            found.setdefault(item.figure.formula, {}).setdefault(item.places, []).append(item)
        return tuple(tuple(map(tuple, places.values())) for places in found.values())


@dataclass(slots=True)
class FigureBook:
    """Writes the figures of one page, and remembers which.

    `record` is the page with their working, for an experiment whose own page has it: by default its record has.
    """

    wording: Wording
    page: str
    methods: dict[str, Method] = field(default_factory=dict)
    shown: dict[str, tuple[Figure, Facts]] = field(default_factory=dict)
    record: str = ""
    # Lists of figures by experiment and subject: several tables are made of each.
    found: dict[tuple[str, str], list[Figure]] = field(default_factory=dict)
    _labels: dict[str, Labels] = field(default_factory=dict)
    _places: dict[str, Places] = field(default_factory=dict)

    def labels(self, facts: Facts) -> Labels:
        """The labels of the figures of an experiment; made once a page."""
        if facts.id not in self._labels:
            self._labels[facts.id] = Labels.of(facts)
        return self._labels[facts.id]

    def show(
        self,
        figure: Figure,
        of: Experiment,
        *,
        begins: bool = False,
        sentence: bool = False,
        named: bool = True,
    ) -> Markup:
        """A figure of an experiment; `begins` where it opens a sentence, `sentence` where it is said as in one.

        Not `named` where an element around it names the experiment for all figures in it.
        """
        record = self.record or record_page(of.id)
        own = self.page in (experiment_page(of.id), record)
        if own and isinstance(of, Facts):
            self.shown.setdefault(figure.name, (figure, of))
        target = link(f"{record}#{working_anchor(figure.name)}", self.page)
        experiment = "" if own or not named else of.id
        pieces = self.wording.in_sentence(figure) if sentence else self.wording.pieces(figure)
        return _figure_html(figure, experiment, pieces, target, begins=begins)

    def on(self, page: str) -> FigureBook:
        """The same book for another page of the experiment: what either shows has its working in both."""
        return replace(self, page=page)

    def working(self) -> tuple[WorkingGroup, ...]:
        """The working of every figure shown on this page, by subject."""
        order = list(SUBJECTS)
        shown = sorted(self.shown.values(), key=lambda pair: order.index(subject_of(pair[0].name)))
        return tuple(
            WorkingGroup(
                subject,
                subject_words(subject),
                tuple(self._working(figure, facts) for figure, facts in pairs),
            )
            for subject, pairs in groupby(shown, key=lambda pair: subject_of(pair[0].name))
        )

    def _working(self, figure: Figure, facts: Facts) -> Working:
        method = self.methods.get(figure.formula)
        if facts.id not in self._places:
            self._places[facts.id] = Places.of(facts.run.rows)
        record = self.record or record_page(facts.id)
        return Working(
            figure=figure,
            value=self.wording.as_measured(figure),
            anchor=working_anchor(figure.name),
            label=self.labels(facts).say(figure),
            method=figure.formula if method else "",
            method_title=tr_c("method", method.title) if method else "",
            places=self._places[facts.id].shown(figure.rows, record, self.page, self.wording),
            rounding=self._rounding(figure),
        )

    def _rounding(self, figure: Figure) -> str:
        value = figure.value
        if not isinstance(value, Quantity) or not value.known or value.step == 0:
            return ""
        if float(value.low).is_integer() and value.step == 1 and value.unit in ("", "days"):
            return ""
        if value.unit.startswith("°"):
            return ""
        return tr("rounded to {step}", step=self.wording.rounding_of(value))


def _figure_html(figure: Figure, experiment: str, pieces: Pieces, target: str, *, begins: bool) -> Markup:
    """The text of the element is `str(pieces)`, with a capital where it opens a sentence.

    `experiment` is said where the page is not its own. A figure that is one amount needs no element around its link, and
    the name alone marks it: a record has 300 of them. A stylesheet keeps a number on its line; what is too wide for that
    is `long`.
    """
    parts = [("flag", pieces.flag), ("", pieces.amount), ("also", pieces.also), ("flag", pieces.after)]
    said = [(kind, text) for kind, text in parts if text]
    if begins:
        said[0] = (said[0][0], opening(said[0][1]))
    name = f' data-figure="{escape(figure.name)}"'
    name += f' data-experiment="{escape(experiment)}"' if experiment else ""
    alone = [kind for kind, _ in said] == [""]
    style = "none" if pieces.missing else _LONG.strip() if _long(pieces.amount) else ""
    styled = f' class="{style}"' if style else ""
    leads = f'{styled}{name if alone else ""} href="{escape(target)}"'
    inner = " ".join(
        f'<span class="{kind}{_LONG * _long(text)}">{escape(text)}</span>'
        if kind
        else f"<a{leads}>{escape(text)}</a>"
        for kind, text in said
    )
    return Markup(inner if alone else f"<span{name}>{inner}</span>")  # noqa: S704 - every part is escaped


_LONG = " long"
_ONE_LINE = 16  # letters for which a column of a phone has room


def _long(text: str) -> bool:
    """Whether a text may be broken between its words; hard spaces are none."""
    return " " in text and len(text) > _ONE_LINE
