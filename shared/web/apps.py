from django.apps import AppConfig


class WebConfig(AppConfig):
    name = "shared.web"
    label = "web"

    def ready(self) -> None:
        from shared import checks  # noqa: F401
