"""How a label is photographed, and the picture that comes of it: optics in numbers."""

from __future__ import annotations

import io
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy.fft import fftfreq, irfft2, next_fast_len, rfft2, rfftfreq
from scipy.ndimage import map_coordinates

from tests.scan.labels import PX_PER_MM, Grey, Label

FRAME = (1280, 720)
AWAY_MM = 220  # of the camera: what makes the far edge of a tilted label smaller
FINE = 2  # rays a pixel, each way
INK = 0.06  # share of light that print sends back
BENCH = 0.35  # what lies around the label

Points = NDArray[np.float64]


@dataclass(frozen=True)
class Blot:
    """Something on the label, in millimetres of it: a round blot or, with an end, a line."""

    x: float
    y: float
    wide: float
    end: tuple[float, float] | None = None
    shade: float = 0.3


@dataclass(frozen=True)
class Glare:
    """A lamp's reflection: grey levels added at its middle, and how wide it is in millimetres."""

    x: float
    y: float
    wide: float
    levels: float


@dataclass(frozen=True)
class Shot:
    """One picture. Lengths in pixels of the frame, but for those of the label, in millimetres."""

    px_per_mm: float = 8
    turn: float = 0  # degrees in the picture's plane
    tilt: float = 0  # degrees out of it
    tilt_axis: float = 0
    radius_mm: float | None = None  # of a round case the label sticks on
    focus: float = 0.6  # standard deviation of the blur; a sharp phone has some as well
    moved: float = 0  # length of the smear
    moved_along: float = 0  # degrees
    white: float = 215  # grey level of blank paper
    noise: float = 1.5  # standard deviation in grey levels
    jpeg: int | None = None
    blots: tuple[Blot, ...] = ()
    glares: tuple[Glare, ...] = field(default=())


def flat_to_frame(shot: Shot) -> Points:
    """The 3 by 3 matrix from millimetres around the label's middle to pixels of the frame."""
    focal = shot.px_per_mm * AWAY_MM
    rotation = _spin(shot.turn) @ _spin(shot.tilt_axis) @ _nod(shot.tilt) @ _spin(-shot.tilt_axis)
    plane = rotation[:, :2]
    away = np.array([0.0, 0.0, AWAY_MM])
    lens = np.array([[focal, 0, FRAME[0] / 2], [0, focal, FRAME[1] / 2], [0, 0, 1.0]])
    return lens @ np.column_stack([plane, away])


def _spin(degrees: float) -> Points:
    c, s = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    return np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]])


def _nod(degrees: float) -> Points:
    c, s = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    return np.array([[1.0, 0, 0], [0, c, -s], [0, s, c]])


def in_frame(shot: Shot, label: Label, at: Points) -> Points:
    """Where points of the label, in millimetres from its corner, are seen."""
    middle = np.array(label.size_mm) / 2
    x, y = (at - middle).T
    if shot.radius_mm:
        x = shot.radius_mm * np.sin(x / shot.radius_mm)
    seen = flat_to_frame(shot) @ np.stack([x, y, np.ones_like(x)])
    return (seen[:2] / seen[2]).T


def _on_label(shot: Shot, label: Label, at: Points) -> Points:
    """The way back: what a ray of the camera meets."""
    back = np.linalg.inv(flat_to_frame(shot)).astype(np.float32)
    flat = back @ np.vstack([at.T, np.ones(len(at), dtype=np.float32)])
    x, y = flat[:2] / flat[2]
    if shot.radius_mm:
        around = x / shot.radius_mm
        x = np.where(np.abs(around) < 1, shot.radius_mm * np.arcsin(np.clip(around, -1, 1)), 1e6)
    return np.stack([x, y], axis=-1) + np.array(label.size_mm) / 2


def hidden(shot: Shot, at: Points) -> NDArray[np.bool_]:
    """Which points of the label lie under a blot."""
    covered = np.zeros(len(at), dtype=bool)
    for blot in shot.blots:
        covered |= _distance(at, blot) <= blot.wide / 2
    return covered


def _distance(at: Points, blot: Blot) -> Points:
    start = np.array([blot.x, blot.y])
    if blot.end is None:
        return np.hypot(*(at - start).T)
    way = np.array(blot.end) - start
    along = np.clip((at - start) @ way / (way @ way), 0, 1)
    return np.hypot(*(at - start - along[:, None] * way).T)


def glare_at(shot: Shot, at: Points) -> Points:
    """Grey levels that reflections add at points of the label."""
    added = np.zeros(len(at))
    for glare in shot.glares:
        far = np.hypot(*(at - np.array([glare.x, glare.y])).T)
        added += glare.levels * np.exp(-((far / (glare.wide / 2)) ** 2))
    return added


def take(shot: Shot, label: Label, seed: int) -> NDArray[np.uint8]:
    """The picture. The same seed gives the same picture."""
    random = np.random.default_rng(seed)
    grey = np.full((FRAME[1], FRAME[0]), BENCH * shot.white, dtype=np.float32)
    left, top, right, bottom = box = _seen_box(shot, label)
    grey[top:bottom, left:right] = _blurred(_light(shot, label, box), shot)
    grey += shot.noise * random.standard_normal(grey.shape, dtype=np.float32)
    picture = np.clip(np.rint(grey), 0, 255).astype(np.uint8)
    return picture if shot.jpeg is None else _packed(picture, shot.jpeg)


def _seen_box(shot: Shot, label: Label) -> tuple[int, int, int, int]:
    wide, high = label.size_mm
    edge = np.linspace(0, 1, 9)
    corners = np.array([(x * wide, y * high) for x in edge for y in edge])
    seen = in_frame(shot, label, corners)
    margin = 4 * shot.focus + shot.moved + 2
    left, top = np.maximum(seen.min(0) - margin, 0).astype(int)
    right, bottom = np.minimum(seen.max(0) + margin, FRAME).astype(int)
    return int(left), int(top), int(right), int(bottom)


def _light(shot: Shot, label: Label, box: tuple[int, int, int, int]) -> Grey:
    left, top, right, bottom = box
    x = np.arange(left, right, 1 / FINE, dtype=np.float32) + 0.5 / FINE
    y = np.arange(top, bottom, 1 / FINE, dtype=np.float32) + 0.5 / FINE
    rays = np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)
    at = _on_label(shot, label, rays)
    light = np.clip(shot.white * _sent_back(shot, label, at) + glare_at(shot, at), 0, 255)
    fine = light.reshape(bottom - top, FINE, right - left, FINE)
    mean: Grey = fine.mean((1, 3)).astype(np.float32)
    return mean


def _sent_back(shot: Shot, label: Label, at: Points) -> Points:
    wide, high = label.size_mm
    inside = (at[:, 0] >= 0) & (at[:, 1] >= 0) & (at[:, 0] < wide) & (at[:, 1] < high)
    shrink = max(1, int(PX_PER_MM / (FINE * shot.px_per_mm)))
    rows, columns = (side // shrink * shrink for side in label.paper.shape)
    paper = label.paper[:rows, :columns].reshape(rows // shrink, shrink, columns // shrink, shrink)
    where = (at[inside] * (PX_PER_MM / shrink) - 0.5).T[::-1]
    seen = INK + (1 - INK) * map_coordinates(paper.mean((1, 3)), where, order=1, mode="nearest")
    for blot in shot.blots:
        seen[_distance(at[inside], blot) <= blot.wide / 2] = blot.shade
    share = np.full(len(at), BENCH, dtype=np.float32)
    share[inside] = seen
    return share


def _blurred(grey: Grey, shot: Shot) -> Grey:
    """Out of focus and moved: each a factor in the picture's spectrum."""
    high, wide = (next_fast_len(side) for side in grey.shape)
    fy, fx = fftfreq(high)[:, None], rfftfreq(wide)[None, :]
    angle = np.radians(shot.moved_along)
    passed = np.exp(-2 * np.pi**2 * shot.focus**2 * (fx**2 + fy**2))
    passed = passed * np.sinc(shot.moved * (fx * np.cos(angle) + fy * np.sin(angle)))
    edges = [(0, high - grey.shape[0]), (0, wide - grey.shape[1])]
    spectrum = rfft2(np.pad(grey, edges, mode="edge")) * passed.astype(np.float32)
    blurred: Grey = irfft2(spectrum, s=(high, wide))[: grey.shape[0], : grey.shape[1]]
    return blurred


def _packed(picture: NDArray[np.uint8], quality: int) -> NDArray[np.uint8]:
    packed = io.BytesIO()
    Image.fromarray(picture).save(packed, "JPEG", quality=quality)
    return np.asarray(Image.open(packed))
