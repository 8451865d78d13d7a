"""The record that an electrician fills in: tests before it is handed over, serial numbers."""

from typing import Final

from optimizer.model.design import Design
from optimizer.report.grids.grid import Column, Grid, Row
from optimizer.report.words.writer import Writer

#: Serial numbers that stand beside each other.
_BESIDE: Final = 2
#: A cell to be filled in by hand, and how wide it is.
BLANK: Final = "\N{NO-BREAK SPACE}" * 34


def tests(write: Writer, design: Design) -> Grid:
    """Return the tests with what they must show, to be filled in.

    Insulation: IEC 60364-6:2016, table 6.1, a nominal voltage of up to 500 V. RCD: IEC 61008-1,
    general type. Loop: IEC 60364-4-41, clause 411.
    """
    columns = [
        Column("test", write.say("Test")),
        Column("wanted", write.say("Must show")),
        Column("measured", write.say("Measured"), is_short=True),
        Column("signed", write.say("Date, signed"), is_short=True),
    ]
    polarity = write.say("as marked")
    rows = [
        _row(
            write.say("Protective conductors, continuity"),
            write.say("Ω, each part to the main earthing terminal"),
        ),
        _row(
            write.say("Insulation, alternating-current side, 500 V, appliances disconnected"),
            write.say("≥ 1 MΩ"),
        ),
        _row(
            write.say("Insulation, battery poles to earth, bank disconnected"),
            write.say("≥ 1 MΩ, or as the maker says"),
        ),
        _row(write.say("Polarity of each string, before its fuse goes in"), polarity),
        _strings(write, design),
        _row(write.say("Torque of poles, lugs and terminals"), write.say("as the maker says")),
        _row(write.say("RCD at its rated current, on the grid"), write.say("≤ 300 ms")),
        _row(write.say("RCD at its rated current, on the battery"), write.say("≤ 300 ms")),
        _row(
            write.say("Earth-fault loop impedance, on the grid"),
            write.say("Ω, low enough for the breaker or RCD"),
        ),
        _row(
            write.say("Earth-fault loop impedance, on the battery"),
            write.say("Ω, low enough for the RCD"),
        ),
        _row(
            write.say("Neutral–earth bond on the battery, and none twice on the grid"),
            write.say("as the earthing of the supply asks"),
        ),
        _row(
            write.say("Transfer to the battery and back, under load"),
            write.say("all that is to stay on stays on"),
        ),
        _row(write.say("Charger settings read back"), write.say("as in the settings above")),
        _row(write.say("Low-voltage cut-off read back"), write.say("as in the settings above")),
    ]
    note = write.say(
        "Limits: IEC 60364-6, IEC 61008-1, IEC 60364-4-41; check against the current edition and "
        "the local code, which prevail."
    )
    return Grid("tests", write.say("Tests before it is handed over"), columns, rows, [note])


def _row(test: str, wanted: str) -> Row:
    return [test, wanted, BLANK, BLANK]


def _strings(write: Writer, design: Design) -> Row:
    """Return the row for the voltage of each string; strings that differ must not be joined."""
    strings = design.banks[0].strings
    if strings == 1:
        return _row(write.say("Voltage of the string at rest, V"), write.say("as its charge asks"))
    return _row(
        write.say("Voltage of each of the {n} strings at rest, V", n=strings),
        write.say("alike, before they are joined"),
    )


def serials(write: Writer, design: Design) -> Grid:
    """Return a place for the serial number of each unit."""
    bank = design.banks[0]
    names = _numbered(write, design.inverter.inverter, design.inverter_units)
    if bank.battery.built_into is None:
        names += _numbered(write, bank.battery.battery, bank.units)
    if design.generator is not None:
        names += _numbered(write, design.generator.generator, 1)
    heads = [write.say("Unit"), write.say("Serial number")] * _BESIDE
    columns = [Column(f"serial_{place}", head) for place, head in enumerate(heads)]
    rows: list[Row] = []
    for place in range(0, len(names), _BESIDE):
        found = [*names[place : place + _BESIDE], *[""] * _BESIDE][:_BESIDE]
        rows.append([cell for name in found for cell in (name, BLANK)])
    return Grid("serials", write.say("Serial numbers"), columns, rows)


def _numbered(write: Writer, name: str, count: int) -> list[str]:
    if count == 1:
        return [name]
    return [write.say("{name} {n}", name=name, n=n) for n in range(1, count + 1)]
