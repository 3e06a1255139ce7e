"""The life of plants: `sow`, `sprouted`, `thin_to`, `transplant`, `lost`, `move`, `milestone`, `end`.

In: the pieces of a line that a rule has. Out: `RULES`; the value of a key as YAML text, or None where it is not certain.
"""

from __future__ import annotations

from collections.abc import Sequence

from sitegen.core.reference.milestones import milestones_of
from sitegen.filing.entries.entry_text import braced, text_value
from sitegen.filing.words.atoms import Kind, Piece, Rule, Which
from sitegen.filing.words.known import Known
from sitegen.filing.words.phrases import words_in


def _rule(key: str, english: str, german: str = "", value: str = "", *, weak: bool = False) -> Rule:
    """A rule by its phrases, with a stroke between two."""
    return Rule(key, tuple(english.split("|")), tuple(german.split("|")) if german else (), value, weak)


_EVENTS = (
    _rule("sow", "sowed|sown|sowing|planted seeds|seeded", "gesät|ausgesät|aussaat"),
    _rule(
        "sprouted",
        "sprouted|germinated|emerged|sprouts|seedling|seedlings|are up|is up|came up|come up|have come up|"
        "popped up|sprout|sprouting|through",
        "gekeimt|aufgelaufen|aufgegangen|keimling|keimlinge|sämling|sämlinge",
    ),
    _rule("sprouted", "up", weak=True),
    _rule("thin_to", "thinned|thinned out|thinned them", "vereinzelt|ausgedünnt"),
    _rule(
        "transplant",
        "transplanted|moved into the tub|potted up|transplanted into the tub|into the tub",
        "umgepflanzt|umgesetzt|eingesetzt|verpflanzt|ausgepflanzt|ins becken gesetzt",
    ),
    _rule(
        "lost",
        "lost|died|is dead|dead|has died|have died",
        "eingegangen|gestorben|verloren|abgestorben|tot",
    ),
    _rule("move", "moved|moved over", "umgestellt|umgezogen|verschoben"),
    _rule(
        "end",
        "end of the run|end of the experiment|ended the run|ended|the end|run ended",
        "versuch beendet|ende des versuchs|beendet",
    ),
    _rule(
        "end",
        "plants cleared|cleared the plants|cleared the tub|cleared the tubs|cleared everything",
        "pflanzen abgeräumt|alles abgeräumt|abgeräumt|becken geräumt",
        "cleared",
    ),
    _rule("end", "plants kept|kept the plants", "pflanzen behalten", "kept"),
)
# The stages of `sitegen.core.reference.milestones`, as they are said.
_STAGES = (
    (
        "seed_leaves",
        "seed leaves|seed leaf|cotyledons|seed leaves open",
        "keimblätter|keimblatt|keimblätter offen",
    ),
    (
        "first_true_leaf",
        "first true leaf|true leaf|true leaves|first true leaves|first real leaf",
        "erstes echtes blatt|echte blätter|erste echte blätter|laubblätter|erstes laubblatt",
    ),
    ("rosette", "rosette|rosettes|formed a rosette", "rosette|rosetten"),
    ("full_rosette", "full rosette|full rosettes", "volle rosette|volle rosetten"),
    (
        "side_shoots",
        "side shoots|side shoot|first side shoots|branching",
        "seitentriebe|seitentrieb|geiztriebe",
    ),
    (
        "head_start",
        "heading|heading up|head forming|heads forming|begun a head",
        "kopfbildung|bildet einen kopf",
    ),
    ("head_full", "full head|full heads|head is full", "voller kopf|volle köpfe"),
    ("head_loose", "head coming loose|head is loose|heads coming loose", "kopf wird locker"),
    (
        "root_swelling",
        "root swelling|roots swelling|root fills out|bulbing",
        "wurzel verdickt|knollenbildung",
    ),
    ("full_root", "full root|full roots|full size root", "volle wurzel|volle knolle"),
    ("bolting", "bolting|bolted|going to seed|running up", "schießt|schosst|geschossen|schossen|schießen"),
    (
        "flower_bud",
        "flower bud|flower buds|bud|buds|first bud|first buds|first flower bud|first flower buds",
        "knospe|knospen|erste knospe|erste knospen|blütenknospe|blütenknospen",
    ),
    (
        "first_flower",
        "first flower|first flowers|flower|flowers|flowering|in flower|in bloom|blooming|flowered|blossom|first bloom",
        "erste blüte|erste blüten|blüte|blüten|blüht|blühen|in blüte|aufgeblüht",
    ),
    (
        "first_fruit",
        "first fruit|first fruits|fruit set|set fruit|fruit setting|first tomato|first tomatoes|fruit",
        "erste frucht|erste früchte|fruchtansatz|früchte angesetzt|erste tomate|frucht angesetzt",
    ),
    ("first_pod", "first pod|first pods|pods", "erste hülse|erste hülsen|erste schote|erste schoten"),
    ("full_pod", "full pods|full pod", "volle hülsen|volle schoten"),
    (
        "first_colour",
        "first colour|first color|turning colour|turning color|turning|changing colour|colouring|first fruit turning",
        "verfärbt|verfärbt sich|färbt sich|erste farbe|wird rot|wird orange",
    ),
    (
        "ripe",
        "ripe|ripe fruit|ripe fruits|first ripe fruit|first ripe|first ripe one|ripe tomatoes|ripened",
        "reif|reife|erste reife|reife frucht|reife früchte|erste reife frucht|ausgereift",
    ),
)
RULES = (*_EVENTS, *(_rule("milestone", english, german, stage) for stage, english, german in _STAGES))
# The words with which the reason of a loss begins, in a part of a sentence of its own.
REASONS = words_in(
    "snapped broke broken damped damping rotted rotten rot dried wilted eaten knocked because after while "
    "fell drowned abgebrochen umgefallen umgeknickt vertrocknet verfault verwelkt gefressen weil nachdem "
    "ertrunken"
)
SEEDS = words_in("seed seeds samen korn körner saatkörner plant pflanze seedling sämling to auf")


def sow(pieces: Sequence[Piece]) -> str | None:
    """`3 a spot`, `18 in all`, `{plants: P3, seeds: 4 a spot}`."""
    numbers = [each for piece in pieces for each in piece.numbers()]
    spot, whole = (any(piece.marked(name) for piece in pieces) for name in ("a spot", "in all"))
    which = _which(pieces)
    if len(numbers) != 1 or not numbers[0].whole or spot == whole or len(which) > 1:
        return None
    text = f"{numbers[0].text} {'a spot' if spot else 'in all'}"
    if which and not which[0].everyone:
        return braced([("plants", which[0].text), ("seeds", text)])
    return text


def _which(pieces: Sequence[Piece]) -> list[Which]:
    return [which for piece in pieces for which in piece.which()]


def sprouted(pieces: Sequence[Piece]) -> str | None:
    """`5 of 8`, `all`, `none`, `{P1: 2, P3: 1}`."""
    found = [_seedlings(piece) for piece in pieces]
    if len(found) == 1 and found[0] is not None and not found[0][0]:
        return found[0][1]
    pairs: list[tuple[str, str]] = []
    for each in found:
        if each is None or not each[0]:
            return None
        pairs += [(name, each[1]) for name in each[0]]
    return braced(pairs) if len(dict(pairs)) == len(pairs) else None


def _seedlings(piece: Piece) -> tuple[tuple[str, ...], str] | None:
    """The plants that a count is about, none for all; and the count."""
    which, numbers, shares = piece.which(), piece.numbers(), piece.shares()
    if len(which) > 1 or len(numbers) + len(shares) > 1:
        return None
    about = which[0] if which else Which((), "all")
    names = () if about.everyone else about.ids
    if piece.denied:
        return (names, "none") if not numbers and not shares else None
    if shares or numbers:
        text = f"{shares[0][0]} of {shares[0][1]}" if shares else numbers[0].text
        return (names, text) if shares or numbers[0].whole else None
    if about.word and not about.everyone and not about.ids:
        return (), about.word
    usual = "some" if names or not which else "all"
    return names, "every spot" if piece.marked("every spot") else usual


def thin_to(pieces: Sequence[Piece]) -> str | None:
    """`1`, `{P1: 1}`."""
    numbers = [each.text for piece in pieces for each in piece.numbers()]
    if not numbers and len(pieces) == 1 and _ONE & set(pieces[0].text.lower().split()):
        numbers = ["1"]
    which = _which(pieces)
    if len(numbers) != 1 or not numbers[0].isdecimal() or len(which) > 1:
        return None
    if not which or which[0].everyone:
        return numbers[0]
    return braced([(name, numbers[0]) for name in which[0].ids or (which[0].word,)])


_ONE = {"a", "eine", "einen"}


def transplant(pieces: Sequence[Piece]) -> str | None:
    """`all`, where no plants are named; else these."""
    which = list(dict.fromkeys(_which(pieces)))
    return (which[0].text if which else "all") if len(which) < 2 else None


def move(pieces: Sequence[Piece], known: Known) -> str | None:
    """`{P3: right}`."""
    which = _which(pieces)
    tubs = [atom.name for piece in pieces for atom in piece.atoms if atom.kind is Kind.TUB and atom.name]
    if len(which) != 1 or len(tubs) != 1 or not known.tubs or not which[0].ids:
        return None
    return braced([(plant, tubs[0]) for plant in which[0].ids])


def milestone(pieces: Sequence[Piece], known: Known) -> str | None:
    """`{first_flower: P2}`, `{rosette: none}`; plants that are not named are `some`."""
    stages = milestones_of(known.crop_kind)
    found: dict[str, list[tuple[Which, bool]]] = {}
    last = ""
    for piece in pieces:
        stage, which, shares = piece.value or last, piece.which(), piece.shares()
        if stage not in stages or len(which) + len(shares) > 1:
            return None
        said = which[0] if which else Which((), f"{shares[0][0]} of {shares[0][1]}" if shares else "")
        found.setdefault(stage, []).append((said, piece.denied))
        last = stage
    values = [(stage, _reached(each)) for stage, each in found.items()]
    return braced([(stage, value) for stage, value in values if value]) if all(v for _, v in values) else None


def _reached(said: Sequence[tuple[Which, bool]]) -> str | None:
    """The plants at a stage, or `none` of them."""
    if len(said) == 1:
        which, denied = said[0]
        named = bool(which.text_or_ids) and not which.everyone
        if not denied:
            return which.text if which.text_or_ids else "some"
        if not named:
            return "none"
        return braced([(name, "none") for name in which.ids]) if which.ids else None
    if all(which.ids for which, _ in said):
        if not any(denied for _, denied in said):
            return Which(tuple(dict.fromkeys(name for which, _ in said for name in which.ids))).text
        pairs = [(name, "none" if denied else "all") for which, denied in said for name in which.ids]
        return braced(pairs) if len(dict(pairs)) == len(pairs) else None
    return None


def lost(pieces: Sequence[Piece], reason: str) -> str | None:
    """`P4`, `{P4: snapped at the base}`."""
    which = _which(pieces)
    if len(which) != 1 or which[0].everyone or not which[0].text_or_ids:
        return None
    if not reason:
        return which[0].text
    return (
        braced([(name, text_value(reason, braced=True)) for name in which[0].ids]) if which[0].ids else None
    )


def end(pieces: Sequence[Piece], reason: str) -> str:
    """`{why: slow now, plants: kept}`."""
    plants = next((piece.value for piece in pieces if piece.value), "")
    pairs = [("why", text_value(reason, braced=True))] if reason else []
    return braced([*pairs, ("plants", plants)]) if plants else text_value(reason)
