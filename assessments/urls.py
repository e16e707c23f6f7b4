"""Addresses of assessments, under the club's own."""

from django.urls import path

from assessments.views import (
    answer,
    desk,
    item,
    key,
    mentorship,
    quiz,
    record,
    review,
    rules,
    sitting,
    trainee,
)

urlpatterns = [
    # Quizzes
    path("quizzes/", quiz.quizzes, name="quizzes"),
    path("quizzes/<int:pk>/", quiz.quiz, name="quiz"),
    path("quizzes/<int:pk>/rules/", quiz.quiz_rules, name="quiz-rules"),
    path("quizzes/<int:pk>/begin/", quiz.quiz_begin, name="quiz-begin"),
    # The quiz desk
    path("quizzes/new/", desk.quiz_new, name="quiz-new"),
    path("quizzes/place/", desk.quiz_place, name="quiz-place"),
    path("quizzes/<int:pk>/edit/", desk.quiz_edit, name="quiz-edit"),
    path("quizzes/<int:pk>/edit/rules/", rules.quiz_rules_edit, name="quiz-rules-edit"),
    path("quizzes/<int:pk>/edit/rules/marking/", rules.quiz_remarking, name="quiz-remarking"),
    path("quizzes/<int:pk>/edit/rules/marking/rest/", rules.quiz_mark_rest, name="quiz-mark-rest"),
    path("quizzes/<int:pk>/open/", desk.quiz_open, name="quiz-open"),
    path("quizzes/<int:pk>/close/", desk.quiz_close, name="quiz-close"),
    path("quizzes/<int:pk>/remove/", desk.quiz_remove, name="quiz-remove"),
    path("quizzes/<int:pk>/items/add/", desk.quiz_add, name="quiz-add"),
    path("quizzes/<int:pk>/items/<int:item>/move/", desk.quiz_item_move, name="quiz-item-move"),
    path("quizzes/<int:pk>/items/<int:item>/remove/", desk.quiz_item_remove, name="quiz-item-remove"),
    path("quizzes/<int:pk>/items/<int:item>/put-back/", desk.quiz_item_put_back, name="quiz-item-put-back"),
    # Items and their keys
    path("items/<int:pk>/", item.item, name="item"),
    path("items/<int:pk>/retire/", item.item_retire, name="item-retire"),
    path("items/<int:pk>/bring-back/", item.item_bring_back, name="item-bring-back"),
    path("items/<int:pk>/key/", key.key, name="key"),
    path("items/<int:pk>/key/save/", key.key_save, name="key-save"),
    path("items/<int:pk>/key/publish/", key.key_publish, name="key-publish"),
    path("items/<int:pk>/key/start/", key.key_start, name="key-start"),
    path("items/<int:pk>/key/discard/", key.key_discard, name="key-discard"),
    path("items/<int:pk>/key/take-back/", key.key_take_back, name="key-take-back"),
    path("items/<int:pk>/key/marking/", key.key_remarking, name="key-remarking"),
    path("items/<int:pk>/key/marking/rest/", key.key_mark_rest, name="key-mark-rest"),
    path("items/<int:pk>/key/<int:version>/", key.key_version, name="key-version"),
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
