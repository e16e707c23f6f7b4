"""The name of a person, and what stands in its place once the person is erased."""

from __future__ import annotations

from django.db import models
from django.utils.translation import gettext as _

FORMER = "former/"


class FormerName(str):
    """What is read where a name was, in the reader's language; `kept` is what the row holds."""

    kept: str

    def __new__(cls, kept: str) -> FormerName:
        words = {
            "trainee": _("a former trainee"),
            "educator": _("a former educator"),
            "mentor": _("a former mentor"),
            "secretary": _("a former secretary"),
        }
        made = super().__new__(cls, words.get(kept.removeprefix(FORMER), _("a former member")))
        made.kept = kept
        return made


class PersonName(models.CharField):
    """A name as it is; of someone erased the row holds "former/" and a role, which is read as words."""

    def from_db_value(self, value: str | None, *args: object) -> str | None:
        """Names and words come out alike, in every list and by every join."""
        return FormerName(value) if value is not None and value.startswith(FORMER) else value

    def value_to_string(self, obj: models.Model) -> str:
        """A dump holds what the row holds."""
        return str(self.get_prep_value(self.value_from_object(obj)))

    def get_prep_value(self, value: object) -> object:
        """Words go back as what the row holds, whatever language they were read in."""
        return super().get_prep_value(value.kept if isinstance(value, FormerName) else value)
