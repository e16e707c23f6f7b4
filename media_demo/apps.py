from django.apps import AppConfig


class MediaDemoConfig(AppConfig):
    name = "media_demo"
    verbose_name = "Demo"
