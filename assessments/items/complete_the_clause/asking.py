"""What is asked: {"text": the clause's words, "gaps": [[start, end], …], "typed": bool, "decoys": [words, …]}.

The text is a copy, so that what was asked stays what it was.
"""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from assessments.items.asking import AskingForm
from assessments.items.complete_the_clause.wording import Word, bare, gaps_at, left_out, words_of
from assessments.models import Item
from assessments.queries.quizzes import published_key
from assessments.scoring.gaps import plain
from courses.models import Clause
from shared.web.limits import GAPS_PER_CLAUSE, WORDS_PER_GAP

BEGINNING = 60  # letters of a clause by which it is known in a list


class CompletingForm(AskingForm):
    """A clause, the words left out of it, and how they are to be filled in."""

    words = forms.TypedMultipleChoiceField(label=_("Words left out"), coerce=int, required=False)
    typed = forms.TypedChoiceField(
        label=_("The words are"),
        choices=[("typed", _("typed")), ("", _("chosen among some"))],
        coerce=lambda value: value == "typed",
        empty_value=False,
        required=False,
        initial="typed",
        widget=forms.RadioSelect,
    )
    decoys = forms.CharField(
        label=_("Other words offered"),
        required=False,
        max_length=600,
        widget=forms.Textarea(attrs={"rows": 2}),
        help_text=_(
            "One on each line, offered beside the words left out. Only where the words are chosen among some."
        ),
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        clause = self.fields["clause"]
        clause.required, clause.empty_label = True, _("choose a clause")
        clause.label_from_instance = lambda row: f"{row.number}  {bare(row.text)[:BEGINNING]}"
        self.text = self._text()
        self.shown_words = words_of(self.text)
        self.fields["words"].choices = [(word.place, word.text) for word in self.shown_words]

    def _text(self) -> str:
        """The words of the clause that is chosen now; of an item whose key is published, those it keeps."""
        chosen = str((self.data if self.is_bound else self.asked).get("clause", ""))
        if self.item and chosen in ("", str(self.item.clause_id)) and published_key(self.item):
            return str(self.item.asking["text"])
        if self.item and not chosen and not self.is_bound:
            chosen = str(self.item.clause_id or "")
        found = Clause.objects.filter(edition=self.edition, pk=int(chosen)) if chosen.isdecimal() else None
        row = found.first() if found is not None else None
        return bare(row.text) if row else ""

    @property
    def ticked_words(self) -> set[int]:
        """The places of the words to be left out."""
        if self.is_bound:
            return {int(place) for place in self.data.getlist("words") if place.isdecimal()}
        if self.item and self.text == self.item.asking["text"]:
            return {word.place for word in self.shown_words if _within(word, self.item.asking["gaps"])}
        return set()

    def clean_words(self) -> list[int]:
        """At least one word, and not too many gaps."""
        places = self.cleaned_data["words"]
        if not places:
            raise forms.ValidationError(_now("Tick the words that are left out."))
        if len(gaps_at(self.text, places)) > GAPS_PER_CLAUSE:
            raise forms.ValidationError(_now("At most %(n)d gaps.") % {"n": GAPS_PER_CLAUSE})
        return places

    def clean_decoys(self) -> list[str]:
        """Each once, none empty."""
        lines = [" ".join(line.split()) for line in self.cleaned_data["decoys"].splitlines()]
        decoys = list(dict.fromkeys(line for line in lines if plain(line)))
        if len(decoys) > WORDS_PER_GAP:
            raise forms.ValidationError(_now("At most %(n)d.") % {"n": WORDS_PER_GAP})
        return decoys

    def clean(self) -> dict[str, Any]:
        """What is offered beside must be wrong, and where words are chosen something must be."""
        cleaned = super().clean() or self.cleaned_data
        if "words" not in cleaned or "decoys" not in cleaned or cleaned.get("typed"):
            return cleaned
        right = {plain(words) for words in left_out(self.text, gaps_at(self.text, cleaned["words"]))}
        if twice := [words for words in cleaned["decoys"] if plain(words) in right]:
            self.add_error("decoys", _now("“%(words)s” is one of the words left out.") % {"words": twice[0]})
        elif len(right) + len(cleaned["decoys"]) < 2:
            self.add_error("decoys", _now("Offer at least one other word."))
        return cleaned

    def asking(self) -> dict[str, Any]:
        """See the module."""
        return {
            "text": self.text,
            "gaps": gaps_at(self.text, self.cleaned_data["words"]),
            "typed": self.cleaned_data["typed"],
            "decoys": [] if self.cleaned_data["typed"] else self.cleaned_data["decoys"],
        }

    def initial_of(self, item: Item) -> dict[str, Any]:
        """The fields as they were; the words are ticked by themselves."""
        return super().initial_of(item) | {
            "typed": "typed" if item.asking["typed"] else "",
            "decoys": "\n".join(item.asking["decoys"]),
        }


def _within(word: Word, gaps: list[list[int]]) -> bool:
    return any(start <= word.start and word.end <= end for start, end in gaps)
