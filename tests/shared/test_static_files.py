"""The static files of a production site."""

import re
from pathlib import Path

from django.core.management import call_command


def test_imports_between_our_scripts_follow_their_changed_names(settings, tmp_path):
    settings.STATIC_ROOT = tmp_path
    settings.STORAGES = settings.STORAGES | {"staticfiles": {"BACKEND": "shared.web.storage.StaticFiles"}}
    call_command("collectstatic", interactive=False, verbosity=0)
    found = list((tmp_path / "assessments").glob("answer.*.js"))
    assert len(found) == 1
    imports = re.findall(r'from "([^"]+)"', found[0].read_text())
    assert len(imports) == 4
    for name in imports:
        assert re.search(r"\.[0-9a-f]{12}\.js$", name)
        assert Path(found[0].parent, name).resolve().exists()
