"""How we find out whether it is known: quizzes, items, keys, sittings, answers, marks, reviews."""

from assessments.models.changes import MarkChange, OnRecord
from assessments.models.cut import CutEstimate, CutPanellist, CutStudy
from assessments.models.evidence import EntryResult, FalseAlarm, Figures
from assessments.models.facility import Facility
from assessments.models.fit import Fit
from assessments.models.item import Item, ItemExhibit, Key, KeyEntry, QuizItem
from assessments.models.keeping import KeepingRules, SatBefore
from assessments.models.key_panel import KeyPanel, KeyPanelEvent, Panellist
from assessments.models.mark import Adjustment, Mark, Notice
from assessments.models.mentoring import MentoringRules, MentoringSession, SessionTrainee, SignOff
from assessments.models.panel import AssessorPanel, PanelSeat, PanelWord, SeatReason
from assessments.models.paper import Candidate, LateAnswer, Paper, PaperResult, PaperSitting, Regulations
from assessments.models.quiz import Quiz, QuizRules
from assessments.models.review import Comment, Mentorship, Query, Review
from assessments.models.second import SecondMarking
from assessments.models.sitting import Answer, SavedStep, Sitting

__all__ = [
    "Adjustment",
    "Answer",
    "AssessorPanel",
    "Candidate",
    "Comment",
    "CutEstimate",
    "CutPanellist",
    "CutStudy",
    "EntryResult",
    "Facility",
    "FalseAlarm",
    "Figures",
    "Fit",
    "Item",
    "ItemExhibit",
    "KeepingRules",
    "Key",
    "KeyEntry",
    "KeyPanel",
    "KeyPanelEvent",
    "LateAnswer",
    "Mark",
    "MarkChange",
    "MentoringRules",
    "MentoringSession",
    "Mentorship",
    "Notice",
    "OnRecord",
    "PanelSeat",
    "PanelWord",
    "Panellist",
    "Paper",
    "PaperResult",
    "PaperSitting",
    "Query",
    "Quiz",
    "QuizItem",
    "QuizRules",
    "Regulations",
    "Review",
    "SatBefore",
    "SavedStep",
    "SeatReason",
    "SecondMarking",
    "SessionTrainee",
    "SignOff",
    "Sitting",
]
