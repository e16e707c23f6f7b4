"""A fault stays on the list while a key accepts it as another name."""

import pytest

from assessments.models import KeyEntry
from courses.actions.fault import remove_fault
from courses.models import Fault
from courses.refusals import Refused
from tests import makers


def test_a_fault_that_a_key_accepts_beside_another_is_not_removed(cast):
    edition = makers.make_edition(cast.club)
    makers.make_open_quiz(edition, cast.educator, items=2)
    accepted = makers.make_fault(edition, name="Steep front", figure="")
    entry = KeyEntry.objects.exclude(fault=None).first()
    entry.also = [{"fault": accepted.pk, "credit": 0.5}]
    entry.save()
    with pytest.raises(Refused, match=r"“Steep front” stays on the list, since it is in use: .*[(]1[)]"):
        remove_fault(fault=accepted)
    assert Fault.objects.filter(pk=accepted.pk).exists()
    entry.also = []
    entry.save()
    remove_fault(fault=accepted)
    assert not Fault.objects.filter(name="Steep front").exists()
