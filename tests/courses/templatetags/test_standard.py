"""A clause is set the same way wherever it stands."""

import pytest
from django.template import Context, Template

from courses.models import Clause, SeverityScale
from courses.queries.severity import ladder_of
from tests import makers


def rendered(source, **context):
    return Template("{% load standard %}" + source).render(Context(context))


def test_number_wording_and_words_of_degree():
    clause = Clause(number="7.3", text="Sickle hocks are a serious fault & rare.")
    assert rendered("{% clause clause %}", clause=clause) == (
        '<div class="clause"><span class="clause-number">7.3</span>'
        '<p>Sickle hocks are a <span class="degree">serious fault</span> &amp; rare.</p>\n</div>'
    )


def test_small_and_with_an_address():
    clause = Clause(number="5.1", text="The blade slopes.")
    html = rendered("{% clause clause small=True anchor=True %}", clause=clause)
    assert html.startswith('<div class="clause clause-small" id="c-5.1">')


def test_markup_of_the_writer_does_not_pass():
    clause = Clause(number="1", text="<script>alert(1)</script> *firm*")
    html = rendered("{% clause clause %}", clause=clause)
    assert "<script" not in html
    assert "<em>firm</em>" in html


def test_the_words_alone():
    assert rendered("{{ text|wording }}", text="A marked *stop*.") == (
        'A <span class="degree">marked</span> <em>stop</em>.'
    )


@pytest.mark.django_db
def test_the_clubs_own_words_of_degree_come_with_the_breed(cast, django_assert_num_queries):
    breed = makers.make_breed(cast.club, readings={"frowned upon": "minor"})
    makers.make_clause(makers.make_edition(cast.club, breed=breed), text="A gay tail is frowned upon.")
    marked = '<span class="degree">frowned upon</span>'
    clause = Clause.objects.select_related("edition__breed").get()
    bare = Clause.objects.get()
    with django_assert_num_queries(0):
        assert marked in rendered("{% clause clause %}", clause=clause)
        assert marked not in rendered("{% clause clause %}", clause=bare)
        assert marked in rendered("{% clause clause %}", clause=bare, readings=(("frowned upon", "minor"),))


@pytest.mark.django_db
def test_the_ladder_has_a_rule_as_thick_as_each_weight(cast):
    html = rendered("{% ladder 'level' scale 2 none='None' %}", scale=ladder_of(cast.club))
    assert [piece.split('"')[0] for piece in html.split('rect width="100%" y="')[1:]] == [
        "10.5",
        "9.0",
        "6.0",
        "0.0",
    ]
    assert 'value="2" id="level-2" checked' in html
    assert html.count(" checked") == 1
    assert "None" in html


def test_a_level_beyond_the_ladder_is_its_heaviest():
    scale = SeverityScale(labels=["Fault", "Grave"], weights=[1, 3])
    assert rendered(
        "{{ 0|level:scale }} {{ 5|level:scale }} {{ nothing|level:scale }}", scale=scale, nothing=None
    ) == ("Fault Grave ")
