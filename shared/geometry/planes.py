"""Moving, turning, scaling and mirroring the plane: 3 × 3 matrices on column vectors (x, y, 1).

y points down, as in pictures, so a positive rotation turns clockwise on the screen.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Similarity:
    """target ≈ scale · R(rotation) · M · source + translation; M mirrors left and right if `reflected`.

    `rms` is the root mean square distance left over, in target units; `matrix` says all of it at once.
    """

    scale: float
    rotation_deg: float
    translation: tuple[float, float]
    reflected: bool
    rms: float
    matrix: Floats


def similarity_matrix(
    scale: float = 1.0,
    rotation_deg: float = 0.0,
    translation: tuple[float, float] = (0.0, 0.0),
    *,
    reflected: bool = False,
) -> Floats:
    """Mirror left and right (if `reflected`), turn, scale, move, in this order."""
    turn = np.radians(rotation_deg)
    cos, sin = scale * np.cos(turn), scale * np.sin(turn)
    mirror = -1.0 if reflected else 1.0
    return np.array([[mirror * cos, -sin, translation[0]], [mirror * sin, cos, translation[1]], [0, 0, 1]])


def fit_similarity(source: ArrayLike, target: ArrayLike, *, reflected: bool = False) -> Similarity:
    """The least-squares similarity from n ≥ 2 points (n × 2) to their counterparts.

    Umeyama, "Least-squares estimation of transformation parameters between two point patterns", 1991;
    in the plane his singular values reduce to one complex number, the mean of target · conj(source).
    Raises ValueError for fewer than two points, or if those of `source` or of `target` all coincide.
    """
    start, end = _as_complex(source), _as_complex(target)
    if start.shape != end.shape or start.size < 2:
        raise ValueError("A similarity needs two points or more, and as many targets as sources.")
    if reflected:
        start = -start.conj()
    start_centre, end_centre = start.mean(), end.mean()
    turned = np.mean((end - end_centre) * (start - start_centre).conj())
    spread = np.mean(np.abs(start - start_centre) ** 2)
    if not spread or not turned:
        raise ValueError("These points fix no scale and no rotation: they coincide, or cancel out.")
    factor = turned / spread
    moved = end_centre - factor * start_centre
    scale, rotation, translation = (
        float(abs(factor)),
        float(np.degrees(np.angle(factor))),
        (moved.real, moved.imag),
    )
    return Similarity(
        scale=scale,
        rotation_deg=rotation,
        translation=(float(translation[0]), float(translation[1])),
        reflected=reflected,
        rms=float(np.sqrt(np.mean(np.abs(factor * start + moved - end) ** 2))),
        matrix=similarity_matrix(scale, rotation, translation, reflected=reflected),
    )


def transformed(matrix: Floats, points: ArrayLike) -> Floats:
    """`points` (n × 2, or one pair) under an affine `matrix`."""
    return np.asarray(points, float) @ matrix[:2, :2].T + matrix[:2, 2]


def inverse(matrix: Floats) -> Floats:
    """The matrix that undoes `matrix`; `numpy.linalg.LinAlgError` if nothing does."""
    return np.asarray(np.linalg.inv(matrix), float)


def composed(*matrices: Floats) -> Floats:
    """First the first, then the next, and so on."""
    product: Floats = np.eye(3)
    for matrix in matrices:
        product = matrix @ product
    return product


def from_pixels(width: float, height: float) -> Floats:
    """Pixels of a picture of this size to picture units, where its longer side is 1."""
    if not max(width, height) > 0:
        raise ValueError("A picture has a size.")
    return similarity_matrix(1 / max(width, height))


def svg_transform(matrix: Floats) -> str:
    """For the `transform` attribute of SVG 1.1, §7.6: matrix(a b c d e f), column by column."""
    return f"matrix({' '.join(f'{number:.9g}' for number in matrix[:2].T.ravel())})"


def _as_complex(points: ArrayLike) -> NDArray[np.complex128]:
    array = np.asarray(points, float).reshape(-1, 2)
    return array[:, 0] + 1j * array[:, 1]
