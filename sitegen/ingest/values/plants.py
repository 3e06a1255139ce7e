"""Selections of plants: `P1`, `P1-P3`, `[P1, P4]`, a group, `all`, `none`, `2 of 6`, `some`.

In: a node and the names of the experiment. Out: a `Which`, or None and a finding. `all` and groups are the plants that
stand at that entry; plants named one by one are taken as written.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Mend
from sitegen.core.format.spelling import fitting, meant
from sitegen.core.language.text import listed
from sitegen.core.records.rows import Which
from sitegen.ingest.values.normalize import out_of
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Scalar

_LIKE_RANGE = re.compile(r"(?P<one>\S+?)\s*(?:-|–|\bto\b|\.\.++|…)\s*(?P<other>\S+)")
_LISTED = re.compile(r"\s*(?:,|&|\band\b)\s*")
_BETWEEN_ENDS = re.compile(r"\s*[-–]\s*|\s+to\s+|\s*(?:\.\.+|…)\s*")
_OF = re.compile(r"(?P<part>\d+) of (?P<whole>\d+)")


# What people write → the word of the format.
_SAME = {
    **dict.fromkeys(("every plant", "all plants", "all of them", "each plant"), "all"),
    **dict.fromkeys(("not yet", "nobody", "none of them", "none yet"), "none"),
    **dict.fromkeys(("some plants", "some of them", "several", "a few"), "some"),
}
# The same where that word may say less than what was written.
_SYNONYMS = {
    **dict.fromkeys(("each", "every", "everything"), "all"),
    **dict.fromkeys(("nothing", "no", "0"), "none"),
}
# Words that say more than `some`, or are about a number that is not known.
_ROUGHLY = ("both", "several", "a few", "many", "most", "half")


@dataclass(frozen=True, slots=True)
class PlantNames:
    """The names of an experiment, and the standing plants and their tubs at an entry."""

    plants: tuple[str, ...]
    groups: tuple[tuple[str, tuple[str, ...]], ...] = ()
    tubs: tuple[str, ...] = ()
    standing: tuple[str, ...] = ()
    tub_of: tuple[tuple[str, str], ...] = ()
    _seen: dict[str, Which | None] = field(default_factory=dict, init=False, repr=False, compare=False)

    def subject(self, word: str) -> Which | None:
        """The plants of a plant, range, group or tub by name, in any case; None for an unknown name."""
        if word not in self._seen:
            self._seen[word] = self._subject(self.name(word)) or self._spoken_range(word)
        return self._seen[word]

    def name(self, word: str) -> str:
        """The plant, group or tub that a word spells; the word itself where it is none, or one of several."""
        return meant(word, self.known) or word

    def tub(self, word: str) -> str:
        """The tub that a word spells; empty where it is none."""
        return meant(word, self.tubs)

    def _spoken_range(self, word: str) -> Which | None:
        """`p1 to p3`, `P1 - P3`: as `P1-P3`."""
        for match in _BETWEEN_ENDS.finditer(word):
            first, last = (self.name(end.strip()) for end in (word[: match.start()], word[match.end() :]))
            if found := self._range(f"{first}-{last}"):
                return found
        return None

    def _subject(self, word: str) -> Which | None:
        if word in self.plants:
            return Which((word,))
        group = dict(self.groups).get(word)
        if group is not None:
            return Which(tuple(p for p in group if p in self.standing), word=word)
        if word in self.tubs:
            inside = dict(self.tub_of)
            return Which(tuple(p for p in self.standing if inside.get(p) == word), word=word)
        return self._range(word)

    def _range(self, word: str) -> Which | None:
        """`P1-P3`. Ids may hold hyphens: the range is split where both halves are plants."""
        for match in re.finditer("[-–]", word):
            first, last = word[: match.start()], word[match.end() :]
            if first in self.plants and last in self.plants:
                start, end = self.plants.index(first), self.plants.index(last)
                if start <= end:
                    return Which(self.plants[start : end + 1], word="" if start == end else word)
        return None

    def everyone(self) -> Which:
        """All plants that stand."""
        return Which(self.standing, word="all")

    @property
    def known(self) -> tuple[str, ...]:
        """All names, for did-you-mean."""
        return (*self.plants, *(name for name, _ in self.groups), *self.tubs)

    def without(self, plants: tuple[str, ...]) -> PlantNames:
        """The names after some plants were lost."""
        return replace(self, standing=tuple(p for p in self.standing if p not in plants))

    def resown(self, plants: tuple[str, ...]) -> PlantNames:
        """The names after some spots were sown again: their lost plants stand again."""
        return replace(self, standing=tuple(p for p in self.plants if p in self.standing or p in plants))

    def moved(self, plants: tuple[str, ...], tub: str) -> PlantNames:
        """The names after some plants were moved to another tub."""
        return replace(self, tub_of=tuple((p, tub if p in plants else old) for p, old in self.tub_of))


def report_unknown(name: Scalar, names: PlantNames, findings: Findings) -> None:
    """A finding for an unknown name."""
    word = name.text.strip()
    several = fitting(word, names.known)
    mend: str | Mend
    message, mend = f"`{word}` is not a plant, group or tub of this experiment", name.meant(names.known)
    if len(several) > 1:
        offers = listed([f"`{each}`" for each in several], "or")
        message, mend = f"`{word}` can be {offers}", f"write {offers}"
    elif span := _whole_range(word, names):
        message, mend = f"`{word}` is no range of plants", name.written(span)
    findings.add(
        "unknown-plant", name.source, message, mend=mend, found=word, expected=", ".join(names.known)
    )


def parse_tub(tub: Scalar, names: PlantNames, findings: Findings, if_one: str) -> str:
    """The tub of a text; empty and a finding where it names none. `if_one` is the mend where there is only one tub."""
    if name := names.tub(tub.text):
        return name
    message = f"`{tub.text}` is not a tub of this experiment"
    tub.report_unknown(findings, "unknown-plant", message, names.tubs, if_one)
    return ""


def parse_which(node: Node, names: PlantNames, findings: Findings, key: str) -> Which | None:
    """The plants that a node selects."""
    if isinstance(node, Items):
        return _listed(node, names, findings, key)
    if isinstance(node, Mapping):
        message = f"`{key}` wants plants, not a mapping"
        mend = f"write `{key}: [P1, P3]`, `{key}: 2 of 6`, `{key}: all` or `{key}: none`"
        findings.add("not-a-selection", node.source, message, mend=mend, found="a mapping", expected="plants")
        return None
    which = plants_named(node.text, names) or _as_said(node.text.strip(), names)
    if which is None:
        _refuse(node, names, findings, key)
    return which


def plants_named(text: str, names: PlantNames) -> Which | None:
    """The plants that a word selects; None for an unknown word."""
    text = text.strip()
    word = text.lower()
    if word == "all":
        return names.everyone()
    if word == "none":
        return Which(count=0, word="none")
    if word == "some":
        return Which(word="some")
    if match := _OF.fullmatch(text):
        return Which(count=int(match["part"]), of=int(match["whole"]))
    return names.subject(text)


def _as_said(text: str, names: PlantNames) -> Which | None:
    """The plants of `11/12`, `two of the six`, `p1 and p3` or `not yet`: of words that select nothing but plants."""
    if said := out_of(text):
        return plants_named(said, names)
    if same := _SAME.get(text.lower()):
        return plants_named(same, names)
    parts = [names.subject(part) for part in _LISTED.split(text)]
    if len(parts) > 1 and all(parts):
        return Which(tuple(dict.fromkeys(plant for part in parts if part for plant in part.ids)))
    return None


def parse_named(node: Node, names: PlantNames, findings: Findings, key: str) -> Which | None:
    """Plants by name, for keys that need each plant: groups, tubs, varieties."""
    which = parse_which(node, names, findings, key)
    if which is None or which.named:
        return which
    if not names.plants:
        return None
    first, last = names.plants[0], names.plants[-1]
    message = f"`{which}` does not say which plants; `{key}` wants them by name"
    mend, expected = f"write their names, such as `{first}-{last}` or `[{first}, {last}]`", "plants by name"
    findings.add("not-a-selection", node.source, message, mend=mend, found=str(which), expected=expected)
    return None


def _listed(node: Items, names: PlantNames, findings: Findings, key: str) -> Which | None:
    parts = [parse_which(item, names, findings, key) for item in node.items]
    for item, part in zip(node.items, parts, strict=True):
        if part is not None and not part.named:
            # `2 of 6` stands alone: beside named plants it would be ambiguous.
            message = f"`{part}` names no plants, so it cannot stand in a list"
            mend, expected = f"name the plants, or write `{key}: {part}`", "plants by name"
            findings.add(
                "not-a-selection", item.source, message, mend=mend, found=str(part), expected=expected
            )
    known = [part for part in parts if part is not None and part.named]
    if len(known) < len(parts) or not known:
        return None
    return Which(tuple(dict.fromkeys(plant for part in known for plant in part.ids)))


def _refuse(scalar: Scalar, names: PlantNames, findings: Findings, key: str) -> None:
    """A finding for a word that selects no plants, with the selection that it probably means."""
    code, expected, text = "not-a-selection", "plants", scalar.text.strip()
    mend: str | Mend
    if re.fullmatch(r"\d+", text):
        message = f"`{text}` plants of how many?"
        mend = f"write `{text} of {len(names.standing)}`, or name the plants"
    elif len(parts := name_parts(text)) > 1:
        part = next((part for part in parts if names.subject(part) is None), parts[0])
        if plants_named(part, names) is None:
            offset = scalar.text.find(part)
            report_unknown(Scalar(part, scalar.part(offset, len(part)), scalar.plain), names, findings)
            return
        message = f"`{part}` names no plants, so it cannot stand beside others"
        mend = "name the plants one by one"
    elif word := out_of(text) or _SYNONYMS.get(text.lower(), ""):
        message, mend = f"`{text}` does not say which plants", scalar.written(word)
    elif text.lower() in _ROUGHLY:
        message = f"`{text}` does not say which plants"
        mend = f"write how many, such as `{key}: 2 of {len(names.standing)}`, or `{key}: some`"
    elif span := _meant_range(text, names):
        code, expected = "reversed-range", "the first and the last plant with a hyphen between"
        message, mend = f"`{text}` is no range of plants", scalar.written(span)
    else:
        report_unknown(scalar, names, findings)
        return
    findings.add(code, scalar.source, message, mend=mend, found=text, expected=expected)


def name_parts(text: str) -> list[str]:
    """`P1`, `P2` and `P4` of `P1, P2 and P4`; a single name is one part."""
    return [
        part
        for part in re.split(r"(?<!\s)\s*+(?:,\s*+and\s|,|;|&|\+|\band\b|\bund\b)\s*+", text.strip())
        if part
    ]


_HALF_RANGE = re.compile(r"(?P<name>(?P<stem>\S*?\D)\d+)\s*(?:-|–|\bto\b)\s*(?P<number>\d+)")


def _whole_range(text: str, names: PlantNames) -> str:
    """`P1-P3` for `P1-3`; empty for any other text."""
    match = _HALF_RANGE.fullmatch(text)
    if match is None:
        return ""
    ends = [names.name(match["name"]), names.name(f"{match['stem']}{match['number']}")]
    whole = "-".join(ends)
    return whole if set(ends) <= set(names.plants) and names.subject(whole) else ""


def _meant_range(text: str, names: PlantNames) -> str:
    """`P1-P3` for `P3-P1`, `P1 - P3` and `P1 to P3`; empty for any other text."""
    match = _LIKE_RANGE.fullmatch(text)
    ends = [names.name(match[end]) for end in ("one", "other")] if match else []
    if not ends or not set(ends) <= set(names.plants):
        return ""
    return "-".join(sorted(ends, key=names.plants.index))
