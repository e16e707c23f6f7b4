"""The whole way through the site, by its pages alone: from a written standard to a marked and mentored answer.

An operator founds the club on the command line. Everything after that is done by a secretary, an educator, a
mentor and a trainee, each in a browser of their own, and each step looks at what its person then sees.
"""

from __future__ import annotations

from tests.browser.main_path.courses import make_the_course, make_the_plate
from tests.browser.main_path.exhibits import (
    draw_and_publish_a_correct_foot,
    photograph,
    record_permission_and_publish,
    take_a_photograph_in,
)
from tests.browser.main_path.mentor import review_and_adjust
from tests.browser.main_path.quizzes import (
    draw_up_the_key,
    make_the_quiz,
    open_the_quiz,
    publish_a_second_version,
)
from tests.browser.main_path.secretary import assign_the_mentor, invitation, joining, operators_link
from tests.browser.main_path.standard import add_fault, confirm_and_release, write_the_standard
from tests.browser.main_path.trainee import (
    answer_the_quiz,
    hear_of_the_changed_mark,
    read_the_module,
    see_both_marks,
    see_the_mark_line_by_line,
)


def test_from_a_written_standard_to_a_marked_and_mentored_answer(open_as, live_server, tmp_path):
    join = joining(open_as)
    secretary = join(operators_link(live_server.url), "Bruce Isbister")
    educator = join(invitation(secretary, "Educator"), "Ishbel Rendall")
    mentor = join(invitation(secretary, "Mentor"), "Magnus Flett")
    trainee = join(invitation(secretary, "Trainee"), "Una Halcro", phone=True)

    write_the_standard(educator)
    confirm_and_release(educator)
    add_fault(educator, "Splayed feet", clause="2.1", usual="Serious")
    add_fault(educator, "Nails too long", clause="2.2", usual="Minor")

    take_a_photograph_in(educator, photograph(tmp_path / "phone.jpg"))
    record_permission_and_publish(educator)
    draw_and_publish_a_correct_foot(educator)

    make_the_plate(educator)
    make_the_course(educator)

    make_the_quiz(educator)
    draw_up_the_key(educator)
    open_the_quiz(educator)

    assign_the_mentor(secretary, mentor="Magnus Flett", trainee="Una Halcro")
    read_the_module(trainee)
    answer_the_quiz(trainee)
    see_the_mark_line_by_line(trainee)

    review_and_adjust(mentor)
    see_both_marks(trainee)

    publish_a_second_version(educator)
    hear_of_the_changed_mark(trainee)
