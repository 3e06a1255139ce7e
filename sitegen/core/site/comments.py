"""Comments in an author's texts, `<!-- so -->`: words of the author to themselves, which no page and no index takes over.

In: the parser of texts. Out: the same, which passes over comments. What stands in code is no comment, and neither is one
without its end.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.rules_block import StateBlock
    from markdown_it.rules_inline import StateInline

_BEGIN, _END = "<!--", "-->"
# Drafts of notes have comments with the lines of the log that they rest on: a file with one is a draft, and no page.
DRAFT_MARK = "<!-- experiment.yaml:"


def without_comments(parser: MarkdownIt) -> MarkdownIt:
    """Let a parser pass over comments, before it would take them for HTML or for text."""
    parser.block.ruler.before(
        "html_block", "comment", _block, {"alt": ["paragraph", "reference", "blockquote", "list"]}
    )
    parser.inline.ruler.before("html_inline", "comment", _inline)
    return parser


def _block(state: StateBlock, start: int, end: int, silent: bool) -> bool:
    """A comment that begins a line: over any number of lines, blank ones too."""
    begin = state.bMarks[start] + state.tShift[start]
    if state.is_code_block(start) or not state.src.startswith(_BEGIN, begin):
        return False
    for line in range(start, end):
        close = state.src.find(_END, begin + len(_BEGIN) if line == start else state.bMarks[line])
        if not -1 < close < state.eMarks[line]:
            continue
        rest = close + len(_END)
        behind = state.src[rest : state.eMarks[line]]
        if behind.strip() and line == start:
            return False  # a comment in a line of text
        if not silent:
            if behind.strip():  # the text goes on behind it
                state.bMarks[line], state.tShift[line] = rest, len(behind) - len(behind.lstrip())
                state.sCount[line] = 0
            state.line = line if behind.strip() else line + 1
        return True
    return False


def _inline(state: StateInline, silent: bool) -> bool:
    """A comment in a line of text."""
    del silent  # nothing is made of it either way
    if not state.src.startswith(_BEGIN, state.pos):
        return False
    close = state.src.find(_END, state.pos + len(_BEGIN))
    if close < 0:
        return False
    state.pos = close + len(_END)
    return True
