"""The one door: a site file and a catalog → a whole `Job`, or every fault at once."""

from pathlib import Path
from typing import Any

from optimizer.errors import Fault, InputError
from optimizer.files.place import Place
from optimizer.inputs.built import found_right
from optimizer.inputs.catalog import find_table, read_catalog
from optimizer.inputs.demo import site_file
from optimizer.inputs.faults import FILE, MISSING, shown
from optimizer.inputs.loads import read_loads
from optimizer.inputs.outages import read_outages
from optimizer.inputs.site import make_site, read_site, site_from
from optimizer.inputs.site_file import SiteFile
from optimizer.inputs.toml_text import SectionFile
from optimizer.model.job import Job
from optimizer.model.phrase import Phrase
from optimizer.model.warning import JobWarning, WarningKind

#: The hottest place on Earth has a yearly mean below this [°C] (from memory): who gives more has
#: likely given degrees Fahrenheit.
_HOTTEST_MEAN_DEGC = 40.0


def load(site: str | Path, catalog: str | Path | None = None) -> Job:
    """Read a site and its price list.

    Parameters
    ----------
    site : str or Path
        A site file, a folder that holds ``site.toml``, or the name of a bundled demo site.
    catalog : str or Path, optional
        Folder of the price list, instead of the one the site names.

    Raises
    ------
    InputError
        With every fault of every file.
    """
    return load_job(site_file(site), catalog)


def load_job(site_path: str | Path, catalog: str | Path | None = None) -> Job:
    """Return the job of a site file, as `load`.

    >>> load_job("nowhere.toml")
    Traceback (most recent call last):
    ...
    optimizer.errors.InputError: nowhere.toml: found no such file; wanted a site file (TOML)
    """
    faults: list[Fault] = []
    site = read_site(Path(site_path), faults)
    return _assemble(site, catalog_folder(site, catalog, faults), faults)


def job_from_data(data: dict[str, Any], folder: Place) -> Job:
    """Return the job of a site's sections and tables in a folder; InputError with every fault."""
    faults: list[Fault] = []
    site = site_from(SectionFile("site.toml", data, {}), folder, faults)
    return _assemble(site, folder, faults)


def _assemble(site: SiteFile | None, folder: Place | None, faults: list[Fault]) -> Job:
    warnings: list[JobWarning] = []
    loads = read_loads(site, faults, warnings) if site is not None else ()
    outages = read_outages(site, faults, warnings) if site is not None else None
    if site is not None and site.values.get("mean_degc", 0.0) > _HOTTEST_MEAN_DEGC:
        mean = {"mean_degc": float(site.values["mean_degc"])}
        warnings.append(JobWarning(WarningKind.HOT_ROOM, mean))
    offered = read_catalog(folder, site, faults, warnings) if folder is not None else None
    if site is not None:  # what only the other files show about the site file belongs to it
        faults.sort(key=lambda fault: fault.file != site.source.file)
    if faults or site is None or outages is None or offered is None:
        raise InputError(faults)
    return found_right(Job(make_site(site), loads, outages, offered, tuple(warnings)))


def catalog_folder(
    site: SiteFile | None, catalog: str | Path | None, faults: list[Fault]
) -> Place | None:
    """Return the catalog's folder: the argument, the site's key, or the site's own folder."""
    wanted = Phrase("the folder that holds batteries.csv and the other tables")
    folder: Place
    if catalog is not None:
        folder = Path(catalog)
    elif site is None or any(fault.column == "site.catalog" for fault in faults):
        return None
    elif "catalog" in site.values:
        own = site.place("site.catalog", faults)
        if own is None:
            return None
        folder, found = own, shown(site.values["catalog"])
    elif find_table(site.folder, "batteries"):
        return site.folder
    else:
        found = Phrase("no catalog, and no batteries.csv or batteries.xlsx beside the site file")
        right = Phrase("catalog = {folder}", folder=wanted)
        faults.append(site.fault("site.catalog", found, right, MISSING))
        return None
    try:
        if folder.is_dir():
            return folder
        problem = Phrase("a file") if folder.exists() else Phrase("no such folder")
    except (OSError, ValueError) as error:
        problem = Phrase("it cannot be read ({reason})", reason=str(error))
    if catalog is None and site is not None:
        found = Phrase("{found}, {problem}", found=found, problem=problem)
        faults.append(site.fault("site.catalog", found, wanted, FILE))
    else:
        faults.append(Fault(str(catalog), None, None, problem, wanted, FILE))
    return None
