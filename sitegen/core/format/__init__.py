"""The one table of the format: every file, key and value form, with its words.

In: nothing. Out: `TABLES` by name, `RESERVED`, `FORMAT`. The typed reader, did-you-mean, the JSON Schema, the format
reference and the comments that `begin` writes are all made from it, so that they agree.
"""

from __future__ import annotations

from sitegen.core.format.entry import ENTRY_TABLE
from sitegen.core.format.experiment import EXPERIMENT_TABLES
from sitegen.core.format.fields import Field, Table
from sitegen.core.format.journal import JOURNAL_TABLES
from sitegen.core.format.nested import NESTED_TABLES

__all__ = ["FORMAT", "RESERVED", "TABLES", "field_of"]

FORMAT = 1

TABLES: dict[str, Table] = {
    table.name: table for table in (*JOURNAL_TABLES, *EXPERIMENT_TABLES, ENTRY_TABLE, *NESTED_TABLES)
}

# Words of the format cannot be ids: `harvest: {all: 84 g}` must be unambiguous.
RESERVED = frozenset(
    {"all", "none", "some", "each", "together", "at", "off", "filled", "changed"}
    | {
        field.key
        for name in ("entry", "pick", "measured", "deed", "trouble")
        for field in TABLES[name].fields
    }
)


def field_of(table: str, key: str) -> Field:
    """A field by the name of its table and its key."""
    return TABLES[table].field(key)
