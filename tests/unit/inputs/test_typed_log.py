"""Outages typed or pasted, a line each."""

import pytest

from optimizer.inputs.cells import CellError
from optimizer.inputs.typed_log import log_text, typed_log


@pytest.mark.parametrize(
    ("line", "start", "end"),
    [
        ("2026-01-31 17:40 – 20:10", "2026-01-31T17:40:00", "2026-01-31T20:10:00"),
        ("2026-01-31T17:40 2026-02-01T06:00", "2026-01-31T17:40:00", "2026-02-01T06:00:00"),
        ("05.01.2024 18:00 - 05.01.2024 20:30", "2024-01-05T18:00:00", "2024-01-05T20:30:00"),
        ("05.01.2024, 23:00 to 1:30", "2024-01-05T23:00:00", "2024-01-06T01:30:00"),
        ("5.1.2024 18:00; 2,5 h", "2024-01-05T18:00:00", "2024-01-05T20:30:00"),
        ("2024-01-05 18:00\t90 min", "2024-01-05T18:00:00", "2024-01-05T19:30:00"),
        ("31/01/2024 18:00 - 24:00", "2024-01-31T18:00:00", "2024-02-01T00:00:00"),
        ("01/31/2024 18:00 - 19:00", "2024-01-31T18:00:00", "2024-01-31T19:00:00"),
        (
            "2026-10-25 02:20+02:00 – 2026-10-25 02:20+01:00",
            "2026-10-25T02:20:00+02:00",
            "2026-10-25T02:20:00+01:00",
        ),
    ],
)
def test_a_line(line, start, end):
    assert typed_log(f"\n{line}\n").rows == (("start", "end"), (start, end))


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("", "at least one outage"),
        ("2024-01-05 18:00 – 20:30\nlast winter", "line 2, 'last winter', is none"),
        ("2024-13-05 18:00 – 20:30", "line 1"),
        ("2024-01-05 18:00 99999999999999999999 h", "line 1"),
        ("9999-12-31 23:00 – 22:00", "line 1"),
        ("05/01/2024 18:00 – 20:30", "dates that can be read one way"),
        ("13/01/2024 18:00 – 20:30\n01/13/2024 18:00 – 20:30", "dates that can be read one way"),
    ],
)
def test_what_is_asked_back(text, hint):
    with pytest.raises(CellError) as caught:
        typed_log(text)
    assert hint in str(caught.value.hint)


def test_a_log_reads_back():
    table = typed_log("2024-01-05 18:00 – 20:30\n2024-02-05 18:00 – 20:30")
    assert typed_log(log_text(table.rows[1:])) == table
