"""Every state a person meets, seen through axe-core at both widths, by day and by night."""

import pytest

from tests.ui.conftest import Visit
from tests.ui.states import STATES

pytestmark = pytest.mark.slow
#: Those that other tests do not see through axe-core in some other way, of one job together.
OFTEN = ("bank", "prices", "fault", "poor", "sites", "gone", "crowded")
#: The next state is first seen as the one before it was last.
WINDOWS = [(1440, "light"), (420, "dark")]


def pytest_generate_tests(metafunc):
    every = metafunc.config.getoption("--all-states")
    metafunc.parametrize("name", STATES if every else OFTEN)


@pytest.fixture(scope="module")
def person(server, pages):
    with pages() as page:
        yield Visit(page, server)


def test_nothing_stands_in_anybodys_way(person, name):
    STATES[name](person)
    for width, scheme in WINDOWS:
        person.looks(width, scheme)
        assert person.wrongs() == [], (width, scheme)
        assert person.across() <= width, "nothing to scroll sideways"
    WINDOWS.reverse()
    assert not person.page.locator("text=Something went wrong").count()
