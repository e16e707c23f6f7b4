"""Addresses of assessments, under the club's own."""

from django.urls import path

from assessments.views import answer, quiz, sitting

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
]
