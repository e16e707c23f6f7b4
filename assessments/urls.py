"""Addresses of assessments, under the club's own."""

urlpatterns: list = []
