"""Sentences with figures, in any order of words."""

from __future__ import annotations

import pytest
from markupsafe import Markup

from sitegen.core.facts.figure import Figure
from sitegen.core.language.catalogue import Catalogue, tr, using_catalogue
from sitegen.render.story.run_sentences import Sentence, filled_markup, filled_sentence, span_words
from sitegen.render.templates.context import script_words
from tests.render.builders import facts

TURNED = Catalogue("nl", {"Seeds that came up: {share}.": ("{share}: zo veel zaden kwamen op.",)})


def _share() -> Figure:
    return facts().germination.share


def test_a_figure_stands_where_the_language_has_it() -> None:
    """The places of the translated message are filled, not those of the English one."""
    with using_catalogue(TURNED):
        said = filled_sentence(tr("Seeds that came up: {share}."), share=_share())

    assert said == Sentence((_share(), ": zo veel zaden kwamen op."))


def test_a_text_joins_what_stands_around_it() -> None:
    """A value that is text becomes a part of the text; what an author wrote is filled in as it is."""
    assert filled_sentence("{note}: {share}, {note}.", note="{odd}", share=_share()) == Sentence(
        ("{odd}: ", _share(), ", {odd}.")
    )


def test_markup_is_kept_and_words_are_escaped() -> None:
    """A message holds no markup; a value may."""
    assert filled_markup("{a} < {b}", a=Markup("<b>1</b>"), b="<2") == Markup("<b>1</b> &lt; &lt;2")


@pytest.mark.parametrize(
    ("first", "last", "about", "said"),
    [
        (3, 3, False, "day 3"),
        (3, 8, False, "days 3–8"),
        (3, 3, True, "about day 3"),
        (3, 8, True, "about days 3–8"),
    ],
)
def test_a_stretch_of_days(first: int, last: int, about: bool, said: str) -> None:
    """One day is said as one."""
    assert span_words(first, last, about=about).replace("\u00a0", " ") == said


def test_the_script_has_its_words_in_the_language_of_the_page() -> None:
    """Each word is looked up when a page is made."""
    with using_catalogue(Catalogue("nl", {"Close": ("Sluiten",)})):
        assert script_words()["close"] == "Sluiten"
