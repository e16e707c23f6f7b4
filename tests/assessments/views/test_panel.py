"""A panel: each decides alone, the count decides, the trainee hears one voice."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from assessments.actions.panels import Reason, ask_assessors, decide, names_in, tell_trainee
from assessments.actions.reviews import adjust_mark, pin_comment
from assessments.actions.sittings import begin_sitting
from assessments.models import AssessorPanel, MarkChange, MentoringRules, PanelSeat
from assessments.rules import Refused
from tests import makers

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def sitting(cast):
    quiz = makers.make_open_quiz(makers.make_edition(cast.club), cast.educator, items=2)
    made = begin_sitting(quiz=quiz, trainee=cast.trainee)
    for answer in made.answers.all():
        makers.make_handed_in(answer)
    made.refresh_from_db()
    return made


@pytest.fixture
def assessors(cast):
    return [
        makers.make_mentor(cast.club, name) for name in ("Thora Garrioch", "Sweyn Manson", "Ragna Velzie")
    ]


@pytest.fixture
def panel(cast, sitting, assessors):
    day = timezone.localdate()
    MentoringRules.objects.create(club=cast.club, effective_from=day, panel_of=3, panel_needed=2)
    return ask_assessors(sitting=sitting, assessors=assessors, by=cast.educator)


def client_of(cast, member):
    client = cast.client("nobody")
    client.force_login(member.person, "django.contrib.auth.backends.ModelBackend")
    return client


def rows(prefix, *reasons):
    sent = {f"{prefix}-TOTAL_FORMS": len(reasons), f"{prefix}-INITIAL_FORMS": 0}
    for place, reason in enumerate(reasons):
        sent |= {f"{prefix}-{place}-{name}": value for name, value in reason.items()}
    return sent


def decided(panel, *said):
    """Each assessor's decision with a reason of their own."""
    answer = panel.sitting.answers.first()
    for seat, passes in zip(panel.seats.order_by("pk"), said, strict=False):
        decide(seat=seat, passes=passes, reasons=[Reason(f"Found by seat {seat.pk}.", answer=answer)])
    panel.refresh_from_db()
    return panel


@pytest.mark.parametrize(
    ("said", "passed"),
    [
        ((True, True, True), True),
        ((True, False, True), True),
        ((False, True, False), False),
        ((True, True), None),
    ],
)
def test_the_count_decides_when_the_last_has_decided(panel, said, passed):
    assert decided(panel, *said).passed is passed
    assert (panel.decided_at is not None) is (passed is not None)


def test_an_assessor_sees_answers_by_number_and_nothing_that_others_said(cast, panel, assessors):
    answer = panel.sitting.answers.first()
    pin_comment(answer=answer, author=cast.mentor, text="A mentor's comment.")
    adjust_mark(answer=answer, mentor=cast.mentor, what="w", points=7, reason="A mentor's reason.")
    decided(panel, False)
    client = client_of(cast, assessors[1])
    for address in (f"panels/{panel.pk}/", f"panels/{panel.pk}/answers/{answer.pk}/", "reviews/"):
        page = client.get(f"{CLUB}/{address}").content.decode()
        for secret in ("Una Halcro", "A mentor", "Thora Garrioch", "Found by seat", "not yet</"):
            assert secret not in page, address
    assert f"Panel on candidate {panel.pk}" in client.get(f"{CLUB}/reviews/").content.decode()


def test_one_who_has_decided_sees_the_others_only_when_all_have(cast, panel, assessors):
    decided(panel, True, False)
    for client in (client_of(cast, assessors[0]), cast.client("educator")):
        page = client.get(f"{CLUB}/panels/{panel.pk}/").content.decode()
        assert "What each decided is shown when all have." in page
        assert "Found by seat" not in page
    decided(AssessorPanel.objects.get(pk=panel.pk), *())
    seat = panel.seats.get(decided_at=None)
    decide(seat=seat, passes=True, reasons=[Reason("The last.", answer=panel.sitting.answers.first())])
    page = client_of(cast, assessors[0]).get(f"{CLUB}/panels/{panel.pk}/").content.decode()
    assert page.count("Found by seat") == 2
    assert "Una Halcro" not in page


def test_a_decision_with_reasons_is_given_once(cast, panel, assessors):
    answer, clause = panel.sitting.answers.first(), panel.sitting.quiz.edition.clauses.get(number="5.1")
    address = f"{CLUB}/panels/{panel.pk}/decide/"
    sent = {"passes": "not yet"} | rows(
        "reasons",
        {"text": "The blade is not found.", "answer": answer.pk, "clause": clause.pk},
        {"text": "", "answer": "", "clause": ""},
    )
    client = client_of(cast, assessors[0])
    assert client.post(address, sent).status_code == 302
    seat = PanelSeat.objects.get(assessor=assessors[0])
    reason = seat.reasons.get()
    assert (seat.passes, reason.text, reason.answer, reason.clause) == (
        False, "The blade is not found.", answer, clause,
    )  # fmt: skip
    assert "You have decided." in client.post(address, sent, follow=True).content.decode()


@pytest.mark.parametrize(
    ("passes", "reason", "error"),
    [
        ("", {"text": "Kept words.", "answer": "first"}, "Choose one of the two."),
        ("pass", {"text": "Kept words."}, "Choose the clause or the answer on which this rests."),
        ("pass", {"text": ""}, "Give at least one reason, tied to a clause or an answer."),
        ("pass", {"text": "", "answer": "first"}, "Say what is found, or choose nothing here."),
        ("pass", {"text": "Kept words.", "answer": "999999"}, "valid choice"),
    ],
)
def test_a_decision_that_rests_on_nothing_is_refused(cast, panel, assessors, passes, reason, error):
    if reason.get("answer") == "first":
        reason = reason | {"answer": panel.sitting.answers.first().pk}
    response = client_of(cast, assessors[0]).post(
        f"{CLUB}/panels/{panel.pk}/decide/", {"passes": passes} | rows("reasons", reason)
    )
    page = response.content.decode()
    assert response.status_code == 422
    assert error in page
    assert reason["text"] in page
    assert not PanelSeat.objects.exclude(decided_at=None).exists()


def test_the_trainee_hears_the_panel_and_no_assessor(cast, panel):
    decided(panel, False, True, False)
    address, answer = f"{CLUB}/panels/{panel.pk}/tell/", panel.sitting.answers.first()
    educator = cast.client("educator")
    assert cast.client("trainee").get(f"{CLUB}/record/panels/{panel.pk}/").status_code == 404
    named = rows("words", {"text": "Thora found no blade.", "answer": answer.pk})
    response = educator.post(address, named)
    assert response.status_code == 422
    assert "The panel speaks as one: leave out Thora." in response.content.decode()
    assert "Thora found no blade." in response.content.decode()
    sent = rows(
        "words", {"text": "The blade is passed over.", "answer": answer.pk}, {"text": "", "answer": answer.pk}
    )
    assert educator.post(address, sent).status_code == 302
    told = cast.client("trainee").get(f"{CLUB}/record/panels/{panel.pk}/").content.decode()
    for words in ("not yet", "The blade is passed over.", "The panel of Skerry Drover Club writes this as one.",
                  f"/answers/{answer.pk}/", "who may judge is for the registry"):  # fmt: skip
        assert words in told
    for secret in ("Thora", "Sweyn", "Ragna", "Ishbel", "Found by seat", "1 of 3", "2 of 3"):
        assert secret not in told
    notices = cast.client("trainee").get(f"{CLUB}/record/").content.decode()
    assert "The panel of Skerry Drover Club has looked at Forequarters in profile." in notices
    again = educator.post(address, sent)
    assert again.status_code == 422
    assert "The trainee was told." in again.content.decode()


def test_names_are_found_as_words_only(panel):
    assert names_in(["Manson saw it; garrioch is no name here, nor is Thorax."], panel) == ["Manson"]


@pytest.mark.parametrize("count", [1, 2])
def test_a_panel_is_as_large_as_the_club_has_it(cast, sitting, assessors, count):
    day = timezone.localdate()
    MentoringRules.objects.create(club=cast.club, effective_from=day, panel_of=3, panel_needed=2)
    address = f"{CLUB}/panels/ask/{sitting.pk}/"
    response = cast.client("educator").post(address, {"assessors": [each.pk for each in assessors[:count]]})
    assert response.status_code == 422
    assert not AssessorPanel.objects.exists()
    response = cast.client("educator").post(
        address, {"assessors": [each.pk for each in assessors]}, follow=True
    )
    assert "The assessors are asked." in response.content.decode()
    assert AssessorPanel.objects.get().needed == 2


def test_a_club_without_panels_asks_none(cast, sitting, assessors):
    with pytest.raises(Refused, match="asks for no panel"):
        ask_assessors(sitting=sitting, assessors=assessors, by=cast.educator)
    page = cast.client("educator").get(f"{CLUB}/panels/ask/{sitting.pk}/").content.decode()
    assert "The club asks for no panel." in page


def test_a_seat_changes_hands_until_it_is_decided(cast, panel, assessors):
    decided(panel, True)
    first, second, _third = panel.seats.order_by("pk")
    educator = cast.client("educator")
    page = educator.post(
        f"{CLUB}/panels/{panel.pk}/seats/{first.pk}/", {"assessor": cast.mentor.pk}, follow=True
    )
    assert "Thora Garrioch has decided." in page.content.decode()
    educator.post(f"{CLUB}/panels/{panel.pk}/seats/{second.pk}/", {"assessor": cast.mentor.pk})
    assert set(panel.seats.values_list("assessor", flat=True)) == {
        assessors[0].pk, cast.mentor.pk, assessors[2].pk,
    }  # fmt: skip
    page = educator.get(f"{CLUB}/panels/{panel.pk}/").content.decode()
    assert "Magnus Flett sits in place of Sweyn Manson." in page


def test_what_happened_is_on_record(cast, panel):
    decided(panel, True, True, False)
    tell_trainee(
        panel=panel, words=[Reason("Well seen.", answer=panel.sitting.answers.first())], by=cast.educator
    )
    kinds = MarkChange.objects.filter(sitting=panel.sitting).values_list("kind", "words")
    assert list(kinds) == [
        ("panel asked", "Thora Garrioch, Sweyn Manson, Ragna Velzie"),
        ("panel decided", "2 of 3 said pass, 2 had to."),
        ("panel told", ""),
    ]


def test_a_withdrawn_panel_makes_room_for_another(cast, panel, sitting, assessors):
    with pytest.raises(Refused, match="looks at this sitting already"):
        ask_assessors(sitting=sitting, assessors=assessors, by=cast.educator)
    cast.client("educator").post(f"{CLUB}/panels/{panel.pk}/withdraw/")
    assert ask_assessors(sitting=sitting, assessors=assessors, by=cast.educator).pk != panel.pk


def test_reasons_rest_on_answers_of_the_sitting(cast, panel):
    other = begin_sitting(quiz=panel.sitting.quiz, trainee=makers.make_trainee(cast.club, "Ailie Tulloch"))
    with pytest.raises(Refused, match="an answer of this sitting"):
        decide(seat=panel.seats.first(), passes=True, reasons=[Reason("x", answer=other.answers.first())])


def test_somebody_who_does_not_sit_on_it_finds_nothing(cast, panel):
    answer = panel.sitting.answers.first()
    for address in (f"panels/{panel.pk}/", f"panels/{panel.pk}/answers/{answer.pk}/"):
        assert cast.client("mentor").get(f"{CLUB}/{address}").status_code == 404
    educator = cast.client("educator").post(f"{CLUB}/panels/{panel.pk}/decide/", {"passes": "pass"})
    assert educator.status_code == 404


def test_the_pages_cost_the_same_however_many_reasons_there_are(cast, panel, assessors):
    clients = [client_of(cast, assessors[2]), cast.client("educator")]
    answer = panel.sitting.answers.first()

    def cost(address, client):
        with CaptureQueriesContext(connection) as captured:
            assert client.get(f"{CLUB}/{address}").status_code == 200
        return len(captured)

    assert cost(f"panels/{panel.pk}/", clients[0]) < 16
    first, second, third = panel.seats.order_by("pk")
    decide(seat=first, passes=True, reasons=[Reason("x", answer=answer)])
    decide(seat=second, passes=True, reasons=[Reason("x", answer=answer)])
    decide(seat=third, passes=True, reasons=[Reason("x", answer=answer)])
    few = cost(f"panels/{panel.pk}/", clients[1])
    for n in range(5):
        first.reasons.create(text=f"more {n}", answer=answer)
    assert cost(f"panels/{panel.pk}/", clients[1]) == few < 16
    listed = cost("panels/", clients[1])
    assert listed < 12
