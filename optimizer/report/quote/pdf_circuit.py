"""The circuit, drawn: strings to inverters above, supply to loads below, earth at the foot."""

from typing import Final

from reportlab.platypus import Flowable

from optimizer.model.part import PartKind
from optimizer.quote.circuit import Circuit
from optimizer.report.quote.pdf_circuit_signs import HALF, TINY, Signs
from optimizer.report.quote.pdf_document import Paper
from optimizer.report.words import circuit as words

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
#: Where the line from the supply to the loads stands above the foot, and the earth terminal.
_LINE_Y, _EARTH_Y = 72.0, 22.0


class LayoutDrawing(Flowable):  # type: ignore[misc] # reportlab has no types
    """A circuit: the direct-current side, the alternating-current side, earth."""

    def __init__(self, circuit: Circuit, inverter: str, paper: Paper) -> None:
        super().__init__()
        self.circuit, self.inverter, self._write = circuit, inverter, paper.write
        rows = max(_shown(circuit.strings), _shown(circuit.inverter_units), 2)
        self.width = paper.width
        self.height = _HEAD + rows * _ROW + 26.0 + _MAINS_HIGH
        self._top, self._foot = self.height - _HEAD, _MAINS_HIGH + 16.0
        self._box_x = self.width - _BOX[0] - _RIGHT_MINUS - 9

    def draw(self) -> None:
        """Draw on the page."""
        self._signs = Signs(self.canv, self._write)
        self._direct_side()
        self._mains_side()

    def _direct_side(self) -> None:
        """Draw from the strings, left, to the inverters, right; minus below."""
        signs, circuit = self._signs, self.circuit
        strings, inverters = self._heights(circuit.strings), self._heights(circuit.inverter_units)
        for height in strings:
            self._string(height)
        bars, has_bar = circuit.part(PartKind.BUSBAR), circuit.inverter_units > 1
        is_bar = bars is not None and circuit.strings > 1
        feed = strings[0]  # plus leaves at the first string, minus at the last: opposite corners
        if is_bar:
            signs.wire((_PLUS_X, strings[0] + 4), (_PLUS_X, strings[-1] - 4), heavy=True)
        signs.wire((_MINUS_X, strings[0]), (_MINUS_X, strings[-1]), heavy=is_bar)
        self._gap(circuit.strings, strings, _UNITS_X + 20)
        self._gap(circuit.inverter_units, inverters, self._box_x + _BOX[0] / 2)
        signs.wire((_PLUS_X, feed), (_BAR_X, feed))
        main = circuit.part(PartKind.MAIN_ISOLATOR)
        if main is not None:
            middle = (_PLUS_X + _BAR_X) / 2
            signs.switch(middle, feed, main)
            signs.text(middle, feed + 18, signs.labels(main))
            self._pre_charge(middle, feed)
        else:
            told = self._write.say("battery and inverter in one box, wired by its maker")
            signs.text((_UNITS_END + self._box_x) / 2, feed - 12, [told])
        if has_bar:
            signs.wire((_BAR_X, feed + 4), (_BAR_X, inverters[-1] - 4), heavy=True)
        if bars is not None:
            x, last = (_PLUS_X, strings[-1]) if is_bar else (_BAR_X, inverters[-1])
            signs.text(x + 5, last - 6, signs.labels(bars), middle=False)
        # the way back: from the last string through the shunt to the inverters
        right = self.width - _RIGHT_MINUS
        signs.wire((_MINUS_X, strings[-1]), (_MINUS_X, self._foot), (right, self._foot))
        signs.wire((right, self._foot), (right, inverters[0]), heavy=has_bar)
        shunt = circuit.part(PartKind.SHUNT)
        if shunt is not None:
            signs.part(_UNITS_END, self._foot, shunt, (16.0, 6.0))
            signs.text(_UNITS_END, self._foot - 11, [", ".join(signs.labels(shunt))])
        signs.text(_MINUS_X, feed + 8, ["–"])
        signs.text(_PLUS_X, feed + 8, ["+"])
        for height in inverters:
            self._branch(height)

    def _heights(self, count: int) -> list[float]:
        return [self._top - _ROW * (place + 0.5) for place in range(_shown(count))]

    def _gap(self, count: int, heights: list[float], x: float) -> None:
        """Say how many strings or inverters there are where not all are drawn."""
        if count > len(heights):
            told = self._write.say("… {n} in all", n=count)
            self._signs.text(x, (heights[-2] + heights[-1]) / 2 - 2, [told])

    def _string(self, y: float) -> None:
        signs, circuit = self._signs, self.circuit
        drawn = circuit.series if circuit.series <= _MOST_UNITS else 1
        step = (_UNITS_END - _UNITS_X) / drawn
        text = self._write.say("– {volts:figure} V +", volts=circuit.unit_v)
        if drawn < circuit.series:
            text = self._write.say(
                "– {n} × {volts:figure} V +", n=circuit.series, volts=circuit.unit_v
            )
        signs.wire((_MINUS_X, y), (_PLUS_X, y))
        for place in range(drawn):
            signs.unit(_UNITS_X + place * step, y, (step - 6, _UNIT_HIGH), text)
        fuse = circuit.part(PartKind.STRING_FUSE) or circuit.part(PartKind.INVERTER_FUSE)
        isolator = circuit.part(PartKind.STRING_ISOLATOR)
        for part, sign, at in (
            (fuse, signs.fuse, _FUSE_AT),
            (isolator, signs.switch, _ISOLATOR_AT),
        ):
            if part is None:
                continue
            sign(_UNITS_END + at, y, part)
            name, *rated = signs.labels(part)
            signs.text(_UNITS_END + at, y - 10.5, rated)
            if y > self._top - _ROW:
                signs.text(_UNITS_END + at, y + 13, [name])

    def _pre_charge(self, middle: float, feed: float) -> None:
        part = self.circuit.part(PartKind.PRE_CHARGE)
        if part is None:
            return
        y = feed - 13
        left, right = middle - HALF - 5, middle + HALF + 5
        self._signs.wire((left, feed), (left, y), (right, y), (right, feed))
        self._signs.part(middle, y, part, (14.0, 5.0))
        self._signs.text(middle, y - 9.5, self._signs.labels(part))

    def _branch(self, y: float) -> None:
        """Draw one inverter with its own fuse and cable."""
        signs, left = self._signs, self._box_x
        fuse = self.circuit.part(PartKind.INVERTER_FUSE)
        signs.wire((_BAR_X, y), (left, y))
        signs.wire((left + _BOX[0], y), (self.width - _RIGHT_MINUS, y))
        parts = [self.circuit.part(PartKind.BATTERY_CABLE)]
        if fuse is not None and self.circuit.part(PartKind.STRING_FUSE) is not None:
            signs.fuse(_BAR_X + 18, y, fuse)
            parts = [fuse, *parts]
        told = [words.rating(self._write, one) for one in parts if one is not None]
        signs.text(_BAR_X + 36, y - 10.5, [", ".join(one for one in told if one)])
        volts = self._write.say("{volts} V", volts=self.circuit.voltage_v)
        signs.box(left, y - _BOX[1] / 2, _BOX, [self.circuit.inverter, volts])

    def _mains_side(self) -> None:
        """Draw from the supply, left, through the inverters to the loads, right; earth below."""
        write, signs, y = self._write, self._signs, _LINE_Y
        wide = 62.0
        signs.box(0, y - 14, (wide, 28), [write.say("grid"), write.say("service fuse")])
        x, end = wide + 34, self.width - 62
        signs.wire((wide, y), (end, y))
        switch = self.circuit.part(PartKind.GENERATOR_SWITCH)
        if switch is not None:
            signs.switch(x, y, switch)
            signs.text(x, y + 26, signs.labels(switch))
            signs.wire((x, y - 4), (x, y - 20))
            signs.box(x - 26, y - 34, (52, 14), [write.say("generator")])
            x += 62
        self._breaker(PartKind.SUPPLY_BREAKER, x)
        surge = self.circuit.part(PartKind.SURGE_PROTECTION)
        x += 44
        if surge is not None:
            signs.wire((x, y), (x, _EARTH_Y))
            signs.part(x, y - 22, surge, (9.0, 15.0))
            signs.text(x - 44, y - 24, signs.labels(surge))
        middle = x + 70
        signs.box(middle - 40, y - 16, (80, 32), [write.say("inverter-charger"), self.inverter])
        self._to_earth(middle)
        self._breaker(PartKind.OUTPUT_BREAKER, middle + 74)
        self._breaker(PartKind.RCD, middle + 122)
        signs.box(end, y - 14, (62, 28), [write.say("essential"), write.say("circuits")])

    def _breaker(self, kind: PartKind, x: float) -> None:
        part = self.circuit.part(kind)
        if part is not None:
            self._signs.switch(x, _LINE_Y, part, breaks=True)
            self._signs.text(x, _LINE_Y + 20, self._signs.labels(part))

    def _to_earth(self, x: float) -> None:
        """Draw the protective conductor and what is bonded, down to the main earth terminal."""
        signs, y = self._signs, _EARTH_Y
        signs.wire((x, _LINE_Y - 16), (x, y))
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
