"""What was picked: `harvest` and `total_so_far`.

In: the pieces of a line that a rule has. Out: `RULES`; the value of a key as YAML text, or None where it is not certain.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from sitegen.core.values.units import Dimension
from sitegen.filing.entries.entry_text import braced, bracketed
from sitegen.filing.words.atoms import Amount, Kind, Piece, Rule, Which
from sitegen.filing.words.known import Known
from sitegen.filing.words.phrases import Phrases

RULES = (
    Rule(
        "harvest",
        ("picked", "harvested", "pick", "harvest", "picking", "harvesting"),
        ("geerntet", "gepflückt", "ernte", "abgeerntet"),
    ),
    Rule("harvest", ("cut",), ("geschnitten",), weak=True),
    Rule(
        "total_so_far",
        ("so far", "total so far", "running total", "in total so far"),
        ("bisher insgesamt", "gesamt bisher", "insgesamt bisher", "bisher geerntet"),
    ),
)
# The parts of the format, as they are said; the crop's own name is the part that is usual of it.
PARTS = (
    ("leaf", "leaves|leaf|outer leaves|blätter|blatt"),
    ("head", "head|heads|kopf|köpfe"),
    ("side shoot", "side shoot|side shoots|seitentrieb|seitentriebe"),
    ("flower head", "flower head|flower heads|blütenkopf|blütenstand"),
    ("fruit", "fruit|fruits|frucht|früchte"),
    ("root", "root|roots|wurzel|wurzeln|knolle|knollen"),
    ("pod", "pod|pods|hülse|hülsen|schote|schoten"),
    ("seed", "seeds|samen"),
    ("stem", "stem|stems|stängel|stiel"),
    (
        "whole plant",
        "whole plant|whole plants|as a whole plant|whole|the whole plant|ganze pflanze|als ganze pflanze",
    ),
)
PIECES = frozenset({"piece", "pieces", "stück", "of", "them", "ones"})
OF_KIND = {
    "leafy": "leaf",
    "heading": "head",
    "flower head": "flower head",
    "fruiting": "fruit",
    "root": "root",
    "legume": "pod",
    "herb": "leaf",
}


class _Pick:
    """One pick while it is read."""

    def __init__(self, which: Which | None, weight: Amount | None) -> None:
        self.which = which
        self.weight = weight
        self.count = ""
        self.part = ""
        self.each = False
        self.unweighed = False


def part_of(words: Sequence[str], known: Known) -> tuple[str, int]:
    """The part that some words begin with, and how many words; the crop's own name is its usual part."""
    found = _PARTS.at(words, 0) if words else None
    if found is not None:
        return found[1], found[0]
    crop = known.crop.lower().split()[-1] if known.crop.split() else ""
    singular = {words[0], *(words[0].removesuffix(end) for end in ("s", "es", "n", "en"))} if words else set()
    if any(len(each) > 3 and crop.endswith(each) for each in singular):
        return OF_KIND.get(known.crop_kind, ""), 1
    return "", 0


_PARTS = Phrases((phrase, part) for part, said in PARTS for phrase in said.split("|"))


def harvest(pieces: Sequence[Piece]) -> str | None:
    """`84 g`, `{P1: 84 g, P4: unweighed}`, `{weight: 24 g, count: 3, part: fruit}`, or a list of picks."""
    picks: list[_Pick] = []
    for piece in pieces:
        if not _add(picks, piece):
            return None
    if not picks or _unsure(picks):
        return None
    parts = {pick.part for pick in picks if pick.part}
    if len(parts) == 1 and not any(pick.count for pick in picks[1:]):  # said once, it is that of all
        for pick in picks:
            pick.part = min(parts)
    units = {pick.weight.unit for pick in picks if pick.weight is not None and pick.weight.unit}
    for pick in picks:
        if pick.weight is not None and not pick.weight.unit:
            if len(units) != 1:
                return None
            pick.weight = pick.weight._replace(unit=min(units))
    return _written(picks)


def _unsure(picks: Sequence[_Pick]) -> bool:
    """Whether the weight of a pick may be a part of the next one's: `picked P1, P2 9 g`."""
    weighed = any(pick.weight is not None for pick in picks)
    bare = any(pick.weight is None and not pick.unweighed and not pick.count for pick in picks)
    return weighed and bare


def _add(picks: list[_Pick], piece: Piece) -> bool:
    """Add what one part of a sentence says; False where it can be read in two ways."""
    pairs = _pairs(piece)
    if pairs is None:
        return False
    for which, weight in pairs:
        if (
            which is None
            and picks
            and (weight is None or (picks[-1].weight is None and not picks[-1].unweighed))
        ):
            picks[-1].weight = weight or picks[-1].weight
        elif which is None and picks:
            return False
        elif which is not None and picks and picks[-1].which is None:
            if picks[-1].weight is not None and weight is not None:
                return False
            picks[-1].which, picks[-1].weight = which, weight or picks[-1].weight
        else:
            picks.append(_Pick(which, weight))
    return _described(picks[-1], piece, weighed=any(weight is not None for _, weight in pairs))


def _described(pick: _Pick, piece: Piece, *, weighed: bool) -> bool:
    """Add count, part and how the weight is meant to a pick; False where that can be read in two ways."""
    said = [atom for atom in piece.atoms if atom.kind is Kind.MARK]
    counts, parts = ([atom.value for atom in said if atom.name == name] for name in ("count", "part"))
    if len(counts) > (0 if pick.count else 1) or len({pick.part, *parts} - {""}) > 1:
        return False
    if piece.marked("each") and not weighed:
        return False  # `three leaves each` is no weight of each
    pick.count, pick.part = "".join(counts) or pick.count, parts[0] if parts else pick.part
    pick.each = pick.each or piece.marked("each")
    pick.unweighed = pick.unweighed or piece.marked("unweighed")
    return not (pick.unweighed and pick.weight is not None)


def _pairs(piece: Piece) -> list[tuple[Which | None, Amount | None]] | None:
    """Plants and weights in turn, as they stand: `P1 84 grams P4 121 grams`."""
    row = [atom for atom in piece.atoms if atom.kind in (Kind.WHICH, Kind.AMOUNT, Kind.NUMBER)]
    which = [atom.which for atom in row if atom.which is not None]
    weights = [atom.amount for atom in row if atom.which is None]
    if len(which) < 2 and len(weights) < 2:
        return [(which[0] if which else None, weights[0] if weights else None)]
    kinds = [atom.which is not None for atom in row]
    if len(which) != len(weights) or any(a == b for a, b in pairwise(kinds)):
        return None
    return list(zip(which, weights, strict=True))


def _written(picks: Sequence[_Pick]) -> str | None:
    if len(picks) == 1 and (picks[0].which is None or picks[0].which.everyone):
        return _alone(picks[0])
    if all(pick.which is not None and _key(pick) for pick in picks):
        pairs = [(_key(pick), _value(pick)) for pick in picks]
        return braced(pairs) if len(dict(pairs)) == len(pairs) else None
    items = [_with_plants(pick) for pick in picks]
    if any(item is None for item in items):
        return None
    texts = [item for item in items if item is not None]
    return texts[0] if len(texts) == 1 else bracketed(texts)


def _alone(pick: _Pick) -> str:
    if pick.each:
        return braced([("each", _weight(pick)), ("plants", "all"), *_rest(pick)])
    return braced([("weight", _weight(pick)), *_rest(pick)]) if _rest(pick) else _weight(pick)


def _key(pick: _Pick) -> str:
    """The one subject of a pick: a plant or a group."""
    which = pick.which
    if which is None or which.word in ("all", "some") or " " in which.word or pick.each:
        return ""
    if len(which.ids) == 1:
        return which.ids[0]
    return which.word if not which.ids else ""


def _value(pick: _Pick) -> str:
    return braced([("weight", _weight(pick)), *_rest(pick)]) if _rest(pick) else _weight(pick)


def _with_plants(pick: _Pick) -> str | None:
    if pick.which is None:
        return None
    if pick.each and pick.which.ids and not _rest(pick):
        return braced([(plant, _weight(pick)) for plant in pick.which.ids])
    size = "each" if pick.each else "weight"
    return braced([("plants", pick.which.text), (size, _weight(pick)), *_rest(pick)])


def _weight(pick: _Pick) -> str:
    return "unweighed" if pick.weight is None else pick.weight.text


def _rest(pick: _Pick) -> list[tuple[str, str]]:
    return [(key, value) for key, value in (("count", pick.count), ("part", pick.part)) if value]


def total_so_far(pieces: Sequence[Piece]) -> str | None:
    """`4.6 kg`, `{P1: 300 g}`."""
    weights = [each for piece in pieces for each in piece.amounts(Dimension.MASS)]
    which = [each for piece in pieces for each in piece.which()]
    if len(weights) != 1 or len(which) > 1:
        return None
    if not which or which[0].everyone:
        return weights[0].text
    return braced([(which[0].ids[0], weights[0].text)]) if len(which[0].ids) == 1 else None
