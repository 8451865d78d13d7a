"""A site file's checked keys, and where each stands."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from optimizer.errors import Fault, FaultKind
from optimizer.files.place import Place, leads_outside
from optimizer.inputs.columns import columns_of
from optimizer.inputs.faults import FILE, VALUE, shown
from optimizer.inputs.site_keys import SECTIONS
from optimizer.inputs.toml_text import SectionFile
from optimizer.model.job import Season
from optimizer.model.phrase import Phrase


class SiteFile(NamedTuple):
    """The site file's keys that are as they must be; paths in it start at ``folder``.

    ``seasons`` is None where they are at fault; ``generator`` tells whether the file asks for one.
    """

    source: SectionFile
    folder: Place
    values: Mapping[str, Any]
    seasons: tuple[Season, ...] | None
    generator: bool

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
        section, _, name = key.partition(".")
        return self.values.get(name, columns_of(SECTIONS[section])[name].default)

    def fault(
        self, key: str, found: str, wanted: Phrase | None = None, kind: FaultKind = VALUE
    ) -> Fault:
        """Return a fault at a dotted key; without ``wanted`` the facts about the key say it."""
        if wanted is None:
            section, _, name = key.partition(".")
            wanted = columns_of(SECTIONS[section])[name].wanted
        return self.source.fault(key, found, wanted, kind)
