from django.apps import AppConfig


class AccountsConfig(AppConfig):
    name = "shared.accounts"
    label = "accounts"
    verbose_name = "People and clubs"

    def ready(self) -> None:
        from shared.accounts import home  # noqa: F401
