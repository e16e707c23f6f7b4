"""Addresses of assessments, under the club's own."""

from django.urls import path

from assessments.views import answer, mentorship, quiz, record, review, sitting, trainee

urlpatterns = [
    # Quizzes
    path("quizzes/", quiz.quizzes, name="quizzes"),
    path("quizzes/<int:pk>/", quiz.quiz, name="quiz"),
    path("quizzes/<int:pk>/rules/", quiz.quiz_rules, name="quiz-rules"),
    path("quizzes/<int:pk>/begin/", quiz.quiz_begin, name="quiz-begin"),
    # Sittings and answers
    path("sittings/<int:pk>/", sitting.sitting, name="sitting"),
    path("answers/<int:pk>/", answer.answer, name="answer"),
    path("answers/<int:pk>/save/", answer.answer_save, name="answer-save"),
    path("answers/<int:pk>/hand-in/", answer.answer_hand_in, name="answer-hand-in"),
    path("answers/<int:pk>/query/", answer.answer_query, name="answer-query"),
    # Reviews
    path("reviews/", review.reviews, name="reviews"),
    path("reviews/<int:pk>/", review.review, name="review"),
    path("reviews/<int:pk>/comment/", review.review_comment, name="review-comment"),
    path(
        "reviews/<int:pk>/comment/<int:comment>/remove/",
        review.review_comment_remove,
        name="review-comment-remove",
    ),
    path("reviews/<int:pk>/return/", review.review_return, name="review-return"),
    path("reviews/<int:pk>/take-back/", review.review_take_back, name="review-take-back"),
    path("trainees/", trainee.trainees, name="trainees"),
    path("trainees/<int:pk>/", trainee.trainee, name="trainee"),
    # Mentorships, as the secretary assigns them
    path("members/<int:member>/mentors/", mentorship.mentorship, name="mentorship"),
    path("mentorships/<int:mentorship>/end/", mentorship.mentorship_end, name="mentorship-end"),
    # A trainee's own record
    path("record/", record.record, name="record"),
    path("record/method/", record.record_method, name="record-method"),
    path("trainees/<int:pk>/eye/", record.trainee_eye, name="trainee-eye"),
]
