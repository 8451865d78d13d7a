"""The circuit, drawn: strings to inverters above, supply to loads below, earth at the foot."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from reportlab.platypus import Flowable

from optimizer.model.part import PartKind
from optimizer.report.quote.pdf_symbols import HALF, TINY, Signs
from optimizer.report.words import circuit as words

if TYPE_CHECKING:
    from optimizer.quote.circuit import Circuit, CircuitPart
    from optimizer.report.quote.pdf_paper import Paper

#: More strings, or inverters, are drawn as the first ones, a gap, and the last.
_MOST_ROWS: Final = 4
#: More units in series are drawn as one block.
_MOST_UNITS: Final = 4
_ROW, _UNIT_HIGH = 25.0, 13.0
#: Where things stand from the left: minus, units and plus of the strings, plus of the inverters;
#: where their minus stands from the right.
_MINUS_X, _UNITS_X, _UNITS_END, _PLUS_X, _BAR_X = 10.0, 20.0, 158.0, 252.0, 316.0
_RIGHT_MINUS: Final = 5.0
_FUSE_AT, _ISOLATOR_AT = 18.0, 60.0
_BOX: Final = (74.0, 17.0)
_HEAD, _MAINS_HIGH = 20.0, 118.0


class LayoutDrawing(Flowable):  # type: ignore[misc] # reportlab has no types
    """A circuit: the direct-current side, the alternating-current side, earth."""

    def __init__(self, circuit: Circuit, inverter: str, paper: Paper) -> None:
        super().__init__()
        self.circuit, self.inverter, self._write = circuit, inverter, paper.write
        rows = max(_shown(circuit.strings), _shown(circuit.inverter_units), 2)
        self.width = paper.width
        self._direct_high = _HEAD + rows * _ROW + 26.0
        self.height = self._direct_high + _MAINS_HIGH

    def draw(self) -> None:
        """Draw on the page."""
        signs = Signs(self.canv, self._write)
        _DirectSide(self, signs).draw()
        _MainsSide(self, signs).draw()


class _DirectSide:
    """From the strings, left, to the inverters, right; minus below."""

    def __init__(self, drawing: LayoutDrawing, signs: Signs) -> None:
        self.signs, self.circuit, self._write = signs, drawing.circuit, drawing._write
        self.right, self.top = drawing.width, drawing.height - _HEAD
        self.foot = drawing.height - drawing._direct_high + 16.0

    def draw(self) -> None:
        strings = self._heights(self.circuit.strings)
        for height in strings:
            self._string(height)
        inverters = self._heights(self.circuit.inverter_units)
        bars = self.circuit.part(PartKind.BUSBAR)
        is_bar = bars is not None and self.circuit.strings > 1
        feed = strings[0]  # plus leaves at the first string, minus at the last: opposite corners
        if is_bar:
            self.signs.wire((_PLUS_X, strings[0] + 4), (_PLUS_X, strings[-1] - 4), heavy=True)
        self.signs.wire((_MINUS_X, strings[0]), (_MINUS_X, strings[-1]), heavy=is_bar)
        self._gaps(strings, inverters)
        main = self.circuit.part(PartKind.MAIN_ISOLATOR)
        self.signs.wire((_PLUS_X, feed), (_BAR_X, feed))
        if main is not None:
            middle = (_PLUS_X + _BAR_X) / 2
            self.signs.switch(middle, feed, main)
            self.signs.text(middle, feed + 18, self.signs.labels(main))
            self._pre_charge(middle, feed)
        else:
            told = self._write.say("battery and inverter in one box, wired by its maker")
            self.signs.text((_UNITS_END + self._box_x()) / 2, feed - 12, [told])
        has_bar = self.circuit.inverter_units > 1
        if has_bar:
            self.signs.wire((_BAR_X, feed + 4), (_BAR_X, inverters[-1] - 4), heavy=True)
        if bars is not None:
            x, last = (_PLUS_X, strings[-1]) if is_bar else (_BAR_X, inverters[-1])
            self.signs.text(x + 5, last - 6, self.signs.labels(bars), middle=False)
        self._minus(strings, inverters)
        for height in inverters:
            self._branch(height)

    def _heights(self, count: int) -> list[float]:
        return [self.top - _ROW * (place + 0.5) for place in range(_shown(count))]

    def _gaps(self, strings: list[float], inverters: list[float]) -> None:
        """Say how many strings and inverters there are where not all are drawn."""
        for count, heights, x in (
            (self.circuit.strings, strings, _UNITS_X + 20),
            (self.circuit.inverter_units, inverters, self._box_x() + _BOX[0] / 2),
        ):
            if count > len(heights):
                told = self._write.say("… {n} in all", n=count)
                self.signs.text(x, (heights[-2] + heights[-1]) / 2 - 2, [told])

    def _string(self, y: float) -> None:
        circuit = self.circuit
        drawn = circuit.series if circuit.series <= _MOST_UNITS else 1
        step = (_UNITS_END - _UNITS_X) / drawn
        text = self._write.say("– {volts:figure} V +", volts=circuit.unit_v)
        if drawn < circuit.series:
            text = self._write.say(
                "– {n} × {volts:figure} V +", n=circuit.series, volts=circuit.unit_v
            )
        self.signs.wire((_MINUS_X, y), (_PLUS_X, y))
        for place in range(drawn):
            self.signs.unit(_UNITS_X + place * step, y, (step - 6, _UNIT_HIGH), text)
        fuse = circuit.part(PartKind.STRING_FUSE) or circuit.part(PartKind.INVERTER_FUSE)
        isolator = circuit.part(PartKind.STRING_ISOLATOR)
        for part, sign, at in (
            (fuse, self.signs.fuse, _FUSE_AT),
            (isolator, self.signs.switch, _ISOLATOR_AT),
        ):
            if part is None:
                continue
            sign(_UNITS_END + at, y, part)
            name, *rated = self.signs.labels(part)
            self.signs.text(_UNITS_END + at, y - 10.5, rated)
            if y > self.top - _ROW:
                self.signs.text(_UNITS_END + at, y + 13, [name])

    def _pre_charge(self, middle: float, feed: float) -> None:
        part = self.circuit.part(PartKind.PRE_CHARGE)
        if part is None:
            return
        y = feed - 13
        left, right = middle - HALF - 5, middle + HALF + 5
        self.signs.wire((left, feed), (left, y), (right, y), (right, feed))
        self.signs.part(middle, y, part, (14.0, 5.0))
        self.signs.text(middle, y - 9.5, self.signs.labels(part))

    def _minus(self, strings: list[float], inverters: list[float]) -> None:
        """Draw the way back: from the last string through the shunt to the inverters."""
        right = self.right - _RIGHT_MINUS
        self.signs.wire((_MINUS_X, strings[-1]), (_MINUS_X, self.foot), (right, self.foot))
        has_bar = self.circuit.inverter_units > 1
        self.signs.wire((right, self.foot), (right, inverters[0]), heavy=has_bar)
        shunt = self.circuit.part(PartKind.SHUNT)
        if shunt is not None:
            self.signs.part(_UNITS_END, self.foot, shunt, (16.0, 6.0))
            self.signs.text(_UNITS_END, self.foot - 11, [", ".join(self.signs.labels(shunt))])
        self.signs.text(_MINUS_X, strings[0] + 8, ["–"])
        self.signs.text(_PLUS_X, strings[0] + 8, ["+"])

    def _branch(self, y: float) -> None:
        """Draw one inverter with its own fuse and cable."""
        fuse = self.circuit.part(PartKind.INVERTER_FUSE)
        cable = self.circuit.part(PartKind.BATTERY_CABLE)
        left = self._box_x()
        self.signs.wire((_BAR_X, y), (left, y))
        self.signs.wire((left + _BOX[0], y), (self.right - _RIGHT_MINUS, y))
        parts = [cable]
        if fuse is not None and self.circuit.part(PartKind.STRING_FUSE) is not None:
            self.signs.fuse(_BAR_X + 18, y, fuse)
            parts = [fuse, cable]
        told = [words.rating(self._write, one) for one in parts if one is not None]
        self.signs.text(_BAR_X + 36, y - 10.5, [", ".join(one for one in told if one)])
        volts = self._write.say("{volts} V", volts=self.circuit.voltage_v)
        self.signs.box(left, y - _BOX[1] / 2, _BOX, [self.circuit.inverter, volts])

    def _box_x(self) -> float:
        return self.right - _BOX[0] - _RIGHT_MINUS - 9


class _MainsSide:
    """From the supply, left, through the inverters to the loads, right; earth at the foot."""

    def __init__(self, drawing: LayoutDrawing, signs: Signs) -> None:
        self.signs, self.circuit, self._write = signs, drawing.circuit, drawing._write
        self.width, self.inverter = drawing.width, drawing.inverter
        self.y, self.earth_y = 72.0, 22.0

    def draw(self) -> None:
        write, signs, y = self._write, self.signs, self.y
        wide = 62.0
        signs.box(0, y - 14, (wide, 28), [write.say("grid"), write.say("service fuse")])
        x, end = wide + 34, self.width - 62
        signs.wire((wide, y), (end, y))
        switch = self.circuit.part(PartKind.GENERATOR_SWITCH)
        if switch is not None:
            self._generator(x, switch)
            x += 62
        for kind in (PartKind.SUPPLY_BREAKER, PartKind.SURGE_PROTECTION):
            part = self.circuit.part(kind)
            if part is not None and kind is PartKind.SUPPLY_BREAKER:
                signs.switch(x, y, part, breaks=True)
                signs.text(x, y + 20, signs.labels(part))
            elif part is not None:
                self._surge(x, part)
            x += 44
        middle = x + 26
        signs.box(middle - 40, y - 16, (80, 32), [write.say("inverter-charger"), self.inverter])
        self._to_earth(middle)
        x = middle + 74
        for kind in (PartKind.OUTPUT_BREAKER, PartKind.RCD):
            part = self.circuit.part(kind)
            if part is not None:
                signs.switch(x, y, part, breaks=True)
                signs.text(x, y + 20, signs.labels(part))
            x += 48
        signs.box(end, y - 14, (62, 28), [write.say("essential"), write.say("circuits")])

    def _generator(self, x: float, switch: CircuitPart) -> None:
        signs, y = self.signs, self.y
        signs.switch(x, y, switch)
        signs.text(x, y + 26, signs.labels(switch))
        signs.wire((x, y - 4), (x, y - 20))
        signs.box(x - 26, y - 34, (52, 14), [self._write.say("generator")])

    def _surge(self, x: float, part: CircuitPart) -> None:
        signs, y = self.signs, self.y
        signs.wire((x, y), (x, self.earth_y))
        signs.part(x, y - 22, part, (9.0, 15.0))
        signs.text(x - 44, y - 24, signs.labels(part))

    def _to_earth(self, x: float) -> None:
        """Draw the protective conductor and what is bonded, down to the main earth terminal."""
        signs, y = self.signs, self.earth_y
        signs.wire((x, self.y - 16), (x, y))
        signs.wire((40, y), (self.width - 40, y), heavy=True)
        signs.earth(52, y - 6)
        signs.wire((52, y), (52, y - 6))
        signs.text(62, y - 9, [self._write.say("main earth terminal")], middle=False)
        for kind, at in ((PartKind.EARTHING_CONDUCTOR, x), (PartKind.BONDING_CONDUCTOR, x + 110)):
            part = self.circuit.part(kind)
            if part is not None:
                signs.text(at + 4, y + 6 + TINY, [", ".join(signs.labels(part))], middle=False)
        bond = self.circuit.part(PartKind.NEUTRAL_BOND)
        if bond is not None:
            told = self._write.say(
                "{part}: open question to the installer", part=signs.labels(bond)[0]
            )
            signs.text(self.width - 120, y - 9, [told])
        signs.text(150, y - 9, [self._write.say("dashed: not yet known")], middle=False)


def _shown(count: int) -> int:
    return min(count, _MOST_ROWS)
