"""A trainee's own record on paper: what their eye can do, what they sat, what was said and signed off."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from typing import Any

from django.utils.translation import get_language, ngettext
from django.utils.translation import gettext as _

from assessments.eye import Eye
from assessments.eye_shown import eye_context
from assessments.models import Candidate, SessionTrainee, SignOff, Sitting
from assessments.queries.mentoring import all_sessions_of, all_sign_offs_of
from assessments.queries.own_record import released_papers
from assessments.queries.panels import told_panels
from assessments.queries.sittings import own_sittings
from assessments.reports.drawings import drawings
from assessments.reports.words import cautions, on_day, page_words
from assessments.statistics.progress import Estimate
from assessments.templatetags.evidence import decimals, interval, signed_decimals
from assessments.templatetags.ledger import per_cent, points
from shared.accounts.models import Membership
from shared.printing import Document

TEMPLATE = "assessments/reports/record.typ"
# Rows of one table on paper, the newest; the file holds them all.
ROWS = 200


def record_on_paper(trainee: Membership, *, now: datetime.datetime) -> Document:
    """What the pages of the record show, their figures and their drawings."""
    shown = eye_context(trainee)
    eye, since = shown["eye"], shown["since"]
    drawn = drawings("assessments/record/_eye.html", {**shown, "club": trainee.club})
    scales = dict(zip(_scales_of(shown), drawn.get("scale", []), strict=True))
    named = {
        **{part: drawn["dog"][n] for n, part in enumerate(("see", "name", "weigh"))},
        **{f"hatch-{n}": svg for n, svg in enumerate(drawn["hatch"])},
        **scales,
        "calibration": next(iter(drawn.get("calibration-plot", [])), ""),
    }
    return Document(
        title=_("The record of %(name)s") % {"name": trainee.person.name},
        author=trainee.club.name,
        language=get_language() or "en",
        made_at=now,
        foot=_("%(name)s, %(club)s. A result here approves nobody: who may judge is for the registry.")
        % {"name": trainee.person.name, "club": trainee.club.name},
        pages=page_words(),
        data={
            "club": trainee.club.name,
            "under": _("As it stood on %(when)s.") % {"when": on_day(now)},
            "cautions": cautions(),
            "eye": _eye(eye, on_day(since)),
            "scales": _scales(shown, eye),
            "tables": [
                table
                for table in (
                    _sittings(list(own_sittings(trainee)[: ROWS + 1])),
                    _papers(released_papers(trainee)),
                    _panels(trainee),
                    _sessions(list(all_sessions_of(trainee)[: ROWS + 1])),
                    _sign_offs(list(all_sign_offs_of(trainee)[: ROWS + 1])),
                )
                if table["rows"]
            ],
        },
        drawings=named,
    )


def _eye(eye: Eye, since: str) -> dict[str, Any]:
    answers = ngettext("%(n)d answer since %(when)s.", "%(n)d answers since %(when)s.", eye.answers)
    return {
        "title": _("Your eye so far"),
        "said": answers % {"n": eye.answers, "when": since} if eye.answers else _("No answer yet."),
        "dogs": [
            {"name": "see", "title": _("See"), "under": _("where a fault is")},
            {"name": "name", "title": _("Name"), "under": _("what it is")},
            {"name": "weigh", "title": _("Weigh"), "under": _("how much it matters")},
        ],
        "alt": _("The dog’s outline, its zones hatched the denser the more surely they are known; in figures below."),
        "legend": [
            _("not enough seen yet"), _("under 50 %"), _("50 to 69 %"), _("70 to 89 %"), _("90 % and over"),
        ],
        "heads": [_("Zone"), _("See"), _("Name"), _("Weigh"), _("Faults asked")],
        "rows": [
            [row.label.capitalize(), _share(row.see), _share(row.name), _share(row.weigh), str(row.asked)]
            for row in eye.rows
        ],
        "hint": _("In brackets the 90 % interval. “Not yet”: too little is seen to say."),
    }  # fmt: skip


def _share(found: Estimate) -> str:
    return f"{per_cent(found.mean)} ({interval(found)})" if found.enough else _("not yet")


def _scales_of(shown: dict[str, Any]) -> list[str]:
    return [name for name in ("faulting", "weighing") if shown[name]]


def _scales(shown: dict[str, Any], eye: Eye) -> list[dict[str, Any]]:
    titles = {"faulting": _("Over-faulting and under-faulting"), "weighing": _("Weighing")}
    empty = {
        "faulting": _("Not enough seen yet. Some twenty exhibits, sound ones among them, will tell."),
        "weighing": _(
            "Not enough weighed yet. Ten faults that you recognised or were shown, and weighed, will tell."
        ),
    }
    found = []
    for name, title in titles.items():
        scale = shown[name]
        ends = [scale.low_word, scale.high_word] if scale else []
        said = scale.sentence if scale else empty[name]
        found.append(
            {"name": name if scale else None, "title": title, "said": said, "ends": ends, "more": []}
        )
    if shown["calibration_plot"]:
        found[1] |= {
            "calibration": True,
            "more": _weighed(eye),
            "alt": _("Severities given against those of the key."),
        }
    return found


def _weighed(eye: Eye) -> list[str]:
    weighed = ngettext("%(n)d fault weighed.", "%(n)d faults weighed.", len(eye.pairs)) % {
        "n": len(eye.pairs)
    }
    more = [weighed]
    if eye.bias and eye.bias.enough:
        more.append(
            _("Beside the key: %(mean)s levels, between %(low)s and %(high)s.")
            % {
                "mean": signed_decimals(eye.bias.mean),
                "low": signed_decimals(eye.bias.low),
                "high": signed_decimals(eye.bias.high),
            }
        )
    if eye.kappa and eye.kappa.enough:
        more.append(
            _("Agreement, weighted κ: %(value)s, standard error %(se)s.")
            % {"value": decimals(eye.kappa.value), "se": decimals(eye.kappa.standard_error)}
        )
    more.append(
        _(
            "A circle is as large as there are faults in it. On the slanting line they are weighed as the key does, "
            "above it heavier, below it lighter; the blue bars are the means."
        )
    )
    return more


def _table(title: str, heads: list[str], rows: list[list[str]], **more: Any) -> dict[str, Any]:
    """`numbers` are the columns of figures, `widths` how the room that is left is shared among the first columns."""
    kept = rows[:ROWS]
    rest = _("The newest %(n)d. The file record.json holds all.") % {"n": ROWS} if len(rows) > ROWS else ""
    return {"title": title, "heads": heads, "rows": kept, "rest": rest, "numbers": [], "widths": [1], **more}


def _sittings(rows: Sequence[Sitting]) -> dict[str, Any]:
    return _table(
        _("Sittings"),
        [_("Quiz"), _("Edition"), _("Begun"), _("Handed in"), _("Mean mark")],
        [
            [
                row.quiz.title,
                str(row.quiz.edition),
                on_day(row.begun_at),
                _("%(n)d of %(of)d") % {"n": row.handed_in_count, "of": row.answers_count},
                per_cent(row.mean_score),
            ]
            for row in rows
        ],
        numbers=[3, 4],
        widths=[1, 1],
    )


def _papers(rows: Sequence[Candidate]) -> dict[str, Any]:
    return _table(
        _("Examination papers"),
        [_("Paper"), _("Edition"), _("Sat"), _("Released"), _("Result"), _("Mark")],
        [_paper(row) for row in rows],
        numbers=[5],
        widths=[1, 1],
    )


def _paper(row: Candidate) -> list[str]:
    result, regulations = row.sitting.released[0], row.sitting.regulations
    mark = _("%(mark)s, pass mark %(at)s") % {
        "mark": points(result.percent),
        "at": points(regulations.pass_mark),
    }
    return [
        row.paper.quiz.title,
        str(row.paper.quiz.edition),
        on_day(row.sitting.sitting.begun_at),
        on_day(result.released_at),
        str(result.get_decision_display()),
        mark if regulations.discloses_mark else _("not disclosed"),
    ]


def _panels(trainee: Membership) -> dict[str, Any]:
    return _table(
        _("Panels"),
        [_("Quiz"), _("Told"), _("Outcome"), _("The panel’s words")],
        [
            [
                panel.sitting.quiz.title,
                on_day(panel.told_at),
                _("pass") if panel.passed else _("not yet"),
                "\n".join(word.text for word in panel.words.all()),
            ]
            for panel in told_panels(trainee)[: ROWS + 1]
        ],
        widths=[1, 0, 0, 2],
    )


def _sessions(rows: Sequence[SessionTrainee]) -> dict[str, Any]:
    return _table(
        _("Mentoring sessions"),
        [_("Subject"), _("Mentor"), _("Day"), _("Ended"), _("Reason and own word")],
        [_session(row) for row in rows],
        widths=[1, 0, 0, 0, 2],
    )


def _session(row: SessionTrainee) -> list[str]:
    session = row.session
    words = [row.reason]
    if session.struck_at:
        words.append(
            _("Struck out on %(when)s: %(why)s")
            % {"when": on_day(session.struck_at), "why": session.struck_reason}
        )
    if row.own_session:
        words.append(_("Own word on the session: %(words)s") % {"words": row.own_session})
    if row.own_mentor:
        words.append(_("Own word on the mentor: %(words)s") % {"words": row.own_mentor})
    ending = str(row.get_ending_display()) or _("planned")
    return [
        session.subject,
        session.mentor.person.name,
        on_day(session.held_on or session.planned_for),
        _("does not count") if session.struck_at else ending,
        "\n".join(filter(None, words)),
    ]


def _sign_offs(rows: Sequence[SignOff]) -> dict[str, Any]:
    return _table(
        _("Signed off"),
        [_("What"), _("Mentor"), _("On"), _("Words")],
        [_sign_off(row) for row in rows],
        widths=[1, 0, 0, 2],
    )


def _sign_off(row: SignOff) -> list[str]:
    words = [row.words]
    if row.taken_back_at:
        words.append(
            _("Taken back by %(who)s on %(when)s: %(why)s")
            % {
                "who": row.taken_back_by.person.name,
                "when": on_day(row.taken_back_at),
                "why": row.taken_back_reason,
            }
        )
    return [row.of.title, row.mentor.person.name, on_day(row.on), "\n".join(words)]
