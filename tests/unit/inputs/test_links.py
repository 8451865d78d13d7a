"""What lies outside a site's folder is read only where the site file says so in plain sight."""

import shutil

import pytest

from optimizer import InputError, load
from optimizer.inputs.demo import FOLDER


@pytest.fixture
def site(tmp_path):
    shutil.copytree(FOLDER / "house", tmp_path / "place" / "house")
    shutil.copytree(FOLDER / "prices", tmp_path / "place" / "prices")
    return tmp_path / "place" / "house"


def test_a_path_that_says_so_is_read(site):
    assert 'catalog = "../prices"' in (site / "site.toml").read_text()
    assert load(site).loads


@pytest.mark.parametrize("name", ["loads.csv", "outages.csv"])
def test_a_link_out_of_the_folder_is_not(site, tmp_path, name):
    secret = tmp_path / "secret.csv"
    shutil.move(site / name, secret)
    (site / name).symlink_to(secret)
    with pytest.raises(InputError, match="a link that leads out of the site's folder"):
        load(site)


def test_nor_one_in_a_price_list(site, tmp_path):
    prices = site.parent / "prices"
    shutil.move(prices / "fuses.csv", tmp_path / "secret.csv")
    (prices / "fuses.csv").symlink_to(tmp_path / "secret.csv")
    with pytest.raises(InputError, match="out of the price list's folder"):
        load(site)


def test_a_link_inside_the_folder_is_read(site):
    loads = load(site).loads
    shutil.move(site / "loads.csv", site / "survey.csv")
    (site / "loads.csv").symlink_to("survey.csv")
    assert load(site).loads == loads
