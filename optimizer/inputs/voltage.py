"""The nominal class of a battery's voltage, by which units are put in series."""

from typing import Final

from optimizer.model.phrase import Phrase

#: Voltages of a system, battery side [V].
SYSTEM_VOLTAGES: Final = (12, 24, 48)
#: Nominal voltages of units [V], and the shares of one within which a unit's own voltage lies:
#: from 0.95, so that a unit named by a rounded value fits, to 1.10, for four lithium iron
#: phosphate cells of 3.2 V in the place of 12 V (1.067). Common practice.
CLASSES_V: Final = (2, 3, 6, 8, 12, 24, 48)
CLASS_LOW: Final = 0.95
CLASS_HIGH: Final = 1.10
_TOLERANCE: Final = 1e-9


def voltage_class(voltage_v: float) -> int | None:
    """Return the nominal class of a battery's voltage [V], or None where it fits none.

    >>> voltage_class(12.8), voltage_class(51.2), voltage_class(128.0)
    (12, 48, None)
    """
    for class_v in CLASSES_V:
        low, high = CLASS_LOW * class_v, CLASS_HIGH * class_v
        if low * (1 - _TOLERANCE) <= voltage_v <= high * (1 + _TOLERANCE):
            return class_v
    return None


def class_words(voltage_v: float) -> Phrase:
    """Return what a voltage without a class should be, with a guess at a wrecked decimal."""
    classes = ", ".join(map(str, CLASSES_V))
    low, high = f"{CLASS_LOW:.2f}", f"{CLASS_HIGH:.2f}"
    wanted = Phrase(
        "a voltage within {low}…{high} times one of {classes} V",
        low=low,
        high=high,
        classes=classes,
    )
    for moved in (voltage_v / 10, voltage_v * 10, voltage_v / 100):
        class_v = voltage_class(moved)
        if class_v is not None:
            return Phrase(
                "{wanted}; a misplaced decimal? {moved} V is of the {class_v} V class",
                wanted=wanted,
                moved=f"{moved:g}",
                class_v=str(class_v),
            )
    return wanted
