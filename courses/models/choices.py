"""Words from which the models choose; see the glossary in DEVELOPERS.md."""

from django.db import models
from django.utils.translation import gettext_lazy as _


class Zone(models.TextChoices):
    """A part of the dog in which faults are looked for."""

    HEAD = "head", _("head")
    NECK = "neck", _("neck")
    FOREQUARTERS = "forequarters", _("forequarters")
    BODY = "body", _("body")
    TOPLINE = "topline", _("topline")
    HINDQUARTERS = "hindquarters", _("hindquarters")
    FEET = "feet", _("feet")
    TAIL = "tail", _("tail")
    COAT = "coat", _("coat")
    WHOLE = "whole", _("whole dog")


class View(models.TextChoices):
    """From where the dog is seen."""

    PROFILE = "profile", _("profile")
    FRONT = "front", _("front")
    REAR = "rear", _("rear")
    HEAD = "head", _("head")
    MOUTH = "mouth", _("mouth")
    FEET = "feet", _("feet")
    ABOVE = "above", _("above")


class Sex(models.TextChoices):
    """Of the dog shown."""

    DOG = "dog", _("dog")
    BITCH = "bitch", _("bitch")
    UNSAID = "unsaid", _("not said")


class AgeClass(models.TextChoices):
    """Youngsters are still making: clauses are read with the age in mind."""

    PUPPY = "puppy", _("puppy")
    JUNIOR = "junior", _("junior")
    ADULT = "adult", _("adult")
    VETERAN = "veteran", _("veteran")


class Verdict(models.TextChoices):
    """What the club says of an exhibit."""

    UNSAID = "unsaid", _("not said")
    CORRECT = "correct", _("Correct")
    INCORRECT = "incorrect", _("Incorrect")


class State(models.TextChoices):
    """How far something has got on its way to trainees."""

    DRAFT = "draft", _("draft")
    PUBLISHED = "published", _("published")
    WITHDRAWN = "withdrawn", _("withdrawn")


class Camera(models.TextChoices):
    """How a picture was taken, which says how far its angles can be trusted."""

    UNKNOWN = "unknown", _("not known")
    GOOD = "good", _("square on, level, from 4 m or more")
    POOR = "poor", _("close, or from standing height")
    EXACT = "exact", _("drawn")
