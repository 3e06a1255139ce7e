"""A line as spoken → fields of an entry, and a note of the rest.

In: a line, `Known`. Out: `Understood`. A part of a sentence that holds a doubt (`maybe`, `tomorrow`, `P1 or P2`) or that
can be read in two ways goes into the note as it was said; so do the words that no rule takes.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import NamedTuple

from sitegen.core.values.units import Dimension
from sitegen.filing.words import common_words as common
from sitegen.filing.words.atoms import Atom, Kind, Piece, Rule
from sitegen.filing.words.known import Known, Understood
from sitegen.filing.words.line import Line, line_of
from sitegen.filing.words.rules import deeds, growth, picks, readings, solution
from sitegen.filing.words.sentences import WANTED, Part, is_of_plants, parts_of, rest, runs

D = Dimension


def understood(text: str, known: Known) -> Understood:
    """The fields of a line by the rules."""
    line = line_of(text.strip(), known)
    reader = _Reader(line, known, parts_of(line))
    for part in reader.parts:
        reader.take(part)
    return reader.result()


# A key whose value holds the words themselves takes its part whole; the first of these that is there does.
_WHOLE = ("lost", "end", "treat", *deeds.TEXTS[:4], "taste", "trouble")


class _Taken(NamedTuple):
    """A piece that a key took, with its part and the atoms that are not left over."""

    piece: Piece
    part: Part
    atoms: tuple[Atom, ...]


class _Reader:
    """Reads the parts of a line in order."""

    def __init__(self, line: Line, known: Known, parts: tuple[Part, ...]) -> None:
        self.line = line
        self.known = known
        self.parts = parts
        self.taken: dict[str, list[_Taken]] = {}
        self.words: dict[str, str] = {}  # the words of a loss, an end, a taste
        self.current = ""  # the key that the part before gave
        self.doubted = False

    # one part

    def take(self, part: Part) -> None:
        """Give a part to the rules that it has words of."""
        if self._continues_words(part):
            return
        cues = self._cues(part)
        own = any(cue.kind is Kind.CUE for cue in cues)
        if self._doubtful(part) or (self.doubted and not own and not part.opens):
            self.current, self.doubted = "", True
            return
        denied = self._denied(part)
        if denied and not self._deniable(part, cues):
            self.current, self.doubted = "", True
            return
        self.doubted = False
        whole = next((key for key in _WHOLE for cue in cues if _key(cue) == key), "")
        if whole:
            self._take_whole(whole, part, [cue for cue in cues if _key(cue) == whole])
        elif cues:
            self._share_out(part, cues, denied=denied)
        elif self.current and self._continues(part):
            atoms = self._atoms(part, self.current)
            self._add(self.current, None, part, [atom for atom in atoms if WANTED[self.current](atom)])
        else:
            self.current = self._by_unit(part)

    def _doubtful(self, part: Part) -> bool:
        if part.has(Kind.DOUBT):
            return True
        for atom in part.atoms:
            before = self.line.tokens[atom.first - 1].word if atom.first > part.first else ""
            if atom.kind in (Kind.AMOUNT, Kind.NUMBER) and before in common.DIFFERENCES:
                return True
        return False

    def _denied(self, part: Part) -> bool:
        return any(atom.kind is Kind.DENIAL and atom.name not in common.EMPHASIS for atom in part.atoms)

    def _deniable(self, part: Part, cues: Sequence[Atom]) -> bool:
        """Whether a denial is data: `not flowering yet`, `nothing up`."""
        keys = {_key(cue) for cue in cues}
        sized = any(part.has(kind) for kind in (Kind.NUMBER, Kind.AMOUNT, Kind.SHARE))
        more = any(atom.kind is Kind.MARK and atom.name == "any more" for atom in part.atoms)
        return len(cues) == 1 and keys <= {"milestone", "sprouted"} and not sized and not more

    def _cues(self, part: Part) -> list[Atom]:
        """The words of rules, as far as they count here."""
        picking = self._picking(part)
        found: list[Atom] = []
        for atom in part.atoms:
            if atom.kind is Kind.PRODUCT:
                key = solution.key_of_product(atom.value)
                if not any(_key(each) == key for each in found):
                    found.append(atom._replace(rule=Rule(key, ())))
            elif atom.kind is Kind.CUE and atom.rule is not None:
                word = self.line.words(atom.first, part.after)
                if (
                    picking
                    and atom.rule.key not in ("harvest", "total_so_far")
                    and picks.part_of(word, self.known)[0]
                ):
                    continue
                if word[:2] == ["of", "water"] and not _volume_before(part, atom):
                    continue
                cue = self._counted(part, atom) or (atom if not atom.rule.weak else self._weak(part, atom))
                found += [cue] if cue else []
        return found

    def _picking(self, part: Part) -> bool:
        keys = [atom.rule.key for atom in part.atoms if atom.rule is not None and not atom.rule.weak]
        if "harvest" in keys or any(a.rule is not None and a.rule.key == "harvest" for a in part.atoms):
            return True
        return self.current == "harvest" and not [key for key in keys if key != "milestone"]

    def _counted(self, part: Part, atom: Atom) -> Atom | None:
        """A word for pieces after a number counts them: `three flowers`."""
        before = part.before(atom)
        weak = atom.rule is not None and atom.rule.weak
        key, value = (atom.rule.key, atom.rule.value) if weak and atom.rule else (atom.name, atom.value)
        if key not in ("count", "leaves") or before is None or before.kind is not Kind.NUMBER:
            return None
        said = self.line.between(atom.first, atom.after) if key == "count" else value
        return atom._replace(rule=Rule(key, (), value=said))

    def _weak(self, part: Part, atom: Atom) -> Atom | None:
        """A word that counts only beside what it wants."""
        assert atom.rule is not None
        key, behind = atom.rule.key, part.behind(atom)
        if key == "water_temperature" and part.amounts(D.VOLUME) and not part.amounts(D.TEMPERATURE):
            others = [a for a in part.atoms if a.rule is not None and a.rule.key == "water"]
            return None if others else atom._replace(rule=Rule("water", (), value="unmeasured"))
        after = self.parts[part.number + 1 : part.number + 2]
        all_of_it = any(each.which is not None and each.which.everyone for each in part.atoms)
        kinds = [each.kind for each in behind[:2]]
        counts = {
            "leaves": kinds[:1] == [Kind.NUMBER] or kinds == [Kind.WHICH, Kind.NUMBER],
            "water_temperature": part.amounts(D.TEMPERATURE),
            "air_temperature": part.amounts(D.TEMPERATURE),
            "light": part.amounts(D.DURATION, D.LENGTH),
            "harvest": part.amounts(D.MASS) or any(each.amounts(D.MASS) for each in after),
            "sprouted": part.has(Kind.SHARE) or part.has(Kind.NUMBER) or self._denied(part) or all_of_it,
        }
        return atom if counts.get(key, False) else None

    # giving atoms to rules

    def _share_out(self, part: Part, cues: Sequence[Atom], *, denied: bool) -> None:
        """Each atom goes to the nearest rule that wants it; plants that are named once go to all."""
        atoms = self._atoms(part, "harvest" if any(_key(cue) == "harvest" for cue in cues) else "")
        given: dict[int, list[Atom]] = {number: [] for number in range(len(cues))}
        before: list[Atom] = []
        once = sum(atom.kind is Kind.WHICH for atom in atoms) == 1
        for atom in atoms:
            near = [number for number, cue in enumerate(cues) if WANTED[_key(cue)](atom)]
            if not near:
                if self.current and atom.first < cues[0].first and WANTED[self.current](atom):
                    before.append(atom)
                continue
            if not (atom.kind is Kind.WHICH and once):
                near = [min(near, key=lambda number: _distance(cues[number], atom))]
            for number in near:
                given[number].append(atom)
        if before:
            self._add(self.current, None, part, before)
        for number, cue in enumerate(cues):
            if _key(cue) == "milestone" and _number_before(part, cue):
                continue  # `four true leaves`: how many leaves is no stage
            self._add(_key(cue), cue, part, given[number], denied=denied)
        self.current = _key(cues[-1])

    def _add(
        self, key: str, cue: Atom | None, part: Part, atoms: Sequence[Atom], *, denied: bool = False
    ) -> None:
        text = self.line.between(part.first, part.after)
        piece = Piece(cue, tuple(atoms), denied, text)
        all_of_it = [*atoms, *([cue] if cue else [])]
        all_of_it += [atom for atom in part.atoms if denied and atom.kind is Kind.DENIAL]
        if key == "harvest":
            all_of_it += [a for a in self._atoms(part, key) if a.name in ("piece", "part", "count")]
        if key == "thin_to":
            words = self.line.words
            all_of_it += [a for a in part.atoms if set(words(a.first, a.after)) & growth.SEEDS]
        if key == "sow":
            all_of_it += [a for a in part.atoms if self.line.words(a.first, a.after)[0] in growth.SEEDS]
        self.taken.setdefault(key, []).append(_Taken(piece, part, tuple(all_of_it)))

    def _with_pieces(self, part: Part) -> tuple[Atom, ...]:
        """The atoms of a pick: parts of plants and numbers of pieces as marks."""
        found: list[Atom] = []
        skip = part.first
        for atom in part.atoms:
            if atom.first < skip:
                continue
            words = self.line.words(atom.first, part.after)
            name, length = picks.part_of(words, self.known) if atom.kind in (Kind.WORD, Kind.CUE) else ("", 0)
            counted = bool(found) and found[-1].kind is Kind.NUMBER and found[-1].amount is not None
            if counted and (name or words[0] in picks.PIECES) and found[-1].amount and found[-1].amount.whole:
                found[-1] = found[-1]._replace(kind=Kind.MARK, name="count", value=found[-1].amount.number)
            if name or (counted and words[0] in picks.PIECES):
                skip = atom.first + max(length, 1)
                mark = "part" if name else "piece"
                found.append(Atom(Kind.MARK, atom.first, skip, name=mark, value=name))
                continue
            found.append(atom)
        return tuple(found)

    def _atoms(self, part: Part, key: str) -> tuple[Atom, ...]:
        return self._with_pieces(part) if key == "harvest" else part.atoms

    def _continues(self, part: Part) -> bool:
        """Whether a part without words of a rule goes on with the rule before: `P2 eleven and a half`."""
        atoms, wants = self._atoms(part, self.current), WANTED[self.current]
        if not any(map(wants, atoms)) or any(a.kind is Kind.AMOUNT and not wants(a) for a in atoms):
            return False
        sized = any(wants(atom) and atom.kind in _SIZES for atom in atoms)
        return sized or not [atom for atom in atoms if not wants(atom) and not _says_nothing(atom)]

    def _by_unit(self, part: Part) -> str:
        """Take an amount that can only be of one key; the key, empty where there is none."""
        key = next((key for dimension, key in _ONLY.items() if part.amounts(dimension)), "")
        sure = all(atom.value for atom in part.atoms if atom.kind is Kind.TUB)  # `left` is also what is left
        if not key and sure and solution.is_water(Piece(None, part.atoms)):
            key = "water"
        if not key:
            return ""
        atoms = self._atoms(part, key)
        if any(atom.kind is Kind.AMOUNT and not WANTED[key](atom) for atom in atoms):
            return ""
        self._add(key, None, part, [atom for atom in atoms if WANTED[key](atom)])
        return key

    def _take_whole(self, key: str, part: Part, cues: Sequence[Atom]) -> None:
        """The part of a rule whose value is words."""
        wanted = [a for a in part.atoms if WANTED[key](a) and is_of_plants(self.line, part, a)]
        gone = [*wanted, *(cue for cue in cues if key not in deeds.WITH_WORD and cue.kind is Kind.CUE)]
        text = rest(self.line, part, gone)
        own = [cue for cue in cues if cue.kind is Kind.CUE]
        if key == "treat":
            self._add(key, own[0] if own else None, part, wanted)
            self.current = ""
            return
        piece = Piece(cues[0], tuple(wanted), text=text)
        self.taken.setdefault(key, []).append(_Taken(piece, part, part.atoms))
        if key in ("lost", "end", "taste"):
            self.words[key] = _reason(" ".join(filter(None, (self.words.get(key, ""), text))))
        self.current = key if key in ("lost", "taste", "end") else ""

    def _continues_words(self, part: Part) -> bool:
        """Whether a part is one more of the words of a taste, or the reason of a loss."""
        if part.opens or self.current not in ("taste", "lost") or self.current not in self.taken:
            return False
        words = self.line.words(part.first, part.after)
        if self.current == "lost":
            if words[0] not in growth.REASONS or self.words.get("lost"):
                return False
            self.words["lost"] = self.line.between(part.first, part.after)
        else:
            joined = [part]
            for each in self.parts[part.number + 1 :]:
                if each.joint == "," or each.opens:
                    break
                joined.append(each)
            if not all(set(self.line.words(each.first, each.after)) <= deeds.TASTES for each in joined):
                return False
            said, text = self.words.get("taste", ""), self.line.between(part.first, part.after)
            between = ", " if part.joint == "," else f" {part.joint} "
            self.words["taste"] = f"{said}{between}{text}" if said else text
        self.taken[self.current].append(_Taken(Piece(None, ()), part, part.atoms))
        return True

    # the outcome

    def result(self) -> Understood:
        """Fields and note."""
        fields: list[tuple[str, str]] = []
        whole = {part.number for part in self.parts}
        taken: dict[int, list[Atom]] = {}
        failed: set[int] = set()
        for key, found in self.taken.items():
            value = self._value(key, found)
            if value is None:
                failed |= {each.part.number for each in found}
                continue
            fields.append((key, value))
            for each in found:
                whole.discard(each.part.number)
                taken.setdefault(each.part.number, []).extend(each.atoms)
        note = self._note(whole | failed, taken)
        return Understood(tuple(fields), note, tuple(f"{key}: {value}" for key, value in fields))

    def _value(self, key: str, found: Sequence[_Taken]) -> str | None:
        pieces = [each.piece for each in found]
        if key in _READERS:
            return _READERS[key](pieces, self.known)
        said = [piece for piece in pieces if piece.cue is not None]
        if key in _WITH_WORDS:
            return _WITH_WORDS[key](said, self.words.get(key, ""))
        return deeds.deed(key, said[0]) if len(said) == 1 else None

    def _note(self, whole: set[int], taken: dict[int, list[Atom]]) -> str:
        """What no rule took, as it was said: parts that follow each other stay one text."""
        spans: list[tuple[int, int]] = []
        last = -1
        for part in self.parts:
            if part.number in whole:
                if last == part.number - 1 and spans:
                    spans[-1] = (spans[-1][0], part.after)
                else:
                    spans.append((part.first, part.after))
                last = part.number
                continue
            spans += [span for span in runs(self.line, part, taken[part.number]) if self._says(part, span)]
        return "; ".join(self.line.between(*span) for span in spans)

    def _says(self, part: Part, span: tuple[int, int]) -> bool:
        """Whether a stretch holds more than words that say nothing."""
        inside = [atom for atom in part.atoms if atom.first < span[1] and atom.after > span[0]]
        return not all(map(_says_nothing, inside))


def _of_plants(key: str, pieces: Sequence[Piece], _known: Known) -> str | None:
    return readings.plant_readings(key, pieces)


_SIZES = (Kind.AMOUNT, Kind.NUMBER, Kind.SHARE)
# The keys that alone take amounts of a dimension.
_ONLY = {
    D.MASS: "harvest",
    D.CONDUCTIVITY: "ec",
    D.PHOTON_FLUX: "ppfd",
    D.ILLUMINANCE: "lux",
}
_READERS: dict[str, Callable[[Sequence[Piece], Known], str | None]] = {
    **{key: partial(_of_plants, key) for key in readings.OF_PLANTS},
    **{key: partial(readings.tub_readings, key) for key in readings.OF_TUBS},
    **{key: partial(solution.doses, key) for key in ("feed", "adjust")},
    "water": solution.water,
    "milestone": growth.milestone,
    "move": growth.move,
    "light": deeds.light,
    "sow": lambda pieces, _: growth.sow(pieces),
    "sprouted": lambda pieces, _: growth.sprouted(pieces),
    "thin_to": lambda pieces, _: growth.thin_to(pieces),
    "transplant": lambda pieces, _: growth.transplant(pieces),
    "treat": lambda pieces, _: deeds.treat(pieces),
    "harvest": lambda pieces, _: picks.harvest(pieces),
    "total_so_far": lambda pieces, _: picks.total_so_far(pieces),
}

_WITH_WORDS: dict[str, Callable[[Sequence[Piece], str], str | None]] = {
    "lost": growth.lost,
    "taste": deeds.taste,
    "end": growth.end,
}


def _says_nothing(atom: Atom) -> bool:
    if atom.kind is Kind.MARK:
        return atom.name in ("order", "piece")
    return atom.kind is Kind.FILLER or (atom.kind is Kind.DENIAL and atom.name in common.EMPHASIS)


def _reason(text: str) -> str:
    """A reason without the word that joins it."""
    first, _, others = text.partition(" ")
    return others if first.lower() in ("to", "because", "due", "durch", "wegen", "weil", "of") else text


def _key(cue: Atom) -> str:
    return cue.rule.key if cue.rule is not None else ""


def _distance(cue: Atom, atom: Atom) -> int:
    return max(atom.first - cue.after, cue.first - atom.after, 0) * 2 + (atom.first < cue.first)


def _volume_before(part: Part, cue: Atom) -> bool:
    before = part.before(cue)
    return before is not None and before.amount is not None and before.amount.dimension is D.VOLUME


def _number_before(part: Part, cue: Atom) -> bool:
    before = part.before(cue)
    return before is not None and before.kind is Kind.NUMBER
