"""What was done, and what went wrong: `prune`, `train`, `pollinate`, `treat`, `clean`, `trouble`, `taste`, `light`.

In: the pieces of a line that a rule has. Out: `RULES`; the value of a key as YAML text, or None where it is not certain.
"""

from __future__ import annotations

from collections.abc import Sequence

from sitegen.core.values.units import Dimension
from sitegen.filing.entries.entry_text import braced, text_value
from sitegen.filing.words.atoms import Kind, Piece, Rule
from sitegen.filing.words.known import Known
from sitegen.filing.words.phrases import words_in

RULES = (
    Rule(
        "prune",
        (
            *(
                "pruned",
                "took off",
                "cut off",
                "cut back",
                "removed",
                "pinched out",
                "pinched off",
                "deleafed",
            ),
            *("defoliated", "trimmed", "snipped off", "stripped"),
        ),
        (
            "entfernt",
            "zurückgeschnitten",
            "ausgegeizt",
            "abgeschnitten",
            "entblättert",
            "gestutzt",
            "ausgebrochen",
        ),
    ),
    Rule(
        "train",
        ("tied", "staked", "trained", "bent", "clipped to", "trellised", "caned", "propped", "wound"),
        ("gebunden", "angebunden", "gestützt", "hochgebunden", "festgebunden", "aufgebunden"),
    ),
    Rule("pollinate", ("pollinated", "hand pollinated", "pollinated by hand"), ("bestäubt",)),
    Rule("treat", ("treated", "sprayed"), ("behandelt", "gespritzt", "besprüht")),
    Rule(
        "clean", ("cleaned", "scrubbed", "rinsed", "washed"), ("gereinigt", "geputzt", "gesäubert", "gespült")
    ),
    Rule(
        "trouble",
        (
            *(
                "tip burn",
                "tipburn",
                "aphids",
                "greenfly",
                "algae",
                "mould",
                "mold",
                "mildew",
                "powdery mildew",
            ),
            *(
                "thrips",
                "spider mites",
                "mites",
                "fungus gnats",
                "gnats",
                "whitefly",
                "root rot",
                "damping off",
            ),
            *("blossom end rot", "yellow leaves", "yellowing", "curling", "wilting", "wilted", "burnt tips"),
            *(
                "burned tips",
                "leaf burn",
                "brown tips",
                "brown spots",
                "scorched",
                "leggy",
                "slugs",
                "caterpillars",
            ),
            *("chlorosis", "deficiency", "slime", "blight", "rust", "leaf drop", "splitting", "cracked"),
        ),
        (
            *(
                "blattläuse",
                "läuse",
                "algen",
                "schimmel",
                "mehltau",
                "spitzenbrand",
                "innenbrand",
                "trauermücken",
            ),
            *(
                "spinnmilben",
                "weiße fliege",
                "wurzelfäule",
                "umfallkrankheit",
                "gelbe blätter",
                "welk",
                "schnecken",
            ),
            *(
                "braune spitzen",
                "braune flecken",
                "blattrand verbrannt",
                "vergilbt",
                "verbrannt",
                "blütenendfäule",
            ),
        ),
    ),
    Rule("taste", ("taste", "tastes", "tasted", "flavour", "flavor"), ("geschmack", "schmeckt", "schmecken")),
    Rule(
        "light",
        ("light", "lights", "lamp", "lamps", "raised the lamp", "lowered the lamp"),
        ("licht", "lampe", "lampen", "leuchte"),
        weak=True,
    ),
    Rule(
        "light",
        ("light off", "lights off", "lamp off", "lamps off", "lights out", "switched the lamp off"),
        ("licht aus", "lampe aus", "lampen aus", "licht ausgeschaltet"),
        "off",
    ),
)
TASTES = words_in(
    "sweet mild bitter sour crisp tender soft hot peppery nutty juicy bland watery tough sharp salty "
    "fresh aromatic strong tiny little bit very quite rather a good süß mild bitter sauer knackig zart "
    "scharf nussig saftig fad zäh salzig frisch sehr etwas ziemlich gut and und"
)
# The keys whose value is the text itself, the first that is said before the others; some hold the word of the rule too.
TEXTS = ("prune", "train", "pollinate", "clean", "trouble")
WITH_WORD = ("train", "trouble")


def deed(key: str, piece: Piece) -> str | None:
    """`the pump`, `[P2, P4]`, `{what: the lower leaves, plants: P2}`: the words themselves, and whose they are."""
    which = piece.which()
    tubs = [atom for atom in piece.atoms if atom.kind is Kind.TUB]
    if len(which) > 1 or len(tubs) > 1:
        return None
    what = piece.text
    plants = [("plants", which[0].text)] if which else []
    tub = [("tub", tubs[0].name)] if tubs and tubs[0].name and key == "trouble" else []
    if not what:
        return which[0].text if which else ("some" if key in ("prune", "pollinate") else None)
    if plants or tub:
        return braced([("what", text_value(what, braced=True)), *plants, *tub])
    return text_value(what)


def treat(pieces: Sequence[Piece]) -> str | None:
    """`soap`, `{product: soap, plants: P2}`."""
    products = [atom.name for piece in pieces for atom in piece.atoms if atom.kind is Kind.PRODUCT]
    which = [each for piece in pieces for each in piece.which()]
    if len(products) != 1 or len(which) > 1:
        return None
    return braced([("product", products[0]), ("plants", which[0].text)]) if which else products[0]


def taste(pieces: Sequence[Piece], words: str) -> str | None:
    """`4/5, crisp and mild`, `sweet`."""
    shares = [share for piece in pieces for share in piece.shares()]
    if len(shares) > 1 or not (shares or words):
        return None
    score = f"{shares[0][0]}/{shares[0][1]}" if shares else ""
    return text_value(", ".join(part for part in (score, words) if part))


def light(pieces: Sequence[Piece], known: Known) -> str | None:
    """`{hours: 16 h}`, `{distance: 40 cm}`, `off`, `{left: off}`."""
    hours = [each.text for piece in pieces for each in piece.amounts(Dimension.DURATION)]
    distances = [each.text for piece in pieces for each in piece.amounts(Dimension.LENGTH)]
    tubs = [atom.name for piece in pieces for atom in piece.atoms if atom.kind is Kind.TUB and atom.name]
    off = any(piece.value == "off" for piece in pieces)
    if len(hours) > 1 or len(distances) > 1 or (off and (hours or distances)) or len(tubs) > 1:
        return None
    if known.tubs and not tubs:
        return None
    pairs = [("hours", each) for each in hours] + [("distance", each) for each in distances]
    if not off and not pairs:
        return None
    setting = "off" if off else braced(pairs)
    return braced([(tubs[0], setting)]) if tubs else setting
