"""The four roles a member of a club may hold, several at once."""

from django.db import models
from django.utils.translation import gettext_lazy as _


class Role(models.TextChoices):
    """In the order in which their work stands in the running head."""

    TRAINEE = "trainee", _("trainee")
    EDUCATOR = "educator", _("educator")
    MENTOR = "mentor", _("mentor")
    SECRETARY = "secretary", _("secretary")

    @property
    def work(self) -> str:
        """What a member in this role does here."""
        return WORK[self]


WORK = {
    Role.TRAINEE: _("studies the standard, answers quizzes, keeps a record"),
    Role.EDUCATOR: _("keeps the standard, exhibits, courses, quizzes and their keys"),
    Role.MENTOR: _("looks at trainees’ answers and says what to look for"),
    Role.SECRETARY: _("invites people, gives roles, assigns mentors"),
}
