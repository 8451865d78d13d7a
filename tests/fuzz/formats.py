"""Every format that is read: a sound file of it, and what reads it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import optimizer
from optimizer import NoDesignError, frontier
from optimizer.files.place import Held
from optimizer.inputs.design_file import load_design
from optimizer.inputs.draft import draft_from_files, raw_table
from optimizer.inputs.job_file import open_job, save_job
from optimizer.inputs.load import load_job
from optimizer.inputs.supplier_list import read_list
from optimizer.quote import read_company
from optimizer.suppliers.conversion import convert
from optimizer.suppliers.mapping import read_mapping
from tests.fuzz import mutations
from tests.site_files import FILES, write_site

if TYPE_CHECKING:
    from random import Random

DEMO = Path(__file__).parents[2] / "catalogs_demo"
GENERATORS = (DEMO / "prices" / "generators.csv").read_text("utf-8")
SITE = FILES["site.toml"] + (
    '\n[generator]\nfuel_price = 1.9\nmax_stored_l = 40\nquiet = "21:00-7:00"\n'
    "\n[supply]\ncontracts = [[3000, 84], [4500, 171]]\npeaks = [[4300, 12, 30]]\n"
)
DESIGN = """\
inverter = "Tide 12"
units = 1
strings = 2
voltage = 12
age_years = 3
paid = 2400
[battery]
chemistry = "agm"
voltage_v = 12
capacity_ah = 100
rate_h = 20
price = 190
mass_kg = 30
"""
COMPANY = """\
[company]
name = "Kettle and Sons"
address = ["Quay 3", "Varrowmouth"]
[quote]
number = "7"
locale = "de"
valid_days = 30
terms = ["Paid in thirty days."]
[payment]
deposit = 0.4
stages = {"At the end" = 0.6}
"""
TABLES = {
    **{name: text for name, text in FILES.items() if name.endswith(".csv")},
    "generators.csv": GENERATORS,
}


class Formats:
    """The formats, over one folder that holds a sound site between two cases."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.site = write_site(folder, {"site.toml": SITE})
        (folder / "generators.csv").write_text(GENERATORS, "utf-8")
        self.job = load_job(self.site)
        self.saved = json.loads(save_job(draft_from_files(self.site)))
        self.mapping = (DEMO / "supplier" / "gorseholm.toml").read_text("utf-8")
        self.list = (DEMO / "supplier" / "gorseholm-2026-11.csv").read_bytes()

    def run(self, dice: Random) -> str:
        """Read one spoilt file; return its name. Whatever is raised is the caller's to judge."""
        kinds = (self.table, self.table, self.table, self.toml, self.toml, self.saved_job)
        return dice.choice((*kinds, self.supplier, self.company, self.design))(dice)

    def _whole(self, dice: Random, name: str, raw: bytes) -> None:
        """Read the site with one file in the place of its own; answer it now and then."""
        place, stood = self.folder / name, self.folder / f"{Path(name).stem}.csv"
        sound = stood.read_bytes() if stood.exists() and stood != place else None
        before = place.read_bytes() if place.exists() else None
        try:
            if sound is not None:
                stood.unlink()
            place.write_bytes(raw)
            job = load_job(self.site)
            optimizer.survey(job)
            if dice.random() < 0.05:
                _answer(job)
        finally:
            place.unlink()
            if before is not None:
                place.write_bytes(before)
            if sound is not None:
                stood.write_bytes(sound)

    def table(self, dice: Random) -> str:
        name = dice.choice(list(TABLES))
        spoilt = mutations.spoil_table(dice, mutations.table_of(TABLES[name]))
        is_book = dice.random() < 0.3 and name not in {"loads.csv", "outages.csv"}
        raw = mutations.as_xlsx(dice, spoilt) if is_book else mutations.as_csv(dice, spoilt)
        if dice.random() < 0.1:
            raw = mutations.spoil_bytes(dice, raw)
        if is_book:
            name = name.replace(".csv", ".xlsx")
        self._whole(dice, name, raw)
        return name

    def toml(self, dice: Random) -> str:
        raw = mutations.spoil_toml(dice, SITE)
        self._whole(
            dice, "site.toml", mutations.spoil_bytes(dice, raw) if dice.random() < 0.1 else raw
        )
        return "site.toml"

    def saved_job(self, dice: Random) -> str:
        raw = mutations.spoil_json(dice, self.saved)
        opened = open_job(
            mutations.spoil_bytes(dice, raw) if dice.random() < 0.1 else raw, "mine.json"
        )
        save_job(opened.draft, opened.kept)
        return "mine.json"

    def supplier(self, dice: Random) -> str:
        mapping, listed = self.mapping.encode(), self.list
        if dice.random() < 0.5:
            mapping = mutations.spoil_toml(dice, self.mapping)
        else:
            listed = mutations.spoil_bytes(dice, listed)
        way = read_mapping(Held({"map.toml": mapping}, "map.toml"))
        found = convert(read_list(Held({"list.csv": listed}, "list.csv")), way)
        raw_table("batteries.csv", found.as_csv())
        return "list.csv"

    def company(self, dice: Random) -> str:
        path = self.folder / "company.toml"
        path.write_bytes(mutations.spoil_toml(dice, COMPANY))
        read_company(path)
        return "company.toml"

    def design(self, dice: Random) -> str:
        path = self.folder / "design.toml"
        path.write_bytes(mutations.spoil_toml(dice, DESIGN))
        load_design(path, self.site, None, self.job)
        return "design.toml"


def _answer(job: optimizer.Job) -> None:
    try:
        frontier(job, max_hours=min(6, job.site.max_hours))
    except NoDesignError:
        return
