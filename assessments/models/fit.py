"""What a key may be used for, by how far its panel agreed."""

from django.db import models
from django.utils.translation import gettext_lazy as _


class Fit(models.TextChoices):
    """Krippendorff's customary limits, see `assessments.scoring.consensus`; a kind whose keys rest
    on something else says itself what they are fit for."""

    EXAMINATION = "examination", _("fit for examination")
    PRACTICE = "practice", _("fit for practice")
    DISCUSSION = "discussion", _("fit for discussion")
