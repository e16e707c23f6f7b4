"""`{% picture exhibit sizes="50vw" %}`: an exhibit in the formats and sizes the reader's device wants.

The page tells of the picture only its size and the words for those who cannot see it: never a verdict or
a fault. A picture that may not be shown today is a labelled blank of the same shape, without a cause.
"""

from __future__ import annotations

from django import template
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from courses.models import Exhibit, Rendition
from courses.models.choices import Sex
from courses.queries.permission import may_be_shown
from shared.pictures.renditions import FORMATS, MEDIA_TYPES

register = template.Library()
# Readers that know no srcset get this width or the next wider one.
PLAIN_WIDTH = 960


@register.inclusion_tag("courses/exhibit/_picture.html", takes_context=True)
def picture(
    context: template.Context,
    exhibit: Exhibit,
    sizes: str,
    alt: str | None = None,
    loading: str = "lazy",
    drafts: bool = False,
) -> dict[str, object]:
    """Needs the exhibit's renditions and permissions prefetched (`queries.exhibit.with_pictures`).

    `sizes` is the attribute of that name. `alt` replaces the exhibit's description. `drafts` shows the
    picture whatever its state, on pages of those who prepare it.
    """
    shape = {"width": exhibit.width or 4, "height": exhibit.height or 3}
    renditions = list(exhibit.renditions.all())
    if not renditions or not (drafts or may_be_shown(exhibit, timezone.localdate())):
        return {"blank": True, **shape}
    slug = context["request"].club.slug
    made = {each.format for each in renditions}
    jpegs = [each for each in renditions if each.format == "jpeg"]
    return {
        "sources": [_source(slug, kind, renditions) for kind in FORMATS if kind in made],
        "plain": _address(slug, next((each for each in jpegs if each.width >= PLAIN_WIDTH), jpegs[-1])),
        "sizes": sizes,
        "alt": words_for(exhibit) if alt is None else alt,
        "loading": loading,
        **shape,
    }


def words_for(exhibit: Exhibit) -> str:
    """What a screen reader says of the picture."""
    if exhibit.description:
        return exhibit.description
    said = [_("Exhibit %(number)s") % {"number": exhibit.number}, exhibit.get_view_display()]
    if exhibit.sex != Sex.UNSAID:
        said.append(exhibit.get_sex_display())
    return ", ".join(str(part) for part in [*said, exhibit.get_age_class_display()])


def _source(slug: str, kind: str, renditions: list[Rendition]) -> dict[str, str]:
    mine = [each for each in renditions if each.format == kind]
    return {
        "type": MEDIA_TYPES[kind],
        "srcset": ", ".join(f"{_address(slug, each)} {each.width}w" for each in mine),
    }


def _address(slug: str, rendition: Rendition) -> str:
    return reverse("picture", args=[slug, rendition.name])
