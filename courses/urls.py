"""Addresses of courses, under the club's own."""

urlpatterns: list = []
