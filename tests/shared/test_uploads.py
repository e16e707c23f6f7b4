"""No upload fills the disk."""

from shared.pictures.limits import LARGEST_BYTES
from shared.web.uploads import CutAtTheLimit


def test_all_of_an_allowed_file_and_one_byte_more_pass():
    handler = CutAtTheLimit()
    chunk = bytes(64 * 1024)
    passed = 0
    for _ in range(LARGEST_BYTES // len(chunk) + 50):
        part = handler.receive_data_chunk(chunk, passed)
        passed += len(part or b"")
    assert passed == LARGEST_BYTES + 1
