"""An allotment as files: PDF, XLSX, CSV, JSON. Libraries load when asked for."""

import json
from typing import Final

from optimizer.programme.answers import AllotAnswer
from optimizer.report.words.writer import Writer

#: Kinds of file, by the ending of the name.
ENDINGS: Final = (".pdf", ".xlsx", ".csv", ".json")


def allotment_bytes(answer: AllotAnswer, ending: str, write: Writer) -> bytes:
    """Return an allotment as the content of a file: sites of the first budget in CSV, else all."""
    from optimizer.report.grids import allotment as grids  # noqa: PLC0415 - start-up time

    if ending == ".pdf":
        from optimizer.report.council_page import council_pdf  # noqa: PLC0415 - start-up time

        return council_pdf(answer, write)
    if ending == ".csv":
        from optimizer.report.csv_text import as_csv  # noqa: PLC0415 - start-up time

        return as_csv(grids.sites(write, answer.answers[0]))
    if ending == ".json":
        from optimizer.report.json.serialise import output  # noqa: PLC0415 - start-up time

        return json.dumps(output(answer), ensure_ascii=False, indent=1, allow_nan=False).encode()
    from optimizer.report.sheets import as_xlsx  # noqa: PLC0415 - start-up time

    return as_xlsx(grids.workbook(write, answer), write)
