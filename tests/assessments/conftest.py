"""What many tests of keys, panels and papers begin with."""

from __future__ import annotations

import pytest

from assessments.models import Candidate, Paper
from courses.models import Edition, Fault
from shared.accounts.models import Membership
from tests import makers
from tests.conftest import Cast
from tests.makers.papers import make_candidate, make_set_paper


@pytest.fixture
def shoulder(edition: Edition) -> Fault:
    return makers.make_fault(edition)


@pytest.fixture
def back(edition: Edition) -> Fault:
    return makers.make_back(edition)


@pytest.fixture
def third(cast: Cast) -> Membership:
    """A second mentor, and so the third who may mark for a panel."""
    return makers.make_mentor(cast.club, "Thora Garrioch")


@pytest.fixture
def paper(cast: Cast, edition: Edition) -> Paper:
    return make_set_paper(edition, cast.educator)


@pytest.fixture
def candidate(cast: Cast, paper: Paper) -> Candidate:
    """The trainee."""
    return make_candidate(paper, cast.trainee, cast.educator)
