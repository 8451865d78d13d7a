"""How a field is written in JSON, said on the field itself."""

from typing import Annotated, NamedTuple

#: A number that may be infinite: JSON writes null then.
Unbounded = Annotated[float, "null where it has no bound"]

_NAME = "shown"


class Shown(NamedTuple):
    """How a field is written.

    ``key`` stands where it is not the field's name. Of ``take``, members of the object that stands
    there, one stands under the key itself and several beside the other keys; with ``inline`` all
    do; with ``hide`` nothing is written.
    """

    key: str | None = None
    take: tuple[str, ...] = ()
    inline: bool = False
    hide: bool = False


def shown(
    key: str | None = None, *, take: tuple[str, ...] = (), inline: bool = False, hide: bool = False
) -> dict[str, Shown]:
    """Return a field's metadata: ``field(metadata=shown("voltage"))``."""
    return {_NAME: Shown(key, take, inline, hide)}


def shown_of(metadata: object) -> Shown:
    """Return how a field with this metadata is written."""
    found = metadata.get(_NAME) if hasattr(metadata, "get") else None
    return found if isinstance(found, Shown) else Shown()
