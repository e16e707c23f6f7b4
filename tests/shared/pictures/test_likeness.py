import io
import itertools

import numpy as np
import pytest
import scipy.fft
from PIL import Image, ImageEnhance

from shared.pictures.likeness import ALIKE, alike, distance, fingerprint
from tests.shared.pictures.making import encoded, scene

CHANGES = {
    "half as wide": lambda image: image.resize((image.width // 2, image.height // 2)),
    "a thumbnail": lambda image: image.resize((120, 80)),
    "saved badly": lambda image: Image.open(io.BytesIO(encoded(image, quality=25))),
    "another format": lambda image: Image.open(io.BytesIO(encoded(image, "WEBP", quality=40))),
    "brighter": lambda image: ImageEnhance.Brightness(image).enhance(1.08),
    "grey": lambda image: image.convert("L"),
    "stretched by a hair": lambda image: image.resize((image.width + 5, image.height)),
}


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("change", CHANGES)
def test_the_same_photograph_is_known_again(change: str, seed: int) -> None:
    picture = scene(900, 600, seed)
    assert alike(fingerprint(picture), fingerprint(CHANGES[change](picture)))


def test_different_photographs_are_not_taken_for_one() -> None:
    prints = [fingerprint(scene(300, 200, seed)) for seed in range(40)]
    distances = [distance(one, other) for one, other in itertools.combinations(prints, 2)]
    assert min(distances) > 2 * ALIKE
    assert np.mean(distances) == pytest.approx(128, abs=8)


def test_the_waves_are_those_of_the_cosine_transform() -> None:
    """Against scipy.fft.dctn, type II."""
    picture = scene(64, 64, 5)
    waves = scipy.fft.dctn(np.asarray(picture.convert("L"), float), 2)[:16, :16].ravel()
    bits = waves > np.median(waves[1:])
    assert fingerprint(picture) == np.packbits(bits).tobytes().hex()


def test_distance_counts_bits() -> None:
    assert distance("00ff", "00f0") == 4
    assert distance("a" * 64, "5" * 64) == 256
    with pytest.raises(ValueError, match="different kinds"):
        distance("00", "0000")
