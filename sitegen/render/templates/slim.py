"""Draws a chart with fewer elements: what looks the same is said once.

In: the SVG of a chart. Out: SVG of the same picture. Values that can be asked for (a mark's `<title>`) stay, but for
narrow drawings crowded with them, where no finger tells one from another and the table holds them all.
"""

from __future__ import annotations

import re

from markupsafe import Markup

CROWDED = 40  # titled marks of one kind in 360 px: less than 8 px each, where 24 px is the least target (WCAG 2.5.8)
_GROUP = re.compile(r"<g([^>]*)>([^<]*(?:<(?!/?g[ >])[^<]*)*)</g>")
_PLAIN_LINE = re.compile(
    r'<line (?:transform="translate\(([^,]+),([^)]+)\)" )?x2="([^"]+)" y2="([^"]+)"([^>]*) />'
)
_TITLE = re.compile(r"<title>[^<]*</title>")
_EMPTY = re.compile(r"<(line|path)([^>]*)></\1>")
_CIRCLE = re.compile(
    r'<path( transform="[^"]*")? d="M([\d.]+),0A\2,\2,0,1,1,-\2,0A\2,\2,0,1,1,\2,0"([^>]*?)( /)?>(.*?)(?(4)|</path>)'
)
_NAMED = re.compile(
    r'(<svg[^>]*?) aria-labelledby="[^"]*"([^>]*)><title id="[^"]*">([^<]*)</title><desc id="[^"]*">[^<]*</desc>'
)
_TITLED_LINE = re.compile(
    r'<line (?:transform="translate\(([^,]+),([^)]+)\)" )?x2="([^"]+)" y2="([^"]+)"([^>]*)>(<title>[^<]*</title>)</line>'
)
_LONG_WIDTH = re.compile(r'(stroke-width="\d+\.\d\d)\d+')
_AT = re.compile(r' transform="translate\(([^,]+),([^)]+)\)"')
_TEXT_AT = re.compile(r'<text([^>]*?) transform="translate\(([^,]+),([^)]+)\)"')
_ALONE = re.compile(r"<(line|path)([^>]*/>)")
_ELEMENT = re.compile(r"<(?:line|path|circle|text)\b([^>]*)>")
# A group hands these on to what stands in it; opacity and transform it would apply to itself.
_HANDED_ON = (
    "fill",
    "stroke",
    "stroke-width",
    "stroke-dasharray",
    "stroke-linejoin",
    "font-size",
    "text-anchor",
)
_ATTRIBUTE = re.compile(rf' ({"|".join(_HANDED_ON)})="([^"]*)"')


def slim(svg: str) -> Markup:
    """The same drawing, said shorter; its description is left to the caption that stands below it."""
    svg = _NAMED.sub(_named, svg, count=1)
    narrow = ' class="narrow"' in svg[:400]
    return Markup(_GROUP.sub(lambda group: _group(group, narrow=narrow), svg))  # noqa: S704 # our own drawing


def _named(head: re.Match[str]) -> str:
    title = head[3].replace('"', "&quot;")
    return f'{head[1]} aria-label="{title}"{head[2]}>'


def _group(group: re.Match[str], *, narrow: bool) -> str:
    held = _LONG_WIDTH.sub(r"\1", group[2])
    if narrow and held.count("<title>") > CROWDED:
        held = _EMPTY.sub(r"<\1\2 />", _TITLE.sub("", held))
    held = _one_path(held)
    held = _CIRCLE.sub(_circle, held)
    held = _TITLED_LINE.sub(_titled, held)
    held = _TEXT_AT.sub(r'<text\1 x="\2" y="\3"', held)
    return _hoisted(group[1], held)


def _one_path(held: str) -> str:
    """Lines of one kind become one path."""
    lines = list(_PLAIN_LINE.finditer(held))
    if len(lines) < 2 or "".join(line[0] for line in lines) != held:
        return held
    by_kind: dict[str, list[re.Match[str]]] = {}
    for line in lines:
        by_kind.setdefault(line[5], []).append(line)
    return "".join(f'<path d="{"".join(map(_stroke, same))}"{kind} />' for kind, same in by_kind.items())


def _stroke(line: re.Match[str]) -> str:
    x, y, across, down = line[1] or "0", line[2] or "0", line[3], line[4]
    if float(down) == 0:
        return f"M{x},{y}h{across}"
    return f"M{x},{y}v{down}" if float(across) == 0 else f"M{x},{y}l{across},{down}"


def _titled(line: re.Match[str]) -> str:
    return f'<path d="{_stroke(line)}"{line[5]}>{line[6]}</path>'


def _circle(path: re.Match[str]) -> str:
    end = " />" if path[4] else f">{path[5]}</circle>"
    at = _AT.fullmatch(path[1] or "")
    place = f' cx="{at[1]}" cy="{at[2]}"' if at else path[1] or ""
    return f'<circle{place} r="{path[2]}"{path[3]}{end}'


def _hoisted(own: str, held: str) -> str:
    """What all elements of a group say alike, the group says for them."""
    alone = _ALONE.fullmatch(held)
    if alone and own.startswith(" class=") and own.count("=") == 1:
        return f"<{alone[1]}{own}{alone[2]}"
    found = [dict(_ATTRIBUTE.findall(element)) for element in _ELEMENT.findall(held)]
    if len(found) < 2:
        return f"<g{own}>{held}</g>"
    shared = {
        name: found[0][name]
        for name in _HANDED_ON
        if name in found[0]
        and f" {name}=" not in own
        and all(each.get(name) == found[0][name] for each in found)
    }
    for name, value in shared.items():
        held = held.replace(f' {name}="{value}"', "")
    said = "".join(f' {name}="{value}"' for name, value in shared.items())
    return f"<g{own}{said}>{held}</g>"
