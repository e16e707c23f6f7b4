from django.apps import AppConfig


class AssessmentsConfig(AppConfig):
    name = "assessments"
    verbose_name = "Assessments"

    def ready(self) -> None:
        from assessments import daily, erasure, guards, home, mentoring_home, slots  # noqa: F401
