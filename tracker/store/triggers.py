"""Triggers by which the database itself writes the diary, whoever changes a row and however.

A change of any plan table outside an open entry is refused; the diary can be added to, never rewritten.
"""

from tracker.store.schema import PLAN_TABLES, TABLES, key_columns

_NO_ENTRY = "rows change only under an open diary entry"
_KEPT = "the diary is not rewritten"


def trigger_statements() -> tuple[str, ...]:
    """The SQL that makes every trigger, generated from the tables as they are now."""
    watching = (_watch(table, event) for table in PLAN_TABLES for event in ("INSERT", "UPDATE", "DELETE"))
    keeping = (_keep(*pair) for pair in (("change", "UPDATE"), ("change", "DELETE"), ("entry", "DELETE")))
    return (*watching, *keeping)


def _watch(table: str, event: str) -> str:
    before = "NULL" if event == "INSERT" else _object(table, "OLD")
    after = "NULL" if event == "DELETE" else _object(table, "NEW")
    key = " || ' ' || ".join(
        f'{"OLD" if event == "DELETE" else "NEW"}."{column}"' for column in key_columns(table)
    )
    return (
        f'CREATE TRIGGER "diary {table} {event.lower()}" AFTER {event} ON "{table}" BEGIN\n'
        f"  SELECT RAISE(ABORT, '{_NO_ENTRY}') WHERE NOT EXISTS (SELECT 1 FROM entry WHERE is_open = 1);\n"
        '  INSERT INTO change (entry, table_name, "key", "before", "after")\n'
        f"  SELECT number, '{table}', {key}, {before}, {after} FROM entry WHERE is_open = 1;\n"
        "END"
    )


def _keep(table: str, event: str) -> str:
    return (
        f'CREATE TRIGGER "keep {table} {event.lower()}" BEFORE {event} ON "{table}" BEGIN\n'
        f"  SELECT RAISE(ABORT, '{_KEPT}');\n"
        "END"
    )


def _object(table: str, side: str) -> str:
    cells = ", ".join(f"'{column.name}', {side}.\"{column.name}\"" for column in TABLES[table].columns)
    return f"json_object({cells})"
