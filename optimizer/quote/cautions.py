"""Room notes and cautions for whoever connects a design, by what it is made of."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from optimizer.model.design import Design


def room_notes(design: Design) -> tuple[str, ...]:
    """Return notes on place and clearances (common practice unless a source is named)."""
    return tuple(_room_notes(design))


def _room_notes(design: Design) -> Iterator[str]:
    battery = design.banks[0].battery
    yield "At least 600 mm of free floor in front of bank and inverter; the way out stays free."
    yield "Dry, out of the sun, away from sleeping places, escape routes and heat sources."
    if battery.gas == "none":
        yield (
            "On or before a surface that does not burn, with the maker's clearance on every side; "
            "a smoke alarm in the room."
        )
    else:
        yield "About 10 mm between units for air, room above to lift, top up and measure."
        yield "A tray or floor that acid does not attack; water and goggles within reach."
    if battery.gas == "vented":
        yield "Top up with distilled water after charging, never before; log it."
    if design.banks[0].battery.chemistry != design.banks[-1].battery.chemistry:
        later = ", ".join(dict.fromkeys(bank.battery.chemistry for bank in design.banks[1:]))
        yield f"A later bank is of another chemistry ({later}): charger settings change then."


def cautions(design: Design) -> tuple[str, ...]:
    """Return the cautions of a design, in plain words; none is a statement of compliance."""
    return tuple(_cautions(design))


def _cautions(design: Design) -> Iterator[str]:
    gas = design.banks[0].battery.gas
    yield (
        "This sheet plans, it does not certify. The local code, the makers' instructions and the "
        "judgement of a licensed electrician go before anything written here."
    )
    yield (
        "A battery cannot be switched off: across its poles a dropped spanner melts. Insulated "
        "tools, no rings or watches, poles covered until the last moment; connect the fuse last."
    )
    yield (
        "With the grid off, the sockets behind the inverter are live. Label the board, and isolate "
        "grid and bank both before work."
    )
    if gas == "none":
        yield (
            "Lithium must not be charged below the temperature stated: it is damaged for good, "
            "unseen. Its own management must be able to stop charger and inverter."
        )
        yield (
            "See IEC 62619 for the battery, IEC 62485-5 for its place, NFPA 855 chapter 15 where "
            "it applies (from memory)."
        )
    else:
        yield (
            "Charging lead-acid gives off hydrogen, which explodes at the smallest spark: air the "
            "place first, never smoke there, no switching parts within the distance stated."
        )
        yield "The acid burns skin and eyes: gloves and goggles; rinse long with water."
        yield "See IEC 62485-2 for the place and its ventilation (from memory)."
    yield (
        "Wiring: IEC 60364-5-55 clause 551, -5-57 and -8-2, or NFPA 70 articles 480 and 706, "
        "whichever applies (from memory)."
    )
