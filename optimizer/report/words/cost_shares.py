"""What the shares of the life-cycle cost are called."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.answers.cost_shares import CostShare

if TYPE_CHECKING:
    from optimizer.report.words.writer import Writer


def cost_shares(write: Writer) -> dict[CostShare, str]:
    """Return what each share of the life-cycle cost is called."""
    return {
        CostShare.EQUIPMENT: write.say("equipment"),
        CostShare.LABOUR: write.say("labour"),
        CostShare.REPLACEMENTS: write.say("replacements"),
        CostShare.RUNNING: write.say("energy and upkeep"),
        CostShare.RESIDUAL_VALUE: write.say("residual"),
    }


def cost_fields(write: Writer) -> dict[str, str]:
    """Return what is named of a share of the life-cycle cost, by field."""
    return {"name": write.say("What"), "amount": write.say("Present value")}


def present_value(write: Writer) -> str:
    """Return the title of money in present value."""
    return write.say("Present value, {currency}", currency=write.currency)
