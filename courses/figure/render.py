"""Painting a plan: ground shadow, then layer upon layer of modelled, coloured and inked shapes."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from . import hair
from .coat import COAT_RAMPS, Coat, paint, white_weight
from .frame import PAPER, Frame
from .plan import Fringe, Layer, Mark, Plan
from .raster import Field, ink, mask, pen, stroke, union
from .relief import LIGHT, enlarge, inflate, lightness, proud, reduce, spread
from .settings import Settings

INK = (50, 37, 30)
GROUND_SHADE = (150, 128, 104)
_GRID = 4
_MARGIN = 0.05

Bytes = NDArray[np.uint8]
Window = tuple[int, int, int, int]


class Painter:
    """Holds the picture while it grows: colours, how much of each pixel is figure, and shape masks."""

    def __init__(self, plan: Plan, frame: Frame, settings: Settings, *, plain: bool = False) -> None:
        self.plan, self.frame, self.settings, self.plain = plan, frame, settings, plain
        self.rgb = np.empty((frame.height, frame.width, 3), np.float32)
        self.rgb[:] = PAPER
        self.figure = np.zeros((frame.height, frame.width), np.float32)
        self._shapes = {name: c for layer in plan.layers for name, c in layer.shapes.items()}
        self._masks: dict[str, Bytes] = {}

    def shape(self, name: str) -> Bytes:
        if name not in self._masks:
            cover = mask(self._shapes[name].points, self.frame)
            self._masks[name] = np.round(cover * 255).astype(np.uint8)
        return self._masks[name]

    def has(self, name: str) -> bool:
        return name in self._shapes

    def image(self) -> Image.Image:
        return Image.fromarray(np.clip(np.round(self.rgb), 0, 255).astype(np.uint8), "RGB")

    def ground(self) -> None:
        """A soft shadow under each foot (x, half width, strength)."""
        x, y = self.frame.grid(4)
        shade = np.zeros((y.shape[0], x.shape[1]), np.float32)
        for cx, wide, strength in self.plan.feet:
            shade += (strength * np.exp(-(((x - cx) / wide) ** 2) - ((y + 0.004) / 0.020) ** 2)).astype(
                np.float32
            )
        dark = np.flatnonzero(shade.max(axis=1) > 0.004)
        if not len(dark):
            return
        first, last = int(dark[0]), int(dark[-1]) + 1
        strip = enlarge(np.minimum(shade[first:last], 0.8), (last - first) * 4, x.shape[1] * 4)
        rows = self.rgb[first * 4 : last * 4]
        strip = strip[: len(rows), : self.frame.width]
        strip = np.where(strip > 0.004, strip, 0)
        rows += (np.array(GROUND_SHADE, np.float32) - rows) * strip[..., None]

    def layer(self, layer: Layer) -> None:
        window = self._window(layer)
        if window is None:
            return
        LayerPainter(self, layer, window).run()

    def _window(self, layer: Layer) -> Window | None:
        px = np.vstack([self.frame.pixels(c.points) for c in layer.shapes.values()])
        margin = _MARGIN * max(1.0, self.settings["coat_length"])
        if layer.shadow is not None:
            margin += max(abs(layer.shadow.dx), abs(layer.shadow.dy)) + 3 * layer.shadow.blur
        margin *= self.frame.scale
        low = np.maximum(np.floor(px.min(axis=0) - margin), 0).astype(int)
        high = np.ceil(px.max(axis=0) + margin).astype(int)
        x1, y1 = min(int(high[0]), self.frame.width), min(int(high[1]), self.frame.height)
        if x1 - low[0] < 8 or y1 - low[1] < 8:
            return None
        return int(low[0]), int(low[1]), x1, y1

    def fade(self) -> None:
        """Let the figure run out into the paper where the plan says so."""
        if self.plan.fade is None:
            return
        x, y = self.frame.grid(2)
        keep = enlarge(np.asarray(self.plan.fade(x, y), np.float32), y.shape[0] * 2, x.shape[1] * 2)
        keep = np.clip(keep[: self.frame.height, : self.frame.width], 0, 1)
        paper = np.array(PAPER, np.float32)
        self.rgb = paper + (self.rgb - paper) * keep[..., None]


class LayerPainter:
    """One layer, within the window of the picture that it can touch."""

    def __init__(self, painter: Painter, layer: Layer, window: Window) -> None:
        self.painter, self.layer, self.settings = painter, layer, painter.settings
        x0, y0, x1, y1 = window
        self.cut = (slice(y0, y1), slice(x0, x1))
        self.frame = painter.frame.crop(x0, y0, x1, y1)
        self.rng = np.random.default_rng([painter.settings.seed, *layer.name.encode()])
        self.rgb = painter.rgb[self.cut]
        self.figure = painter.figure[self.cut]
        self._shapes: dict[str, Field] = {}

    def shape(self, name: str) -> Field:
        if name not in self._shapes:
            self._shapes[name] = np.asarray(self.painter.shape(name)[self.cut] / np.float32(255), np.float32)
        return self._shapes[name]

    def run(self) -> None:
        cover = union(*(self.shape(name) for name in self.layer.shapes))
        if self.layer.keep is not None:
            cover = cover * np.asarray(self.layer.keep(*self.frame.grid()), np.float32)
        alpha = self._alpha(cover)
        self._cast(cover)
        light = self._light(cover)
        self._fill(alpha, light)
        np.maximum(self.figure, alpha, out=self.figure)
        hairy = bool(self.layer.fringes) and not self.painter.plain
        coat = self.rgb.copy() if hairy else self.rgb
        self._draw_ink()
        for mark in self.layer.marks:
            self._draw_mark(mark)
        if hairy:
            self._draw_fringe(coat)

    def _alpha(self, cover: Field) -> Field:
        if self.layer.clip is None:
            return cover
        x, y = self.frame.grid()
        fade = np.asarray(self.layer.clip(x, y), np.float32)
        return np.asarray(cover * (1 - self.figure * (1 - fade)), np.float32)

    def _cast(self, cover: Field) -> None:
        shadow = self.layer.shadow
        if shadow is None:
            return
        scale = self.frame.scale
        soft = hair.soften(cover, shadow.blur * scale)
        moved = np.roll(soft, (round(-shadow.dy * scale), round(shadow.dx * scale)), axis=(0, 1))
        if self.figure.any():
            self.rgb *= (1 - shadow.amount * moved * self.figure)[..., None]

    def _light(self, cover: Field) -> Field:
        layer, frame = self.layer, self.frame
        if self.painter.plain:
            return self._plain_light(cover)
        height = inflate(cover, frame.scale)
        if layer.forms:
            rows = [(f.a, f.b, f.width, 1.15 * f.height) for f in layer.forms]
            height = height + self._spread(rows)
        for item in layer.prouds:
            x, y = frame.grid(2)
            fade = enlarge(np.broadcast_to(item.fade(x, y), (len(y), x.shape[1])), len(y) * 2, x.shape[1] * 2)
            fade = fade[: frame.height, : frame.width]
            height = height + proud(self.shape(item.shape), frame, item.amount) * fade
        light = lightness(np.asarray(height, np.float32), frame, layer.light or LIGHT)
        if layer.occlusion:
            light = light * np.clip(1 - self._spread(list(layer.occlusion)), 0.2, 1)
        return np.asarray(light, np.float32)

    def _plain_light(self, cover: Field) -> Field:
        small = self.frame.reduced(4)
        light = lightness(inflate(reduce(cover, 4), small.scale), small, self.layer.light or LIGHT)
        full = enlarge(light, light.shape[0] * 4, light.shape[1] * 4)
        return full[: self.frame.height, : self.frame.width]

    def _spread(self, rows: list[tuple[NDArray[np.float64], NDArray[np.float64], float, float]]) -> Field:
        big = spread(self.frame, rows)
        full = enlarge(big, big.shape[0] * 2, big.shape[1] * 2)
        return full[: self.frame.height, : self.frame.width]

    def _fill(self, alpha: Field, light: Field) -> None:
        inside = np.flatnonzero(alpha.ravel() > 0.004)
        if not len(inside):
            return
        settings, layer, frame = self.settings, self.layer, self.frame
        coat = COAT_RAMPS[settings.coat]
        wanted = _needed(coat, settings, self.painter.plain)
        fields = {name: self._field(name).ravel()[inside] for name in layer.coat if name in wanted}
        texture = self._texture(inside, fields, coat)
        white = white_weight(fields, settings.markings, settings["white"], texture)
        tone, strength = layer.tone, settings["colour_strength"]
        colour = paint(coat, light.ravel()[inside], fields, texture, tone, strength, white)
        if layer.haze:
            colour += (np.array(PAPER, np.float32) - colour) * np.float32(layer.haze)
        flat = self.rgb.reshape(-1, 3)[inside]
        mixed = flat + (colour - flat) * alpha.ravel()[inside][:, None]
        rows, columns = np.divmod(inside, frame.width)
        self.rgb[rows, columns] = mixed

    def _texture(self, inside: NDArray[np.int64], fields: dict[str, Field], coat: Coat) -> Field:
        if self.painter.plain:
            return np.zeros(len(inside), np.float32)
        frame, long = self.frame, self.settings["coat_length"]
        length = fields.get("length", np.ones(len(inside), np.float32)) * np.float32(max(0.7, long**0.7))
        way = hair.flow(frame, self.layer.flow)
        texture = hair.texture(inside, way, frame, length, self.rng)
        guard = hair.guard_hairs(inside, way, frame, length, self.rng).ravel()[inside]
        if coat.stripes:
            fields["stripes"] = hair.stripes(inside, way, frame, self.rng)
        texture = texture + 0.5 * np.clip(guard, -2, 2)
        return np.asarray(texture * np.float32(min(1.1, long**0.5)), np.float32)

    def _field(self, name: str) -> Field:
        x, y = self.frame.grid(_GRID)
        small = np.broadcast_to(self.layer.coat[name](x, y), (len(y), x.shape[1]))
        full = enlarge(np.asarray(small, np.float32), len(y) * _GRID, x.shape[1] * _GRID)
        return full[: self.frame.height, : self.frame.width]

    def _blend(self, colour: tuple[int, int, int], opacity: Field) -> None:
        shown = np.flatnonzero(opacity.ravel() > 0.004)
        rows, columns = np.divmod(shown, self.frame.width)
        here = self.rgb[rows, columns]
        strength = opacity.ravel()[shown][:, None]
        self.rgb[rows, columns] = here + (np.array(colour, np.float32) - here) * strength

    def _draw_ink(self) -> None:
        for name, contour in self.layer.shapes.items():
            line = ink(contour, self.frame, pen(self.frame) * self.layer.ink_width) * np.float32(
                0.92 * (1 - self.layer.haze)
            )
            for other in self.layer.hidden.get(name, ()):
                if self.painter.has(other):
                    line = line * (1 - self.shape(other))
            self._blend(INK, line)

    def _draw_fringe(self, coat: Field) -> None:
        groups: dict[tuple[str, ...], list[Fringe]] = {}
        for row in self.layer.fringes:
            groups.setdefault(row.hidden, []).append(row)
        for hidden, rows in groups.items():
            strands, colour = hair.fringe(rows, self.frame, coat, self.rng)
            for other in hidden:
                if self.painter.has(other):
                    strands = strands * (1 - self.shape(other))
            shown = strands > 0.004
            self.rgb[shown] += (colour[shown] - self.rgb[shown]) * strands[shown][:, None]

    def _draw_mark(self, mark: Mark) -> None:
        """Marks are small: each is painted in a window of its own."""
        px = self.frame.pixels(mark.contour.points)
        if self.painter.plain and np.ptp(px, axis=0).max() < 4:
            return
        margin = 3 * mark.soft * self.frame.scale + mark.pen * pen(self.frame) + 3
        low = np.maximum(np.floor(px.min(axis=0) - margin), 0).astype(int)
        high = np.minimum(np.ceil(px.max(axis=0) + margin), (self.frame.width, self.frame.height)).astype(int)
        if (high - low).min() < 2:
            return
        cut = (slice(low[1], high[1]), slice(low[0], high[0]))
        frame = self.frame.crop(int(low[0]), int(low[1]), int(high[0]), int(high[1]))
        opacity = _mark_opacity(mark, frame) * np.float32(mark.opacity)
        if mark.soft > 0:
            opacity = hair.soften(opacity, mark.soft * frame.scale)
        if mark.within is not None:
            opacity = opacity * self.shape(mark.within)[cut]
        if mark.within_area is not None:
            opacity = opacity * mask(mark.within_area.points, frame)
        here = self.rgb[cut]
        here += (np.array(mark.colour, np.float32) - here) * opacity[..., None]


def _needed(coat: Coat, settings: Settings, plain: bool) -> set[str]:
    """The coat fields that this coat, with these markings, makes use of."""
    names = {"from_back", "under"}
    if not plain:
        names.add("length")
    if coat.points is not None:
        names.add("points")
    if settings.markings != "none":
        names |= {"bib", "collar"}
    if settings["white"] > 0:
        names.add("ease")
    return names


def _mark_opacity(mark: Mark, frame: Frame) -> Field:
    if mark.pen <= 0:
        return mask(mark.contour.points, frame)
    weight = np.clip(mark.contour.ink, 0, 1)
    width = pen(frame) * mark.pen * weight**0.7
    return stroke(frame.pixels(mark.contour.points), width, np.minimum(1, 1.15 * weight), frame)


def render(plan: Plan, settings: Settings, frame: Frame, *, plain: bool = False) -> Image.Image:
    """The picture of a plan; `plain` leaves out muscles and hair and models only the silhouette."""
    painter = Painter(plan, frame, settings, plain=plain)
    painter.ground()
    for layer in plan.layers:
        painter.layer(layer)
    painter.fade()
    return painter.image()
