"""Addresses of people and clubs: outside any club, and inside one."""

from django.urls import path

from shared.accounts import views

outside_patterns = [
    path("", views.home, name="home"),
]
club_patterns = [
    path("", views.club_home, name="club"),
]
