"""A camera of textbook kind over a table: where it shows points, and what it photographs. Written apart from the engine.

Source: R. Hartley, A. Zisserman, Multiple View Geometry (2nd ed. 2004), section 6.1: x = K [R | -R C] X.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw


@dataclass(frozen=True)
class Pinhole:
    """A camera over the plane z = 0 (x right, y away, z up), tilted so that it looks further away, nothing rolled."""

    focal_px: float
    width_px: int
    height_px: int
    height_mm: float
    foot_mm: tuple[float, float]
    tilt_deg: float = 0.0
    roll_deg: float = 0.0

    def rays(self):
        """World to camera: x right, y down, z along the axis."""
        tilt, roll = math.radians(self.tilt_deg), math.radians(self.roll_deg)
        right = np.array([1.0, 0.0, 0.0])
        axis = np.array([0.0, math.sin(tilt), -math.cos(tilt)])
        down = np.cross(axis, right)
        spin = np.array([[math.cos(roll), -math.sin(roll), 0], [math.sin(roll), math.cos(roll), 0], [0, 0, 1.0]])
        return spin @ np.array([right, down, axis])

    def seen(self, places_mm, above_mm=0.0):
        """Pixels of places on the plane, or so far above it."""
        world = np.array([(x, y, above_mm) for x, y in places_mm], dtype=float)
        rays = (world - np.array([*self.foot_mm, self.height_mm])) @ self.rays().T
        return [(self.focal_px * x / z + self.width_px / 2, self.focal_px * y / z + self.height_px / 2) for x, y, z in rays]

    def photograph(self, shapes_mm, dots_mm=(), paper=(92, 110, 96), finer=2):
        """A picture of filled outlines (colour, corners) and round dots (colour, centre, radius) lying on the plane."""
        image = Image.new("RGB", (self.width_px * finer, self.height_px * finer), paper)
        pen = ImageDraw.Draw(image)
        rounds = [(colour, [(x + radius * math.cos(n * math.pi / 30), y + radius * math.sin(n * math.pi / 30)) for n in range(60)])
                  for colour, (x, y), radius in dots_mm]
        for colour, corners in (*shapes_mm, *rounds):
            pen.polygon([(x * finer, y * finer) for x, y in self.seen(corners)], fill=colour)
        return image.resize((self.width_px, self.height_px), Image.Resampling.BOX)
