"""What keeps rows of other apps from being removed where no foreign key does."""

from __future__ import annotations

from typing import Any

from django.db.models import ProtectedError
from django.db.models.signals import pre_delete
from django.dispatch import receiver

from assessments.models import KeyEntry
from courses.models import Fault


@receiver(pre_delete, sender=Fault)
def keep_accepted_names(instance: Fault, **given: Any) -> None:
    """A fault that a key accepts as another name stays, as one that a key asks for does."""
    entries = KeyEntry.objects.filter(key__item__edition__breed=instance.breed_id).exclude(also=[])
    accepting = {entry for entry in entries if any(row["fault"] == instance.pk for row in entry.also)}
    if accepting:
        raise ProtectedError("A key accepts this fault as another name.", accepting)
