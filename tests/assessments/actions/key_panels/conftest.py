"""An item that was never published, a panel of three on it, and one that agreed."""

import pytest

from tests import makers
from tests.assessments.actions.key_panels.steps import closed
from tests.makers import SHOULDER, make_key_panel, make_marking, marked


@pytest.fixture
def item(cast, edition):
    return makers.make_draft_item(edition, cast.educator)


@pytest.fixture
def panel(cast, item, third):
    return make_key_panel(item, cast.educator, cast.educator, cast.mentor, third)


@pytest.fixture
def agreed(cast, panel, third, shoulder):
    """A closed panel that agrees on the shoulder."""
    for who in (cast.educator, cast.mentor, third):
        make_marking(panel, who, marked(shoulder, SHOULDER))
    return closed(panel, cast)
