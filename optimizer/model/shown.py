"""How a field is written in JSON, said on the field itself."""

from dataclasses import dataclass
from typing import Annotated

#: A number that may be infinite: JSON writes null then.
Unbounded = Annotated[float, "null where it has no bound"]

_NAME = "shown"


@dataclass(frozen=True, slots=True)
class Shown:
    """How a field is written.

    Parameters
    ----------
    key : str or None
        The key, where it is not the field's name.
    take : tuple of str
        What is taken of the object that stands in the field: one member stands under the key
        itself, several stand beside the other keys.
    inline : bool
        All of the object's members stand beside the other keys.
    hide : bool
        Not written.
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
