"""Translation of the site's own texts."""

from __future__ import annotations

import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor

import pytest

from sitegen.core.language.catalogue import (
    ENGLISH,
    Catalogue,
    active_catalogue,
    message_key,
    tr,
    tr_c,
    tr_cn,
    tr_n,
    tr_noop,
    using_catalogue,
)

# Polish has three forms; the expression is the one that gettext's manual gives for it ("Plural forms").
POLISH = "n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2"
DUTCH = Catalogue(
    "nl", {"at least {amount}": ("minstens {amount}",), message_key("lost", "plant"): ("dood",)}
)


def test_english_says_what_is_written() -> None:
    """Without a catalogue a message is its own words."""
    assert (tr("at least {amount}", amount="9 g"), tr("{raw}"), tr_c("plant", "lost")) == (
        "at least 9 g",
        "{raw}",
        "lost",
    )


def test_a_tongue_is_spoken_for_a_while() -> None:
    """Inside, messages are looked up; what it does not have stays English; afterwards all is as before."""
    with using_catalogue(DUTCH):
        inside = (
            tr("at least {amount}", amount="9 g"),
            tr("of {whole}", whole=3),
            active_catalogue().language,
        )

    assert (inside, tr("at least {amount}", amount="9 g")) == (("minstens 9 g", "of 3", "nl"), "at least 9 g")


def test_a_context_tells_words_apart() -> None:
    """The same English word may be two."""
    with using_catalogue(DUTCH):
        assert (tr_c("plant", "lost"), tr_c("key", "lost"), tr("lost")) == ("dood", "lost", "lost")


def test_a_value_is_never_taken_for_a_place() -> None:
    """What an author wrote is put in as it is."""
    assert tr("{title}, last visit", title="{title} 100 %") == "{title} 100 %, last visit"


@pytest.mark.parametrize(("n", "words"), [(0, "0 plants"), (1, "1 plant"), (2, "2 plants")])
def test_english_has_two_forms(n: int, words: str) -> None:
    """One is one; everything else is many."""
    assert tr_n("{n} plant", "{n} plants", n) == words


@pytest.mark.parametrize(("n", "words"), [(1, "1 a"), (2, "2 b"), (5, "5 c"), (12, "12 c"), (22, "22 b")])
def test_plurals_are_those_of_the_language(n: int, words: str) -> None:
    """Each number takes the form that the catalogue's header names; 12 and 22 differ in Polish."""
    forms = {
        "{n} plant": ("{n} a", "{n} b", "{n} c"),
        message_key("{n} plant", "x"): ("{n} a", "{n} b", "{n} c"),
    }
    with using_catalogue(Catalogue("pl", forms, POLISH)):
        assert (tr_n("{n} plant", "{n} plants", n), tr_cn("x", "{n} plant", "{n} plants", n)) == (
            words,
            words,
        )


def test_a_table_of_words_is_looked_up_where_it_is_used() -> None:
    """A marked word is English, and found under its English."""
    with using_catalogue(Catalogue("nl", {"leaf": ("blad",)})):
        assert (tr_noop("leaf"), tr(tr_noop("leaf"))) == ("leaf", "blad")


def test_threads_speak_for_themselves() -> None:
    """What one thread makes in a language does not change what another says."""
    with using_catalogue(DUTCH), ThreadPoolExecutor(1) as pool:
        assert pool.submit(active_catalogue).result() == ENGLISH


def test_speaking_english_loads_nothing() -> None:
    """Neither babel nor a catalogue is paid for."""
    code = (
        "from sitegen.core.language.catalogue import tr; tr('a'); import sys; print('babel' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert done.stdout == "False\n"
