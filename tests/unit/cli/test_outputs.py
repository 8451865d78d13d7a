"""Where commands write: never onto an input, another output, or a list that holds more."""

from __future__ import annotations

from pathlib import Path

import pytest

SUPPLIER = Path(__file__).parents[3] / "catalogs_demo" / "supplier"


@pytest.mark.slow
@pytest.mark.parametrize(
    ("command", "output"),
    [
        (("budget", "--from", 2000, "--to", 3000, "--step", 1000, "-o"), "loads.csv"),
        (("quote", "--options", "2", "-o"), "prices/fuses.csv"),
        (("quote", "--options", "2", "--installer"), "site.csv"),
    ],
)
def test_an_input_is_never_written_over(keeplit, short_house, command, output):
    place = short_house.parent / output
    if output == "site.csv":  # by another name
        place.symlink_to(short_house)
    before = place.read_bytes()
    ran = keeplit(command[0], short_house, *command[1:], place)
    assert ran.status == 2
    assert f"{place}: found a file that the same command reads" in ran.err
    assert place.read_bytes() == before


@pytest.mark.slow
def test_the_customer_never_gets_the_margins(keeplit, short_house, tmp_path):
    one = tmp_path / "customer.csv"
    ran = keeplit("quote", short_house, "--options", "2", "-o", one, "--installer", one)
    assert ran.status == 2
    assert "a name of its own for each output" in ran.err
    assert not one.exists()


def test_a_standing_list_is_not_destroyed(keeplit, tmp_path):
    mine = tmp_path / "batteries.csv"
    words = (SUPPLIER / "gorseholm.toml", SUPPLIER / "gorseholm-2026-11.csv", "--skip-unreadable")
    assert keeplit("prices", *words, "-o", tmp_path).status == 0
    row = "Cell {},lfp,12.8,100,5,9,12,Gorseholm Trading,,2026-01-31\n"
    standing = mine.read_text("utf-8") + "".join(map(row.format, range(32)))
    mine.write_text(standing, "utf-8")
    ran = keeplit("prices", *words, "-o", tmp_path)
    assert ran.status == 2
    assert "38 rows, 6 with the new list, which has no longer Cell 0" in ran.err
    assert "--replace" in ran.err
    assert mine.read_text("utf-8") == standing
    ran = keeplit("prices", *words, "-o", tmp_path, "--replace")
    assert ran.status == 0
    assert f"kept as {tmp_path / 'batteries.before-1.csv'}" in " ".join(ran.out.split())
    assert (tmp_path / "batteries.before-1.csv").read_text("utf-8") == standing
    assert "Cell 0" not in mine.read_text("utf-8")
    ran = keeplit("prices", *words, "-o", tmp_path)  # the same names again
    assert ran.status == 0
    assert len(list(tmp_path.iterdir())) == 2
