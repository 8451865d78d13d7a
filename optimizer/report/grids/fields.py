"""The fields of the files: what each is, what may stand there, and what holds without it."""

from collections.abc import Iterator

from optimizer.inputs.columns import Column as Field
from optimizer.inputs.columns import Kind
from optimizer.inputs.fields import Fields
from optimizer.report.grids.grid import Column, Grid
from optimizer.report.words.faults import said
from optimizer.report.words.writer import Writer


def fields(write: Writer, known: Fields) -> Iterator[Grid]:
    """Yield a table for each section and file."""
    columns = (
        Column("field", write.say("Field")),
        Column("help", write.say("What it is")),
        Column("wanted", write.say("What may stand there")),
        Column("default", write.say("Without it")),
    )
    for name, section in known.items():
        rows = [
            (field.name, said(write, field.help), said(write, field.wanted), _default(write, field))
            for field in section.values()
        ]
        yield Grid(name, name, columns, rows)


def _default(write: Writer, field: Field) -> str:
    if field.required:
        return write.say("required")
    if field.default is None or field.default == ():
        return ""
    if field.kind is Kind.FLAG:
        return str(field.default).lower()
    if isinstance(field.default, tuple):
        return ", ".join(map(str, field.default))
    return f"{field.default:g}" if isinstance(field.default, float) else str(field.default)
