"""How a person leaves the rows of assessments."""

from __future__ import annotations

from django.db.models import Q
from django.utils.translation import gettext as _

from assessments.actions.detaching import detach_sittings
from assessments.models import (
    AssessorPanel,
    Candidate,
    CutPanellist,
    MarkChange,
    MentoringSession,
    Panellist,
    PanelSeat,
    SecondMarking,
    Sitting,
)
from shared.accounts.actions.erasure import called, without_name_of
from shared.accounts.erasure import Way, Words, against, first, points, words
from shared.accounts.models import Membership

points(
    {
        "assessments.QuizRules.made_by": Way.STAYS,
        "assessments.Item.made_by": Way.STAYS,
        "assessments.Key.made_by": Way.STAYS,
        "assessments.CutStudy.begun_by": Way.STAYS,
        "assessments.CutStudy.closed_by": Way.STAYS,
        "assessments.CutPanellist.member": Way.STAYS,
        "assessments.Panellist.member": Way.STAYS,
        "assessments.KeyPanelEvent.by": Way.STAYS,
        "assessments.KeyPanelEvent.of": Way.STAYS,
        "assessments.Sitting.trainee": Way.OWN,
        "assessments.EntryResult.trainee": Way.OWN,
        "assessments.FalseAlarm.trainee": Way.OWN,
        "assessments.SatBefore.trainee": Way.GOES,
        "assessments.MarkChange.by": Way.STAYS,
        "assessments.Adjustment.made_by": Way.STAYS,
        "assessments.Notice.member": Way.GOES,
        "assessments.Notice.by": Way.STAYS,
        "assessments.MentoringRules.made_by": Way.STAYS,
        "assessments.MentoringSession.mentor": Way.STAYS,
        "assessments.SessionTrainee.trainee": Way.OWN,
        "assessments.SignOff.trainee": Way.GOES,
        "assessments.SignOff.mentor": Way.STAYS,
        "assessments.SignOff.taken_back_by": Way.STAYS,
        "assessments.AssessorPanel.asked_by": Way.STAYS,
        "assessments.AssessorPanel.told_by": Way.STAYS,
        "assessments.PanelSeat.assessor": Way.STAYS,
        "assessments.Regulations.made_by": Way.STAYS,
        "assessments.Paper.set_by": Way.STAYS,
        "assessments.Paper.released_by": Way.STAYS,
        "assessments.Candidate.member": Way.OWN,
        "assessments.Candidate.invited_by": Way.STAYS,
        "assessments.PaperSitting.typed_by": Way.STAYS,
        "assessments.PaperSitting.settled_by": Way.STAYS,
        "assessments.Mentorship.mentor": Way.GOES,
        "assessments.Mentorship.trainee": Way.GOES,
        "assessments.Review.mentor": Way.STAYS,
        "assessments.Comment.author": Way.STAYS,
        "assessments.Query.settled_by": Way.STAYS,
        "assessments.SecondMarking.asked_by": Way.STAYS,
        "assessments.SecondMarking.first": Way.STAYS,
        "assessments.SecondMarking.second": Way.STAYS,
        "assessments.SecondMarking.settled_by": Way.STAYS,
        "assessments.KeepingRules.made_by": Way.STAYS,
    }
)
MAY_NAME = [
    "Quiz.introduction",
    "Item.title",
    "Key.note",
    "KeyPanel.word",
    "KeyPanel.result",
    "Panellist.content",
    "Adjustment.reason",
    "Notice.text",
    "MentoringSession.subject",
    "MentoringSession.struck_reason",
    "SessionTrainee.reason",
    "SessionTrainee.own_session",
    "SessionTrainee.own_mentor",
    "SignOff.words",
    "SignOff.taken_back_reason",
    "SeatReason.text",
    "PanelWord.text",
    "Regulations.basis",
    "PaperSitting.settled_note",
    "Comment.text",
    "Query.text",
    "Query.reply",
    "SecondMarking.why",
    "SecondMarking.first_words",
    "SecondMarking.second_words",
    "SecondMarking.reason",
]
NAME_NOBODY = [
    "Quiz.title",
    "QuizRules.rules",
    "QuizRules.ladder",
    "Item.asking",
    "Key.content",
    "KeyEntry.regions",
    "KeyEntry.also",
    "CutStudy.items",
    "Figures.data",
    "KeyPanel.ladder",
    "KeyPanel.zones",
    "Adjustment.what",
    "Paper.plan",
    "Paper.rows",
    "Paper.swapped_out",
]
GO = ["Answer.content", "Mark.detail", "LateAnswer.content", "PaperSitting.declaration", "MarkChange.words"]
words({f"assessments.{name}": Words.MAY_NAME for name in MAY_NAME})
words({f"assessments.{name}": Words.NAME_NOBODY for name in NAME_NOBODY})
words({f"assessments.{name}": Words.GO for name in GO})


@first
def take_answers(membership: Membership) -> None:
    """Sittings are nobody's from now on; invitations to papers that were not used go, sessions of theirs alone too."""
    sittings = Sitting.objects.filter(trainee=membership)
    detach_sittings(trainee=membership, sittings=sittings, goes_on=False)
    Candidate.objects.filter(member=membership).delete()
    taken = list(membership.sessions_taken.values_list("session", flat=True))
    membership.sessions_taken.all().delete()
    MentoringSession.objects.filter(pk__in=taken, trainees=None).delete()


@first
def take_name_off_the_record(membership: Membership) -> None:
    """What happened to marks stays on record, without the name of who was asked or decided."""
    rows = MarkChange.objects.filter(
        Q(answer__sitting__trainee__club=membership.club_id) | Q(sitting__trainee__club=membership.club_id)
    )
    for looked_for in called(membership.person):
        rows.filter(words__icontains=looked_for).take_words_out(without_name_of(membership))


@against
def papers_and_panels(membership: Membership) -> list[str]:
    """What is under way and needs the person, or their name, until it is over."""
    return [words for asked in (_papers, _seats, _decisions) for words in asked(membership)]


def _papers(membership: Membership) -> list[str]:
    found = Candidate.objects.filter(member=membership, paper__released_at=None).select_related(
        "paper__quiz", "sitting__sitting"
    )
    reasons = []
    for candidate in found:
        begun = getattr(candidate, "sitting", None)
        if begun is None:
            text = _("A candidate of “%(paper)s”: take the invitation back first.")
        elif begun.sitting.finished_at is None:
            text = _("Sits “%(paper)s” now: wait until it is handed in and its results are released.")
        else:
            text = _("Has sat “%(paper)s”: release its results first.")
        reasons.append(text % {"paper": candidate.paper.quiz.title})
    return reasons


def _seats(membership: Membership) -> list[str]:
    asked = PanelSeat.objects.filter(assessor=membership, decided_at=None, panel__withdrawn_at=None)
    keys = Panellist.objects.filter(member=membership, handed_in_at=None, panel__closed_at=None)
    cuts = CutPanellist.objects.filter(member=membership, given_at=None, study__closed_at=None)
    seconds = SecondMarking.objects.filter(second=membership, second_at=None, withdrawn_at=None)
    return [
        text
        for rows, text in (
            (asked, _("Sits on a panel that has not decided: name another assessor first.")),
            (keys, _("Is asked to mark for a key: close that panel first, or call it off.")),
            (cuts, _("Is asked for estimates for a pass mark: close or withdraw the round first.")),
            (seconds, _("Is asked for a second mark: withdraw that first.")),
        )
        if rows.exists()
    ]


def _decisions(membership: Membership) -> list[str]:
    panels = AssessorPanel.objects.filter(sitting__trainee=membership, withdrawn_at=None, told_at=None)
    if panels.exists():
        return [_("A panel is to decide about them: let it tell them first, or withdraw it.")]
    return []
