"""``mixbench pour`` as its own process, with a hand at a practice scale that does what it says."""

from __future__ import annotations

import json
import os
import queue
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path

from mixbench.practice.scale import PracticeScale

RECIPE = """
format = "mixbench recipe 1"
code = "KT-1"
name = "Test surfacer"
version = "1"
kind = "primer surfacer"
reference = "BASE"

[[product]]
code = "B"
name = "Base"
role = "base"
density = "1.5 g/ml"
density_at = "20 degC"

[[product]]
code = "H"
name = "Hardener"
role = "hardener"
density = "1.0 g/ml"
density_at = "20 degC"

[[product]]
code = "T"
name = "Thinner"
role = "thinner"
density = "0.9 g/ml"
density_at = "20 degC"

[[component]]
code = "BASE"
product = "B"
share = "100 parts"
by = "mass"
tolerance = "2 %"

[[component]]
code = "HARD"
product = "H"
share = "50 parts"
by = "mass"
tolerance = "2 %"

[[component]]
code = "THIN"
product = "T"
share = "10 parts"
by = "mass"
tolerance = "4 %"
"""
QUICK = {"still_s": 0.3, "still_steps": 2.0, "lot_rule": "never"}
CUP_G = 18.0
HAND_G_S = 100.0  # twice a full stream; what comes faster was laid on the pan


def quick_scale(endpoint: str = "pty", *, seed: int = 0) -> PracticeScale:
    """Return a practice scale whose paint falls and settles five times as fast as real paint."""
    return PracticeScale(
        "hdr2", endpoint, rate_hz=50.0, seed=seed, clock=lambda: 5.0 * time.monotonic()
    )


class BenchProcess:
    """A data folder, a practice scale, and the command that pours on it.

    The hand puts the cup on when asked for it and pours each component to the weight said, once;
    ``slips`` maps a component to grams too many, poured only the first time.
    """

    def __init__(self, folder: Path, scale: PracticeScale, *, make: str = "240 g") -> None:
        self.folder = folder
        self.scale = scale
        self.events: list[dict] = []
        self.slips: dict[str, float] = {}
        self._make = make
        self._lines: queue.SimpleQueue[str | None] = queue.SimpleQueue()
        self._process: subprocess.Popen[str] | None = None
        self._poured_to_g = 0.0
        self._cup_is_on = False
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "settings.json").write_text(json.dumps(QUICK))
        self.recipe = folder / "recipe.toml"
        self.recipe.write_text(RECIPE)

    def start(self, *extra: str, same_pot: bool = True) -> None:
        """Start the command; a pot half poured is found by it.

        On a busy machine readings come late, and a quick hand looks like a thing put on the pan:
        unless ``same_pot`` is off, that question is answered beforehand.
        """
        command = [sys.executable, "-m", "mixbench", "pour", str(self.recipe), "--make", self._make]
        command += ["--cup", "400 ml", "--port", self.scale.url, "--profile", "hdr2"]
        command += ["--data", str(self.folder), "--json", *extra]
        command += ["--same-pot"] if same_pot else []
        self._process = subprocess.Popen(
            command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, env=os.environ
        )
        threading.Thread(target=self._listen, args=(self._process,), daemon=True).start()

    def work(self, until: Callable[[dict], bool], seconds: float = 30.0) -> bool:
        """Do what the command says until an event answers, it ends, or time is up."""
        deadline = time.monotonic() + seconds
        while (left_s := deadline - time.monotonic()) > 0:
            try:
                line = self._lines.get(timeout=left_s)
            except queue.Empty:
                return False
            if line is None:
                return False
            event = json.loads(line)
            self.events.append(event)
            self._move(event)
            if until(event):
                return True
        return False

    def kill(self) -> None:
        """End the process as a power cut would, and take in what it had said before."""
        assert self._process is not None
        self._process.kill()
        self._process.wait()
        while (line := self._lines.get(timeout=5)) is not None:
            if line.endswith("}\n"):
                self.events.append(json.loads(line))

    def close(self) -> None:
        """Leave no process behind, whatever a test found."""
        if self._process is not None and self._process.poll() is None:
            self._process.kill()
            self._process.wait()

    def ended(self) -> int:
        """Return the exit code once the process has ended by itself."""
        assert self._process is not None
        code = self._process.wait(timeout=30)
        while (line := self._lines.get(timeout=5)) is not None:
            self.events.append(json.loads(line))
        return code

    def interrupt(self) -> None:
        """Ask the process to end, as a service manager does."""
        assert self._process is not None
        self._process.terminate()

    def clear_pan(self) -> None:
        """Take the finished pot away."""
        self.scale.cup_off()
        self._cup_is_on = False
        self._poured_to_g = 0.0

    def recorded(self) -> list[dict]:
        """Return the events that the command said are in the journal."""
        return [event for event in self.events if "hash" in event]

    def _listen(self, process: subprocess.Popen[str]) -> None:
        assert process.stdout is not None
        with process.stdout as lines:
            for line in lines:
                self._lines.put(line)
        self._lines.put(None)

    def _move(self, event: dict) -> None:
        if event["event"] != "step" or event["hold"] != "none":
            return
        if event["phase"] == "waiting for the cup" and not self._cup_is_on:
            self._cup_is_on = True
            self._poured_to_g = CUP_G
            self.scale.cup_on(CUP_G)
        elif event["phase"] == "pouring":
            slip_g = self.slips.pop(event["component"], 0.0)
            missing_g = event["display_g"] + slip_g - self._poured_to_g
            if missing_g > 0.05:
                self._poured_to_g += missing_g
                self.scale.pour(missing_g, HAND_G_S)
