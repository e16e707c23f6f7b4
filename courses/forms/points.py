"""How a photograph was taken, as a form of its own beside the points."""

from __future__ import annotations

from django import forms

from courses.models import Exhibit
from courses.models.choices import Camera


class HowTaken(forms.ModelForm):
    """What is known of the camera's place."""

    class Meta:
        model = Exhibit
        fields = ("camera",)
        widgets = {"camera": forms.RadioSelect}

    def __init__(self, *args: object, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        self.fields["camera"].choices = [each for each in Camera.choices if each[0] != Camera.EXACT]
