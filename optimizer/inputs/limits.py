"""How large a table may be, counted while it is read."""

from collections.abc import Iterable

from optimizer.errors import Fault
from optimizer.files.limits import CELL_CHARACTERS, CELLS, COLUMNS, ROWS
from optimizer.inputs.faults import FILE
from optimizer.model.phrase import Phrase


class Limits:
    """Counts a file's table row by row, so that one too large is given up where it becomes so."""

    def __init__(self, file: str) -> None:
        self.file, self.rows, self.cells = file, 0, 0

    def kept(self, records: Iterable[list[str]], faults: list[Fault]) -> list[list[str]] | None:
        """Return the records, or None with the fault of the first that goes too far."""
        found = []
        for record in records:
            fault = self.beyond(record)
            if fault is not None:
                faults.append(fault)
                return None
            found.append(record)
        return found

    def beyond(self, record: list[str]) -> Fault | None:
        """Return the fault of a record that is one too many, too wide or too long."""
        self.rows += 1
        self.cells += len(record)
        for count, most, found, wanted in (
            (self.rows, ROWS, "more than {most} rows", "at most {most}, blank ones included"),
            (len(record), COLUMNS, "{count} columns", "at most {most}"),
            (self.cells, CELLS, "more than {most} cells", "at most {most}, blank ones included"),
            (
                max(map(len, record), default=0),
                CELL_CHARACTERS,
                "a cell of {count} characters",
                "at most {most}",
            ),
        ):
            if count > most:
                said = {"count": f"{count:,}", "most": f"{most:,}"}
                told = (Phrase(found, **said), Phrase(wanted, **said))
                return Fault(self.file, self.rows, None, *told, FILE)
        return None
