"""Every state a person meets, seen through axe-core at both widths, by day and by night."""

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.ui.conftest import Visit
from tests.ui.states import STATES

pytestmark = pytest.mark.slow


#: Those that other tests do not see through axe-core in some other way.
OFTEN = ("first", "fault", "poor", "bank", "sites", "gone", "crowded", "prices")


def pytest_generate_tests(metafunc):
    every = metafunc.config.getoption("--all-states")
    metafunc.parametrize("name", STATES if every else OFTEN)


@pytest.fixture(scope="module")
def person(browser, server, common):
    one = Visit(browser, server, context=common)
    yield one
    one.leave()


def test_nothing_stands_in_anybodys_way(person, name):
    STATES[name](person)
    for width, scheme in ((1440, "light"), (420, "dark")):
        person.looks(width, scheme)
        found = Axe().run(person.page).response["violations"]
        told = [(one["id"], [node["html"][:200] for node in one["nodes"]]) for one in found]
        assert told == [], (width, scheme)
        across = person.page.evaluate("document.querySelector('[data-testid=stMain]').scrollWidth")
        assert across <= width, "nothing to scroll sideways"
    assert not person.page.locator("text=Something went wrong").count()
