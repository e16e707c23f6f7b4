"""The four roles a member of a club may hold, several at once."""

from django.db import models
from django.utils.translation import gettext_lazy as _


class Role(models.TextChoices):
    """In the order in which their work stands in the running head."""

    TRAINEE = "trainee", _("trainee")
    EDUCATOR = "educator", _("educator")
    MENTOR = "mentor", _("mentor")
    SECRETARY = "secretary", _("secretary")
