"""What a person says of themselves."""

from django import forms

from shared.accounts.models import Person


class NameForm(forms.ModelForm):
    """The name under which a person appears."""

    class Meta:
        model = Person
        fields = ["name"]
        widgets = {"name": forms.TextInput(attrs={"autocomplete": "name"})}
