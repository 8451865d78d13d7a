"""Changes that keep the shape of a file and spoil something in it; each drawn from a seed."""

from __future__ import annotations

import csv
import io
import json
import re
from typing import TYPE_CHECKING, Any

import xlsxwriter

if TYPE_CHECKING:
    from random import Random

#: What may stand in a cell, and should be read or refused.
NASTY = (
    "",
    " ",
    "0",
    "-1",
    "-0",
    "nan",
    "NaN",
    "inf",
    "-inf",
    "1e308",
    "1e-308",
    "1e20",
    "9" * 30,
    "9" * 400,
    "0.1e-400",
    "0x10",
    "1_000",
    "1,200",
    "1.200,5",
    "1 200",
    "½",
    "٣",
    "-5 %",
    "50%",
    "1.5 kW",
    "1/0 hp",
    "1/2 hp",
    "6 A",
    "35 kWh/month",
    "0 kWh/day",
    "5 W**9**9**9",
    "3 parsec",
    "6x",
    "1e300 kW",
    "50 °F",
    "-400 °F",
    "5 K",
    "2 lb",
    "9999-12-31",
    "0001-01-01",
    "2024-02-30",
    "9999-12-31T23:59",
    "6-Aug",
    "2026-08-06 00:00:00",
    "2024-01-01T00:00+23:59",
    "0:00-24:00",
    "24:00-0:00",
    "22:00-6:00;5:00-7:00",
    "8:00-8:00",
    "0.5:1200;0.8:600",
    "0.5:1e308",
    "1:1;1:1",
    ":",
    ";",
    "a:b",
    "winter:1e9",
    "true",
    "TRUE",
    "=1+1",
    "+1",
    "@x",
    "'=1",
    "'",
    '"',
    "\x00",
    "\x1b[31m",
    "\u202eevil",
    "\ud7ff",
    "🔋" * 20,
    "x" * 400,
    "<script>alert(1)</script>",
    "{0.__class__}",
    "{currency}",
    "%s%n",
    "${x}",
    "$x^2$",
    "[a](http://b)",
    "../../etc/passwd",
    "C:\\x",
    "none",
    "null",
    "NULL",
    "None",
    "lead",
    "lfp",
    "agm",
    "\t",
    "a\nb",
    "\r",
)
#: The same for TOML, as it is written there.
NASTY_TOML = (
    '""',
    '" "',
    "0",
    "-1",
    "nan",
    "inf",
    "-inf",
    "1e308",
    "1e-308",
    "1e20",
    "9" * 30,
    "0x" + "f" * 40,
    "true",
    "[]",
    "[[]]",
    "[[1, 2, 3]]",
    "[nan]",
    "[[nan, nan]]",
    "[1e308, 1e308]",
    "{}",
    "{ a = 1 }",
    '["a", "a"]',
    '["8:00-8:00"]',
    "2026-01-31",
    "9999-12-31",
    "2026-01-31T00:00:00Z",
    "12:00:00",
    '"x\\u0000y"',
    '"\\u001b[31m"',
    '"<b>"',
    "'''\na\n'''",
    "[[1, 1], [1e300, 1e300]]",
    "[-1]",
    "[0]",
    '"../../etc/passwd"',
    '"/dev/zero"',
    '"."',
    '"{0.__class__}"',
    '"' + "x" * 400 + '"',
    "[13]",
    "[1, 1]",
    "{ comfort = 1e3 }",
    "[" * 60 + "]" * 60,
)
NASTY_JSON: tuple[Any, ...] = (
    None,
    True,
    False,
    0,
    -1,
    1e308,
    1e-308,
    10**30,
    "",
    "x",
    "\x00",
    "\ud800",
    "<b>",
    [],
    [[]],
    {},
    {"a": 1},
    [None],
    [["a"], ["a", "b"]],
    "9" * 400,
    {"file": 1, "rows": 2},
    2,
    3,
    "nan",
)

Table = list[list[str]]


def table_of(text: str) -> Table:
    return [list(row) for row in csv.reader(io.StringIO(text))]


def spoil_table(dice: Random, table: Table) -> Table:
    """Return a table with one to three things changed."""
    found = [list(row) for row in table]
    for _ in range(dice.choice((1, 1, 1, 2, 3))):
        row = dice.randrange(len(found)) if found else 0
        if not found or not found[row]:
            return found
        place = dice.randrange(len(found[row]))
        if dice.random() < 0.4:
            found[row][place] = dice.choice(NASTY)
        elif dice.random() < 0.5:
            _spoil_row(dice, found, row, place)
        else:
            _spoil_column(dice, found, place)
    return found


def _spoil_row(dice: Random, table: Table, row: int, place: int) -> None:
    match dice.randrange(5):
        case 0:
            table.insert(row, list(table[row]))
        case 1:
            del table[row]
        case 2:
            del table[row][place]
        case 3:
            table[row].insert(place, dice.choice(NASTY))
        case _:
            other = dice.randrange(len(table))
            table[row], table[other] = table[other], table[row]


def _spoil_column(dice: Random, table: Table, place: int) -> None:
    way = dice.randrange(3)
    if way == 0:
        table[0][min(place, len(table[0]) - 1)] = dice.choice((*NASTY, table[0][0]))
        return
    for one in table:
        if place < len(one) and way == 1:
            del one[place]
        elif place < len(one):
            one.insert(place, one[place])


def as_csv(dice: Random, table: Table) -> bytes:
    """Return a table as text, now and then in another of the shapes that are understood."""
    out = io.StringIO(newline="")
    mark = dice.choice((",", ",", ",", ";", "\t"))
    csv.writer(out, delimiter=mark, lineterminator=dice.choice(("\n", "\r\n"))).writerows(table)
    coding = dice.choice(("utf-8", "utf-8", "utf-8-sig", "utf-16", "cp1252"))
    return out.getvalue().encode(coding, "replace")


def as_xlsx(dice: Random, table: Table) -> bytes:
    """Return a table as a workbook; numbers as numbers, or as text."""
    buffer = io.BytesIO()
    options = {
        "in_memory": True,
        "strings_to_numbers": dice.random() < 0.7,
        "nan_inf_to_errors": True,
    }
    book = xlsxwriter.Workbook(buffer, {**options, "strings_to_urls": False})
    sheet = book.add_worksheet()
    for number, row in enumerate(table):
        for place, cell in enumerate(row):
            sheet.write(number, place, cell[:30_000])
    book.close()
    return buffer.getvalue()


def spoil_toml(dice: Random, text: str) -> bytes:
    """Return a TOML text with one or two lines changed."""
    lines = text.split("\n")
    for _ in range(dice.choice((1, 1, 2))):
        place = dice.randrange(len(lines))
        keys = [n for n, line in enumerate(lines) if re.match(r"[\w.-]+ = ", line)]
        if keys and dice.random() < 0.7:
            place = dice.choice(keys)
            key = lines[place].split(" = ")[0]
            lines[place] = f"{key} = {dice.choice(NASTY_TOML)}"
            continue
        match dice.randrange(6):
            case 0:
                del lines[place]
            case 1:
                lines.insert(place, lines[place])
            case 2:
                lines[place] = "x" + lines[place]
            case 3:
                lines.insert(place, f"[{dice.choice(('site', 'limits', 'odd', 'a.b', ''))}]")
            case 4:
                other = dice.randrange(len(lines))
                lines[place], lines[other] = lines[other], lines[place]
            case _:
                lines.insert(place, f"odd = {dice.choice(NASTY_TOML)}")
    return "\n".join(lines).encode("utf-8", "surrogatepass")


def spoil_json(dice: Random, data: Any) -> bytes:
    """Return JSON with one node changed."""
    copy = json.loads(json.dumps(data))
    holders = list(_holders(copy))
    for _ in range(dice.choice((1, 1, 2))):
        holder, key = dice.choice(holders)
        try:
            if dice.random() < 0.2:
                del holder[key]
            elif dice.random() < 0.5 and isinstance(holder[key], str):
                holder[key] = dice.choice(NASTY)
            else:
                holder[key] = dice.choice(NASTY_JSON)
        except (KeyError, IndexError, TypeError):
            continue
    return json.dumps(copy, ensure_ascii=dice.random() < 0.5).encode("utf-8", "surrogatepass")


def _holders(node: Any) -> list[tuple[Any, Any]]:
    found = []
    pairs = (
        node.items()
        if isinstance(node, dict)
        else enumerate(node)
        if isinstance(node, list)
        else ()
    )
    for key, value in pairs:
        found.append((node, key))
        found += _holders(value)
    return found


def spoil_bytes(dice: Random, raw: bytes) -> bytes:
    """Return bytes cut off, flipped or with others in between."""
    place = dice.randrange(len(raw) + 1)
    match dice.randrange(4):
        case 0:
            return raw[:place]
        case 1:
            return raw[:place] + bytes([dice.randrange(256)]) + raw[place + 1 :]
        case 2:
            return raw[:place] + dice.randbytes(dice.randrange(1, 9)) + raw[place:]
    return raw[:place] + raw[place : place + 40] * dice.randrange(2, 50) + raw[place:]
