"""Events in the life of plants: `sow`, `sprouted`, `thin_to`, `transplant`, `lost`, `move`, `end`, and `milestone`.

In: the value of a key of an entry. Out: events and milestone rows; `none` is data too: a stage that nobody saw that
day.
"""

from __future__ import annotations

import re
from dataclasses import replace

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Mend
from sitegen.core.findings.source import Source
from sitegen.core.format.entry import LogKey
from sitegen.core.format.fields import Field
from sitegen.core.format.spelling import meant
from sitegen.core.language.text import did_you_mean
from sitegen.core.records.rows import MilestoneRow, Which
from sitegen.core.reference.milestones import MILESTONES, milestones_of
from sitegen.core.values.quantity import Quantity, counted, unknown
from sitegen.core.values.units import Dimension
from sitegen.ingest.log.visit import Visit, parts_of, scalars_of, which_in
from sitegen.ingest.values.normalize import out_of, with_digits, with_flags, with_signs, without_quotes
from sitegen.ingest.values.plants import parse_tub, parse_which
from sitegen.ingest.values.quantities import parse_quantity, parse_whole
from sitegen.ingest.values.quantity_errors import without_size
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Scalar, expect_mapping, expect_scalar
from sitegen.ingest.yaml.typed_fields import read_fields

_SEEDS = re.compile(
    r"(?P<flag>about |at least )?(?P<low>\d{1,9})(?:\s*[-–]\s*(?P<high>\d{1,9}))?(?P<plus>\+)?\s*(?P<mode>a spot|in all)?"
)
_A_SPOT = re.compile(
    r"(?<!\s)\s*+(?:(?:a|an|per|each|in each|in every|to a|/)\s*(?:cup|pot|hole|cell|plug|spot|site|plant)|each)$",
    re.IGNORECASE,
)
_IN_ALL = re.compile(r"(?<!\s)\s*+(?:in total|total|altogether|overall)$", re.IGNORECASE)
_PART_OF = re.compile(r"(?P<part>.*\d\+?) of (?P<whole>\d+)")


def read_sow(node: Node, key: LogKey, visit: Visit) -> None:
    """`3 a spot`, `18 in all`, `{plants: P3, seeds: 4 a spot}`, `{P1: 3, P2: 2}`."""
    for part in parts_of(node, key, visit):
        if part.fields is not None:
            which = part.which or which_in(part.fields, visit)
            text = part.fields.scalar("seeds")
        elif part.value is not None:
            which = part.which or visit.names.everyone()
            text = expect_scalar(part.value, key.key, visit.findings, example=key.example)
        else:
            continue
        if which is not None and text is not None:
            seeds, each = _seeds(text, which, visit)
            visit.record(key, text.source, which, seeds=seeds, each=each)


def _seeds(scalar: Scalar, which: Which, visit: Visit) -> tuple[Quantity, bool]:
    """The number of seeds, and whether it is that of each spot; they were sown also where it cannot be read."""
    text, several = scalar.text, len(which.ids) != 1
    match = _SEEDS.fullmatch(text) or _SEEDS.fullmatch(_seeds_in_format(text))
    if match and (match["mode"] or not several):
        return _count(match), match["mode"] == "a spot" or not several
    if match:
        number = text if _SEEDS.fullmatch(text) else _seeds_in_format(text)
        message = f"`{text}` seeds in each spot, or in all?"
        mend = f"write `{number} a spot` or `{number} in all`"
        scalar.report(visit.findings, "count-of-what", message, mend, "`a spot` or `in all`")
    elif (sizeless := without_size(text, Dimension.COUNT)) is not None:
        return sizeless, False
    else:
        message = f"`{text}` is not a number of seeds"
        scalar.report(visit.findings, "not-a-count", message, _seeds_hint(scalar), "seeds a spot, or in all")
    return unknown(Dimension.COUNT), False


def _seeds_in_format(text: str) -> str:
    """`three seeds per cup` as `3 a spot`."""
    plain = with_signs(with_digits(without_quotes(text.strip()).strip()))
    plain = re.sub(r"(?<!\s)\s*+(?:seeds?)\b", "", plain)
    plain = re.sub(r"(\d)\s*(?:to|or)\s*(\d)", r"\1-\2", plain)
    return _IN_ALL.sub(" in all", _A_SPOT.sub(" a spot", plain))


def _seeds_hint(scalar: Scalar) -> str | Mend:
    """The mend for a text that is no number of seeds: a flag may be misspelt."""
    plain = with_flags(_seeds_in_format(scalar.text))
    match = _SEEDS.fullmatch(plain)
    if match is None or plain == scalar.text:
        return "write how many, such as `sow: 3 a spot`, `sow: 18 in all` or `sow: unmeasured`"
    whole = f"`sow: {plain} a spot` or `sow: {plain} in all`"
    return scalar.written(plain, key="sow") if match["mode"] else f"write {whole}"


def _count(match: re.Match[str]) -> Quantity:
    low, high = int(match["low"]), int(match["high"] or match["low"])
    quantity = replace(counted(low), high=float(high), about=match["flag"] == "about ")
    return replace(quantity, high=None, open=1) if match["plus"] or match["flag"] == "at least " else quantity


def read_sprouted(node: Node, key: LogKey, visit: Visit) -> None:
    """`16 of 18`, `16`, `all`, `every spot`, `some`, `none`, `{P1: 3, P2: 2}`: counted from the sowing on."""
    for scalar, which in scalars_of(node, key, visit):
        text = without_quotes(scalar.text.strip()).strip()
        text = text.lower() if text.lower() in _SPROUTED_WORDS else out_of(text) or text
        words: dict[str, Quantity | None] = {
            "all": None,
            "every spot": replace(counted(len(which.ids)), high=None, open=1),
            "some": replace(counted(1), high=None, open=1),
            "none": counted(0),
        }
        text = _SPROUTED_WORDS.get(text, text)
        if text in words:
            visit.record(key, scalar.source, which, what=text, seedlings=words[text])
            continue
        match = _PART_OF.fullmatch(text)
        part = Scalar(match["part"] if match else text, scalar.source)
        number = parse_quantity(part, Dimension.COUNT, Findings(), key.key)
        if number is not None:
            whole = int(match["whole"]) if match else None
            visit.record(key, scalar.source, which, seedlings=number, out_of=whole)
            continue
        message, mend = f"`{scalar.text}` is not a number of seedlings", _sprouted_hint(scalar)
        scalar.report(visit.findings, "not-a-count", message, mend, "a number of seedlings")


_SPROUTED_WORDS = {
    **dict.fromkeys(("all", "all of them"), "all"),
    **dict.fromkeys(("every spot", "each spot", "at least one in every spot"), "every spot"),
    **dict.fromkeys(("some", "a few", "several", "some of them"), "some"),
    **dict.fromkeys(("none", "none yet", "not yet", "nothing yet"), "none"),
}


def _sprouted_hint(scalar: Scalar) -> str | Mend:
    """The mend for a text that is no number of seedlings."""
    text = scalar.text
    meant = out_of(text) or with_flags(with_digits(text))
    if meant != text and re.fullmatch(r"(?:about )?\d+(?: of \d+)?", meant):
        return scalar.written(meant, key="sprouted")
    return "write how many, such as `sprouted: 16 of 18`, `sprouted: all`, `sprouted: every spot` or `sprouted: {P1: 3}`"


def read_thin(node: Node, key: LogKey, visit: Visit) -> None:
    """`1`, or `{single: 1, pair: 2}`: at most so many are left in a spot."""
    for scalar, which in scalars_of(node, key, visit):
        if without_size(scalar.text, Dimension.COUNT) is not None:
            visit.record(key, scalar.source, which)
            continue
        number = parse_whole(scalar, visit.findings, key.key)
        if number is not None:
            visit.record(key, scalar.source, which, left=counted(number))


def read_plants(node: Node, key: LogKey, visit: Visit) -> None:
    """The plants that something was done to: `transplant`."""
    which = parse_which(node, visit.names, visit.findings, key.key)
    if which is not None:
        visit.record(key, node.source, which)


def read_lost(node: Node, key: LogKey, visit: Visit) -> None:
    """`{P5: snapped while cutting}`, `P5`, `[P1, P2]`, `2 of 6`."""
    if not isinstance(node, Mapping):
        read_plants(node, key, visit)
        return
    for part in parts_of(node, key, visit):
        if part.value is None or part.which is None or part.key is None:
            continue
        why = expect_scalar(part.value, part.key.text, visit.findings, example="snapped while cutting")
        if why is not None:
            visit.record(key, part.key.source, part.which, what="" if why.absent else why.text)


def read_move(node: Node, key: LogKey, visit: Visit) -> None:
    """`{P3: right}`: the plant keeps its id, the new tub counts from here."""
    for pair in expect_mapping(node, key.key, visit.findings, example=key.example) or ():
        which = parse_which(pair.key, visit.names, visit.findings, key.key)
        tub = expect_scalar(pair.value, pair.key.text, visit.findings, example="right")
        if which is None or tub is None:
            continue
        if_one = "name the tubs of the experiment under `tubs:`"
        if name := parse_tub(tub, visit.names, visit.findings, if_one):
            visit.record(key, pair.key.source, which, tub=name)


def read_end(node: Node, key: LogKey, visit: Visit) -> None:
    """`{why: slow now, plants: kept}`, or only why."""
    if isinstance(node, Items):
        expect_mapping(node, key.key, visit.findings, example=key.example)
    elif isinstance(node, Mapping):
        fields = read_fields(node, key.table, visit.findings)
        plants = fields.choice("plants")
        visit.record(key, node.source, what=fields.text("why"), kept=plants == "kept" if plants else None)
    elif node.text in ("kept", "cleared"):
        message = f"`end: {node.text}` says what became of the plants, not why it ended"
        mend = node.turned_into(f"{{plants: {node.text}}}", key="end")
        node.report(visit.findings, "wrong-type", message, mend)
    else:
        visit.record(key, node.source, what=node.text)


def read_milestones(node: Node, field: Field, visit: Visit) -> None:
    """`{rosette: 4 of 6, first_flower: none, bolting: {P5: none}}`."""
    if not isinstance(node, Mapping):
        _report_no_plants(node, field, visit)
        return
    known = milestones_of(visit.crop.kind)
    for pair in node:
        stage = meant(without_quotes(pair.key.text), known)
        if not stage:
            _report_unknown(pair.key, tuple(known), visit)
            continue
        if isinstance(pair.value, Mapping):
            _by_plant(stage, pair.value, visit)
            continue
        which = parse_which(pair.value, visit.names, visit.findings, stage)
        if which is not None:
            _add(stage, which, visit.names.everyone(), pair.value.source, visit)


def _add(stage: str, said: Which, about: Which, source: Source, visit: Visit) -> None:
    """One row: `none` is about all that could have reached the stage."""
    reached = not said.nobody
    row = MilestoneRow(stage, visit.day, visit.entry, source, said if reached else about, reached)
    visit.rows.milestones.append(row)


def _by_plant(stage: str, node: Mapping, visit: Visit) -> None:
    """`{P4: all, P5: none}`: which plants or groups have reached a stage, and which have not."""
    for pair in node:
        about = parse_which(pair.key, visit.names, visit.findings, stage)
        if about is None:
            continue
        name, word = pair.key.text, pair.value.text if isinstance(pair.value, Scalar) else ""
        if (plain := _REACHED.get(word.lower(), word.lower())) in ("all", "none"):
            said = about if plain == "all" else Which(count=0, word="none")
            _add(stage, said, about, pair.key.source, visit)
            continue
        message = f"`{name}` has reached `{stage}` or not"
        mend = f"write `{stage}: {{{name}: all}}` or `{stage}: {{{name}: none}}`"
        visit.findings.add(
            "not-a-selection", pair.value.source, message, mend=mend, found=word, expected="all | none"
        )


_REACHED = {"yes": "all", "no": "none", "not yet": "none"}


def _report_no_plants(node: Node, field: Field, visit: Visit) -> None:
    first = node.items[0] if isinstance(node, Items) and node.items else node
    stage = first.text if isinstance(first, Scalar) else "first_flower"
    message = f"`{field.key}: {stage}` does not say which plants"
    mend = f"write `{field.key}: {{{stage}: P1}}`, `{{{stage}: 2 of 6}}` or `{{{stage}: all}}`"
    visit.findings.add(
        "which-plants", node.source, message, mend=mend, found=stage, expected="plants by milestone"
    )


def _report_unknown(key: Scalar, known: tuple[str, ...], visit: Visit) -> None:
    if not visit.crop.kind and any(milestone.name == key.text for milestone in MILESTONES):
        return  # the kind of the crop is a finding of crops.yaml
    message, mend = f"`{key.text}` is not a milestone", key.meant(known)
    if any(milestone.name == key.text for milestone in MILESTONES):
        message, mend = f"{message} of {visit.crop.kind} crops", did_you_mean("", known)
    key.report(visit.findings, "unknown-milestone", message, mend, ", ".join(known))
