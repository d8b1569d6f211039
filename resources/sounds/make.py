"""Make the sounds of the bench: ``python resources/sounds/make.py``.

Every tone has a fundamental of 150 to 1000 Hz and at least four harmonics of 300 to 4000 Hz within
15 dB of each other: rich tones are told apart and found in a room where pure beeps are not
(IEC 60601-1-8 as quoted in a web page, READ). The same script gives the same bytes.
"""

from __future__ import annotations

import math
import struct
import wave
from collections.abc import Sequence
from pathlib import Path

RATE_HZ = 44_100
LEVELS_DB = (0.0, -3.0, -6.0, -9.0, -12.0)  # fundamental, then harmonics 2 to 5
PEAK = 0.7
ATTACK_S = 0.004
RELEASE_S = 0.03

Note = tuple[float, float]  # fundamental [Hz] (0 is silence), length [s]

SOUNDS: dict[str, Sequence[Note]] = {
    "pulse": ((440.0, 0.06),),
    "soon": ((587.0, 0.12),),
    "in": ((740.0, 0.05), (0.0, 0.06), (740.0, 0.05)),
    "over": ((523.0, 0.22), (330.0, 0.34)),
    "act": ((660.0, 0.18), (0.0, 0.06), (523.0, 0.26)),
}


def tone(fundamental_hz: float, length_s: float) -> list[float]:
    """Return the samples of one rich tone, or of silence, from -1 to 1."""
    count = round(length_s * RATE_HZ)
    if fundamental_hz == 0.0:
        return [0.0] * count
    weights = [10 ** (level / 20) for level in LEVELS_DB]
    total = sum(weights)
    samples = []
    for at in range(count):
        t = at / RATE_HZ
        value = sum(
            weight * math.sin(2 * math.pi * fundamental_hz * (order + 1) * t)
            for order, weight in enumerate(weights)
        )
        samples.append(value / total * envelope(t, length_s))
    return samples


def envelope(t: float, length_s: float) -> float:
    """Return the loudness at ``t``: no click at either end."""
    return min(1.0, t / ATTACK_S, max(0.0, (length_s - t) / RELEASE_S))


def samples_of(notes: Sequence[Note]) -> list[float]:
    """Return the samples of notes one after the other, at full level."""
    joined = [sample for note in notes for sample in tone(*note)]
    loudest = max(abs(sample) for sample in joined)
    return [PEAK * sample / loudest for sample in joined]


def write(path: Path, samples: Sequence[float]) -> None:
    """Write 16-bit mono."""
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE_HZ)
        file.writeframes(struct.pack(f"<{len(samples)}h", *(round(32767 * s) for s in samples)))


def main() -> None:
    """Write every sound beside this script."""
    for name, notes in SOUNDS.items():
        write(Path(__file__).with_name(f"{name}.wav"), samples_of(notes))


if __name__ == "__main__":
    main()
