"""What happens to plants as such: `sow`, `sprouted`, `thin_to`, `transplant`, `lost`, `move`, `end`."""

from __future__ import annotations

import re
from dataclasses import replace

from sitegen.core.findings.finding import Findings
from sitegen.core.format.fields import Field
from sitegen.core.language.text import did_you_mean
from sitegen.core.records.rows import Deed, Ending, SeedlingCount, Sowing, Thinning, Which
from sitegen.core.values.quantity import Quantity, counted, unknown
from sitegen.core.values.units import Dimension
from sitegen.ingest.log.shapes import parts_of, scalars_of, which_in
from sitegen.ingest.log.visit import Visit
from sitegen.ingest.values.normalize import out_of, with_digits, with_flags
from sitegen.ingest.values.plants import parse_which
from sitegen.ingest.values.quantities import parse_quantity, parse_whole
from sitegen.ingest.values.quantity_errors import UNKNOWN
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Scalar, expect_mapping, expect_scalar
from sitegen.ingest.yaml.typed_fields import read_fields

_SEEDS = re.compile(
    r"(?P<flag>about |at least )?(?P<low>\d+)(?:\s*[-–]\s*(?P<high>\d+))?(?P<plus>\+)?\s*(?P<mode>a spot|in all)?"
)
_A_SPOT = re.compile(
    r"\s*(?:(?:a|an|per|each|in each|in every|to a|/)\s*(?:cup|pot|hole|cell|plug|spot|site|plant)|each)$"
)
_IN_ALL = re.compile(r"\s*(?:in total|total|altogether|overall)$")
_PART_OF = re.compile(r"(?P<part>.*\d\+?) of (?P<whole>\d+)")


def read_sow(node: Node, field: Field, visit: Visit) -> None:
    """`3 a spot`, `18 in all`, `{plants: P3, seeds: 4 a spot}`, `{P1: 3, P2: 2}`."""
    for part in parts_of(node, field, visit):
        if part.fields is not None:
            which = part.which or which_in(part.fields, visit)
            value: Scalar | None = part.fields.scalar("seeds")
        else:
            which = part.which or visit.names.everyone()
            value = (
                expect_scalar(part.value, "sow", visit.findings, example="3 a spot") if part.value else None
            )
        if which is not None and value is not None:
            _add_seeds(value, which, visit)


def _add_seeds(scalar: Scalar, which: Which, visit: Visit) -> None:
    if scalar.text in UNKNOWN or scalar.text == "some":
        _sown(scalar, which, visit, unknown(Dimension.COUNT))
        return
    match = _SEEDS.fullmatch(scalar.text)
    if match is None:
        visit.findings.add(
            "not-a-count",
            scalar.source,
            f"`{scalar.text}` is not a number of seeds",
            mend=_seeds_hint(scalar.text),
            found=scalar.text,
            expected="seeds a spot, or in all",
        )
        _sown(scalar, which, visit, unknown(Dimension.COUNT))  # sown all the same
        return
    several = len(which.ids) != 1
    if several and not match["mode"]:
        visit.findings.add(
            "count-of-what",
            scalar.source,
            f"`{scalar.text}` seeds in each spot, or in all?",
            mend=f"write `{scalar.text} a spot` or `{scalar.text} in all`",
            found=scalar.text,
            expected="`a spot` or `in all`",
        )
        _sown(scalar, which, visit, unknown(Dimension.COUNT))  # sown all the same
        return
    each = match["mode"] == "a spot" or not several
    _sown(scalar, which, visit, _count(match), each=each)


def _sown(scalar: Scalar, which: Which, visit: Visit, seeds: Quantity, *, each: bool = False) -> None:
    visit.add(Sowing(Deed.SOW, visit.day, visit.entry, scalar.source, which, seeds=seeds, each=each))


def _seeds_hint(text: str) -> str:
    """What to write for a text that is no number of seeds."""
    meant = with_flags(with_digits(text.strip()))
    meant = re.sub(r"\s*(?:seeds?)\b", "", meant)
    meant = re.sub(
        r"\s*(?:a|an|per|each|in each|in every|to a|/)\s*(?:cup|pot|hole|cell|plug|spot|site|plant)$",
        " a spot",
        meant,
    )
    meant = re.sub(r"\s*(?:each)$", " a spot", meant)
    meant = re.sub(r"\s*(?:in total|total|altogether|overall)$", " in all", meant)
    match = _SEEDS.fullmatch(meant)
    if match is None or meant == text:
        return "write `sow: 3 a spot`, `sow: 18 in all` or `sow: unmeasured`"
    return (
        f"write `sow: {meant}`" if match["mode"] else f"write `sow: {meant} a spot` or `sow: {meant} in all`"
    )


def _count(match: re.Match[str]) -> Quantity:
    low, high = int(match["low"]), int(match["high"] or match["low"])
    quantity = replace(counted(low), high=float(high), about=match["flag"] == "about ")
    return replace(quantity, high=None, open=1) if match["plus"] or match["flag"] == "at least " else quantity


def read_sprouted(node: Node, field: Field, visit: Visit) -> None:
    """`16 of 18`, `16`, `all`, `every spot`, `some`, `none`, `{P1: 3, P2: 2}`: counted from the sowing on."""
    for scalar, which in scalars_of(node, field, visit):
        _add_sprouted(scalar, which, visit)


def _add_sprouted(scalar: Scalar, which: Which, visit: Visit) -> None:
    words: dict[str, Quantity | None] = {
        "all": None,
        "every spot": replace(counted(len(which.ids)), high=None, open=1),
        "some": replace(counted(1), high=None, open=1),
        "none": counted(0),
    }
    if scalar.text in words:
        _up(scalar, which, visit, words[scalar.text], what=scalar.text)
        return
    match = _PART_OF.fullmatch(scalar.text)
    part = match["part"] if match else scalar.text
    number = parse_quantity(Scalar(part, scalar.source), Dimension.COUNT, Findings(), "sprouted")
    if number is not None:
        _up(scalar, which, visit, number, out_of=int(match["whole"]) if match else None)
        return
    visit.findings.add(
        "not-a-count",
        scalar.source,
        f"`{scalar.text}` is not a number of seedlings",
        mend=_sprouted_hint(scalar.text),
        found=scalar.text,
        expected="a number of seedlings",
    )


def _up(
    scalar: Scalar,
    which: Which,
    visit: Visit,
    number: Quantity | None,
    *,
    what: str = "",
    out_of: int | None = None,
) -> None:
    at = visit.day, visit.entry, scalar.source
    visit.add(SeedlingCount(Deed.SPROUTED, *at, which, what=what, seedlings=number, out_of=out_of))


def _sprouted_hint(text: str) -> str:
    """What to write for a text that is no number of seedlings."""
    meant = out_of(text) or with_flags(with_digits(text))
    if meant != text and re.fullmatch(r"(?:about )?\d+(?: of \d+)?", meant):
        return f"write `sprouted: {meant}`"
    return "write `sprouted: 16 of 18`, `sprouted: all`, `sprouted: every spot` or `sprouted: {P1: 3}`"


def read_thin(node: Node, field: Field, visit: Visit) -> None:
    """`1`, or `{single: 1, pair: 2}`: at most so many are left in a spot."""
    for scalar, which in scalars_of(node, field, visit):
        number = parse_whole(scalar, visit.findings, field.key)
        if number is not None:
            visit.add(Thinning(Deed.THIN, visit.day, visit.entry, scalar.source, which, left=counted(number)))


def read_plants(node: Node, field: Field, visit: Visit) -> None:
    """The plants that something was done to: `transplant`."""
    which = parse_which(node, visit.names, visit.findings, field.key)
    if which is not None:
        visit.act(Deed(field.key), node.source, which)


def read_lost(node: Node, field: Field, visit: Visit) -> None:
    """`{P5: snapped while cutting}`, `P5`, `[P1, P2]`, `2 of 6`."""
    if not isinstance(node, Mapping):
        read_plants(node, field, visit)
        return
    for part in parts_of(node, field, visit):
        if part.value is None or part.which is None or part.key is None:
            continue
        why = expect_scalar(part.value, part.key.text, visit.findings, example="snapped while cutting")
        if why is not None:
            visit.act(Deed.LOST, part.key.source, part.which, what="" if why.absent else why.text)


def read_move(node: Node, field: Field, visit: Visit) -> None:
    """`{P3: right}`: the plant keeps its id, the new tub counts from here."""
    mapping = expect_mapping(node, "move", visit.findings, example=field.example)
    for pair in mapping or ():
        which = parse_which(pair.key, visit.names, visit.findings, "move")
        tub = expect_scalar(pair.value, pair.key.text, visit.findings, example="right")
        if which is None or tub is None:
            continue
        if not visit.tub_named(tub.text):
            visit.findings.add(
                "unknown-plant",
                tub.source,
                f"`{tub.text}` is not a tub of this experiment",
                mend=did_you_mean(tub.text, visit.names.tubs)
                if visit.names.tubs
                else "name the tubs of the experiment under `tubs:`",
                found=tub.text,
                expected=", ".join(visit.names.tubs),
            )
            continue
        visit.act(Deed.MOVE, pair.key.source, which, tub=tub.text)


def read_end(node: Node, field: Field, visit: Visit) -> None:
    """`{why: slow now, plants: kept}`, or only why."""
    if isinstance(node, Items):
        expect_mapping(node, "end", visit.findings, example=field.example)
        return
    if isinstance(node, Scalar) and node.text in ("kept", "cleared"):
        visit.findings.add(
            "wrong-type",
            node.source,
            f"`end: {node.text}` says what became of the plants, not why it ended",
            mend=f"write `end: {{plants: {node.text}}}`",
            found=node.text,
        )
        return
    if isinstance(node, Scalar):
        visit.add(Ending(Deed.END, visit.day, visit.entry, node.source, what=node.text))
        return
    fields = read_fields(node, "end", visit.findings)
    plants = fields.choice("plants")
    kept = None if not plants else plants == "kept"
    visit.add(Ending(Deed.END, visit.day, visit.entry, node.source, what=fields.text("why"), kept=kept))
