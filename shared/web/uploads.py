"""What an upload may put on the disk before any view has seen it."""

from __future__ import annotations

from django.core.files.uploadhandler import FileUploadHandler

from shared.pictures.limits import LARGEST_BYTES


class CutAtTheLimit(FileUploadHandler):
    """Lets one byte more through than the largest picture has, so that the file is refused as too large."""

    def receive_data_chunk(self, raw_data: bytes, start: int) -> bytes | None:
        room = LARGEST_BYTES + 1 - start
        return raw_data[:room] if room > 0 else None

    def file_complete(self, file_size: int) -> None:
        return None
