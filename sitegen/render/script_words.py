"""What the script of a theme says, so that it holds no words of its own.

In: nothing. Out: the words by name, in the tongue now spoken; a page hands them to its scripts. `{places}` are filled by
the script.
"""

from __future__ import annotations

from sitegen.core.tongue import noted, tr, tr_c

__all__ = ["script_words"]

_WORDS = {
    "sift": noted("Only rows with"),
    "sifted": noted("{shown} of {all} rows"),
    "place": noted("{number} of {all}"),
    "earlier": noted("Earlier"),
    "later": noted("Later"),
    "close": noted("Close"),
    "pictures": noted("Pictures"),
    "find": noted("Find"),
    "found": noted("{number} found"),
    "nothing": noted("Nothing was found."),
    "no_index": noted("The index of this site is not there."),
    "date": noted("Date"),
}


def script_words() -> dict[str, str]:
    """Every word that a script needs."""
    # For sorting: what stands before an amount in a table, and between a part and its whole.
    said = {name: tr(word) for name, word in _WORDS.items()}
    return said | {
        "before": tr_c(
            "words before a number, parted by |", "about|at least|at most|by|day|days|from|over|under"
        ),
        "of": tr_c("between two numbers: 2 of 6", "of"),
    }
