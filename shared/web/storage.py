"""Static files of a production site: compressed, under names that change with their content."""

from django.contrib.staticfiles.storage import HashedFilesMixin
from whitenoise.storage import CompressedManifestStaticFilesStorage

OURS = ("shared", "courses", "assessments")
IMPORTS = HashedFilesMixin._js_module_import_aggregation_patterns[1]


class StaticFiles(CompressedManifestStaticFilesStorage):
    """Our scripts are modules: the names in their imports change too. Those of other packages are left alone."""

    patterns = (
        *CompressedManifestStaticFilesStorage.patterns,
        *((f"{house}/*.js", IMPORTS) for house in OURS),
    )
