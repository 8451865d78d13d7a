"""How large a table may be, counted while it is read."""

from optimizer.files.limits import CELL_CHARACTERS, CELLS, COLUMNS, ROWS
from optimizer.files.reading import unreadable
from optimizer.model.phrase import Phrase


class Limits:
    """Counts a file's table row by row, so that one too large is given up where it becomes so."""

    def __init__(self, file: str) -> None:
        self.file, self.rows, self.cells = file, 0, 0

    def check(self, record: list[str]) -> list[str]:
        """Return a record; InputError where it is one too many, too wide or too long."""
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
                raise unreadable(
                    self.file, Phrase(found, **said), Phrase(wanted, **said), self.rows
                )
        return record
