"""Static files named by their content, so that a browser may keep them for ever."""

from whitenoise.storage import CompressedManifestStaticFilesStorage


class HashedStaticStorage(CompressedManifestStaticFilesStorage):
    # Relative imports between our ES modules are rewritten to the hashed names too: no import map, no build.
    support_js_module_import_aggregation = True
    # One for each step of the longest chain of imports: a module's name changes when one that it imports has changed its own.
    max_post_process_passes = 12
    # The admin of a development checkout works before `collectstatic` was run.
    manifest_strict = False
