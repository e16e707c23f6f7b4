"""The site's addresses: a club's pages live under its own."""

from django.urls import include, path

from shared.accounts import operators
from shared.accounts.urls import club_patterns, outside_patterns

urlpatterns = [
    *outside_patterns,
    path("account/", include("allauth.urls")),
    path("operators/", operators.site.urls),
    path(
        "clubs/<slug:club>/",
        include([*club_patterns, path("", include("courses.urls")), path("", include("assessments.urls"))]),
    ),
]
