"""Static files of a production site: compressed, under names that change with their content."""

from whitenoise.storage import CompressedManifestStaticFilesStorage


class StaticFiles(CompressedManifestStaticFilesStorage):
    """Scripts are modules here: the names in their imports change too."""

    support_js_module_import_aggregation = True
