"""What a reader has read is noted as they go."""

from __future__ import annotations

from datetime import timedelta

from django.db import transaction
from django.utils import timezone

from courses.models import Module, Place, Progress
from shared.accounts.models import Person

# Within this time, looking at pages read before is not noted again.
NOTED_AFTER = timedelta(minutes=10)


@transaction.atomic
def note_reading(*, person: Person, place: Place) -> Progress:
    """Note that the person has got to a place. Reading earlier places again does not take them back."""
    now = timezone.now()
    progress, begun = Progress.objects.select_related("place").get_or_create(
        person=person, module_id=place.module_id, defaults={"place": place, "begun_at": now, "last_at": now}
    )
    further = progress.place is None or progress.place.position < place.position
    if not begun and (further or now - progress.last_at > NOTED_AFTER):
        progress.place = place if further else progress.place
        progress.last_at = now
        progress.save(update_fields=["place", "last_at"])
    return progress


@transaction.atomic
def finish_module(*, person: Person, module: Module) -> Progress:
    """Note that the person has read a module to its end; finishing again keeps the first day."""
    now = timezone.now()
    progress, _begun = Progress.objects.get_or_create(person=person, module=module)
    progress.finished_at = progress.finished_at or now
    progress.last_at = now
    progress.save(update_fields=["finished_at", "last_at"])
    return progress
