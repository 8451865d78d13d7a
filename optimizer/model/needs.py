"""What the marks on loads say: whose health hangs on which, what serves only with another."""

from collections.abc import Sequence

from optimizer.model.job import Load


def groups(loads: Sequence[Load]) -> list[list[Load]]:
    """Return loads in their order, those that serve only together in one group.

    A load whose partner is not among them stands alone.
    """
    found = {load.load: [load] for load in loads}
    for load in loads:
        own, partner = found[load.load], found.get(load.only_with or "", [])
        if partner and partner is not own:
            merged = sorted([*own, *partner], key=loads.index)
            found |= {one.load: merged for one in merged}
    return list({id(group): group for group in found.values()}.values())


def staying_on(loads: Sequence[Load]) -> list[Load]:
    """Return the loads that nobody is ever told to switch off, with what serves only with them."""
    together = (group for group in groups(loads) if any(load.stays_on for load in group))
    return [load for group in together for load in group]
