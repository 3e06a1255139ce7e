"""The files of the template and of the catalogues.

In: all messages. Out: `site.pot` and each `<language>.po`, the same bytes for the same messages. A message that no longer
exists is dropped. A new one has no translation: none is guessed from a similar message.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from io import BytesIO
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po, write_po

from sitegen.words.extraction import all_messages, catalogue_of

FOLDER = Path(__file__).parent
TEMPLATE = FOLDER / "site.pot"
_HEAD = """# The site's words{of}.
# `python -m sitegen.words` brings this file up to date; words are written after `msgstr`.
msgid ""
msgstr ""
"Language: {language}\\n"
"Content-Type: text/plain; charset=utf-8\\n"
"Content-Transfer-Encoding: 8bit\\n"
"Plural-Forms: {plural}\\n"

"""


def update_all(new: Sequence[str] = ()) -> Iterator[str]:
    """Write the template and every catalogue, those of new languages too; returns a line about each."""
    template = catalogue_of(all_messages())
    TEMPLATE.write_text(template_text(template), "utf-8")
    yield f"{TEMPLATE.name}: {len(template)} messages"
    for language in sorted({*new, *(path.stem for path in FOLDER.glob("*.po"))}):
        path = FOLDER / f"{language}.po"
        before = path.read_text("utf-8") if path.is_file() else ""
        catalog = updated(before, template, language)
        path.write_text(catalogue_text(catalog), "utf-8")
        left = sum(not all(_forms(message.string)) for message in catalog if message.id)
        yield f"{path.name}: {left} without words"


def _forms(string: str | Sequence[str] | None) -> Sequence[str]:
    return (string or "",) if isinstance(string, str) or string is None else string or ("",)


def updated(text: str, template: Catalog, language: str) -> Catalog:
    """A catalogue with the template's messages, and the translations that it had of them."""
    catalog = read_po(BytesIO(text.encode()), language.replace("-", "_"), charset="utf-8")
    catalog.update(template, no_fuzzy_matching=True)
    catalog.obsolete.clear()
    return catalog


def template_text(template: Catalog) -> str:
    """The template as a file."""
    return _HEAD.format(of="", language="", plural="nplurals=INTEGER; plural=EXPRESSION;") + _body(template)


def catalogue_text(catalog: Catalog) -> str:
    """A catalogue as a file."""
    of = f" in {catalog.locale.get_display_name('en')}" if catalog.locale else ""
    language = str(catalog.locale_identifier or "").replace("_", "-")
    return _HEAD.format(of=of, language=language, plural=catalog.plural_forms) + _body(catalog)


def _body(catalog: Catalog) -> str:
    found = BytesIO()
    write_po(found, catalog, width=110, omit_header=True, include_lineno=False, ignore_obsolete=True)
    return found.getvalue().decode().strip() + "\n"
