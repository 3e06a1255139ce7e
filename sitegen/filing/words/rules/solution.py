"""Water, feed, acids and bases: `water`, `feed`, `adjust`.

In: the pieces of a line that a rule has. Out: `RULES`; the value of a key as YAML text, or None where it is not certain.
"""

from __future__ import annotations

from collections.abc import Sequence

from sitegen.core.language.number_words.tokens import tokens_of
from sitegen.core.values.units import Dimension
from sitegen.filing.entries.entry_text import braced
from sitegen.filing.words.atoms import Kind, Piece, Rule
from sitegen.filing.words.common_words import FILLERS
from sitegen.filing.words.known import Known
from sitegen.filing.words.rules.readings import by_tubs

D = Dimension

RULES = (
    Rule(
        "water",
        (
            *(
                "filled",
                "filled it",
                "filled up",
                "filled it up",
                "filled them up",
                "refilled",
                "refilled it",
            ),
            *("filled the tub", "filled to the top", "filled the reservoir", "filled up the tub"),
            *("filled up the reservoir", "filled the tub up", "tub filled", "tub filled up"),
        ),
        (
            *("aufgefüllt", "wasser aufgefüllt", "becken aufgefüllt", "gefüllt"),
            *("voll gemacht", "vollgemacht", "befüllt"),
        ),
        "filled",
    ),
    # Not to the brim, unless it is said.
    Rule(
        "water",
        (
            *("topped up", "topped it up", "topped off", "topped it off"),
            *("topped up the tub", "topped up with", "topped up the water"),
        ),
        ("nachgefüllt", "wasser nachgefüllt"),
        "topped up",
    ),
    Rule(
        "water",
        ("changed the water", "water changed", "water change", "new water", "changed water", "fresh water"),
        ("wasser gewechselt", "wasserwechsel", "neues wasser", "wasser getauscht", "lösung gewechselt"),
        "changed",
    ),
    Rule(
        "water",
        ("watered", "watered it", "watered them", "added water", "gave water", "of water", "water added"),
        ("gegossen", "wasser gegeben", "bewässert", "wasser zugegeben", "gewässert"),
        "unmeasured",
    ),
    Rule(
        "feed",
        ("fed", "fed it", "fed them", "feed", "fertilised", "fertilized", "nutrients"),
        ("gedüngt", "dünger gegeben", "dünger", "nährstoffe"),
    ),
    Rule("adjust", ("adjusted", "adjust", "adjusted with"), ("eingestellt", "korrigiert")),
)
_LARGE = ("L", "gal", "qt")  # units in which water is said, and no feed


def water(pieces: Sequence[Piece], known: Known) -> str | None:
    """`2 L`, `filled`, `changed to 11 L`, `unmeasured`, `{left: 2 L}`."""
    by_tub: dict[str, str] = {}
    change = any(piece.value == "changed" for piece in pieces)
    words = {piece.value for piece in pieces if piece.value and piece.value != "unmeasured"}
    if len(words) > 1:
        return None
    amounts = [each for piece in pieces for each in piece.amounts(D.VOLUME)]
    for piece in pieces:
        tubs = [atom for atom in piece.atoms if atom.kind is Kind.TUB]
        volumes = piece.amounts(D.VOLUME)
        if len(volumes) > 1:
            return None
        if not volumes and amounts and not tubs:
            continue  # its amount stands in the next part of the sentence
        text = _water_text(volumes[0].text if volumes else "", next(iter(words), "unmeasured"), change=change)
        names = known.tubs if any(tub.value == "all" for tub in tubs) else [tub.name for tub in tubs] or [""]
        if any(name in by_tub for name in names):
            return None
        by_tub |= dict.fromkeys(names, text)
    return None if not by_tub or (known.tubs and "" in by_tub) else by_tubs(by_tub)


def _water_text(amount: str, word: str, *, change: bool) -> str:
    if not amount:
        return word
    return f"changed to {amount}" if change else amount


def is_water(piece: Piece) -> bool:
    """Whether an amount alone is water: litres and gallons are."""
    amounts = piece.amounts(D.VOLUME)
    return len(amounts) == 1 and amounts[0].unit in _LARGE


def doses(key: str, pieces: Sequence[Piece], known: Known) -> str | None:
    """`{leaf-mix: 20 ml}`: each product with its dose; the tub of all where there are several."""
    found: list[tuple[str, str]] = []
    waiting: list[str] = []
    tubs = [atom for piece in pieces for atom in piece.atoms if atom.kind is Kind.TUB]
    for piece in pieces:
        products = [atom.name for atom in piece.atoms if atom.kind is Kind.PRODUCT]
        amounts = [each.text for each in piece.amounts(D.VOLUME, D.VOLUME_DOSE, D.MASS)]
        if piece.marked("as labelled"):
            amounts.append("as labelled")
        waiting += products
        if not amounts:
            continue
        if len(amounts) == 1 and len(waiting) > 1 and not piece.marked("each"):
            return None
        if len(amounts) == len(waiting):
            found += zip(waiting, amounts, strict=True)
        elif len(amounts) == 1 and waiting:
            found += [(name, amounts[0]) for name in waiting]
        else:
            lone = _lone(key, known)
            if waiting or len(amounts) != 1 or not lone or _names_another(piece):
                return None
            found.append((lone, amounts[0]))
        waiting = []
    names = [name for name, _ in found]
    if waiting or not found or len(set(names)) < len(names) or len(tubs) > 1 or (known.tubs and not tubs):
        return None
    return braced([(tubs[0].name, braced(found))]) if tubs else braced(found)


def _names_another(piece: Piece) -> bool:
    """Whether words that nobody knows stand between the word of the rule and the amount: they may be a product."""
    amount = next((atom for atom in piece.atoms if atom.kind is Kind.AMOUNT), None)
    if (
        piece.cue is None
        or amount is None
        or any(atom.kind in (Kind.WHICH, Kind.TUB) for atom in piece.atoms)
    ):
        return False
    begin = piece.cue.after - piece.cue.first
    between = tokens_of(piece.text)[begin : begin + amount.first - piece.cue.after]
    return any(token.word[0].isalpha() and token.word not in FILLERS for token in between)


def _lone(key: str, known: Known) -> str:
    """The product of a kind, where there is one."""
    found = [name for name, _, kind in known.products if key_of_product(kind) == key]
    return found[0] if len(found) == 1 else ""


def key_of_product(kind: str) -> str:
    """The key under which a kind of product stands."""
    return {"acid": "adjust", "base": "adjust", "treatment": "treat"}.get(kind, "feed")
