"""Random logs in many layouts, for adding to.

In: nothing. Out: strategies of hypothesis: the content of a file, an entry.
"""

from __future__ import annotations

from hypothesis import strategies as st

_KEYS = ("note", "water", "feed", "height")
_VALUES = (
    "filled",
    "about 9 cm",
    "{leaf-mix: 20 ml}",
    "'quoted: text'",
    '"with # sign"',
    "[P1, P2]",
    "roots white  # seen by torch",
    "|\n{deep}two lines\n{deep}of text",
    "|+\n{deep}kept lines\n\n",
    ">-\n{deep}folded\n\n{deep}text",
    "a plain text\n{deep}over two lines",
    "{P1: 9 g,\n{deep}P2: 8 g}",
    "\n{deep}P1: 9 g\n{deep}P2: 8 g",
    "",
)
_COMMENTS = ("", "# Keys of an entry:\n#   water: 2 L\n", "\n\n# the end\n", "   # indented\n")
_AFTER = ("", "answer: {verdict: again}\n", "recap: none\nepisodes: []\n")


@st.composite
def _entries(draw: st.DrawFn, hyphen: int, key: int) -> str:
    """The entries of a log, each with its hyphen at a column and its keys at another."""
    lines = []
    for day in range(draw(st.integers(1, 4))):
        lines.append(" " * hyphen + "-" + " " * (key - hyphen - 1) + f"day: {day}\n")
        for name in draw(st.lists(st.sampled_from(_KEYS), unique=True, max_size=3)):
            value = draw(st.sampled_from(_VALUES)).replace("{deep}", " " * (key + 2))
            lines.append((" " * key + f"{name}: {value}").rstrip(" ") + "\n")
        if draw(st.booleans()):
            lines.append(draw(st.sampled_from(("", "\n", " " * key + "# a remark\n"))))
    return "".join(lines)


@st.composite
def files(draw: st.DrawFn) -> bytes:
    """The content of an experiment.yaml with a log."""
    hyphen = draw(st.integers(0, 4))
    key = hyphen + draw(st.integers(2, 4))
    kind = draw(st.sampled_from(("entries", "entries", "entries", "[]", "", "~", "[]  # a plan", "none")))
    log = "" if kind == "none" else f"log: {kind}\n"
    if kind == "entries":
        log = "log:\n" + draw(_entries(hyphen, key))
    text = "title: A run\n" + log + draw(st.sampled_from(_COMMENTS)) + draw(st.sampled_from(_AFTER))
    if draw(st.booleans()) and "|+" not in text:
        text = text.rstrip("\n")
    text = draw(st.sampled_from(("", "\ufeff"))) + text
    return text.replace("\n", draw(st.sampled_from(("\n", "\r\n")))).encode()


ENTRY = st.lists(
    st.tuples(
        st.sampled_from(("ec", "ph", "taste", "tell")), st.sampled_from(("1.4 mS/cm", "{P1: 9 g}", "x"))
    ),
    max_size=3,
    unique_by=lambda pair: pair[0],
)
