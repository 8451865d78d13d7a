"""A site file's checked keys, and where each stands."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from optimizer.errors import Fault, FaultKind
from optimizer.files.place import Place, leads_outside
from optimizer.inputs.columns import Column, columns_of
from optimizer.inputs.faults import FILE, VALUE, shown
from optimizer.inputs.site_keys import SECTIONS
from optimizer.inputs.toml_text import SectionFile
from optimizer.model.job import Season
from optimizer.model.phrase import Phrase


class SiteFile(NamedTuple):
    """The site file's keys that are as they must be, seasons None where they are not.

    Paths in it start at ``folder``.
    """

    source: SectionFile
    folder: Place
    values: Mapping[str, Any]
    seasons: tuple[Season, ...] | None

    @property
    def generator(self) -> bool:
        """Whether the file asks for one."""
        return isinstance(self.source.content.get("generator"), dict)

    def _column(self, key: str) -> Column:
        section, _, name = key.partition(".")
        return columns_of(SECTIONS[section])[name]

    def place(self, key: str, faults: list[Fault]) -> Place | None:
        """Return where a path of the file leads; None with a fault where a link hides that."""
        path = str(self.values[key.rpartition(".")[2]])
        if leads_outside(self.folder, path):
            found = Phrase("{path}, a link that leads out of the site's folder", path=shown(path))
            faults.append(self.fault(key, found, Phrase("the path of the file itself"), FILE))
            return None
        return self.folder / path

    def value(self, key: str) -> Any:  # noqa: ANN401 - any key's
        """Return what holds for a dotted key, its default where the file leaves it out."""
        column = self._column(key)
        return self.values.get(column.name, column.default)

    def fault(
        self, key: str, found: str, wanted: Phrase | None = None, kind: FaultKind = VALUE
    ) -> Fault:
        """Return a fault at a dotted key; without ``wanted`` the facts about the key say it."""
        return self.source.fault(key, found, wanted or self._column(key).wanted, kind)
