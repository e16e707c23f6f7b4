from django.apps import AppConfig


class CoursesConfig(AppConfig):
    name = "courses"
    verbose_name = "Courses"

    def ready(self) -> None:
        from courses import daily, erasure, home  # noqa: F401
