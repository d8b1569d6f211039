"""Look at an installed mixbench from outside its checkout: ``installed.py SITE``.

Run by tests/run.py on a wheel unpacked into SITE; ends non-zero naming what is missing.
"""

import shutil
import subprocess
import sys
from pathlib import Path

import mixbench
from mixbench.resource import demo_shop_path, resource_path

SHIPPED = ("fonts/NotoSans-Regular.ttf", "fonts/B612-Bold.otf", "icons/mixbench.svg", "profiles")


def missing(site: Path) -> list[str]:
    """Return what an installed copy should have and does not."""
    wanted = [Path(mixbench.__file__), *map(resource_path, SHIPPED), demo_shop_path() / "shop.toml"]
    gone = [str(path) for path in wanted if not (path.is_relative_to(site) and path.exists())]
    script = shutil.which("mixbench", path=site / "bin") or "mixbench"
    help_text = subprocess.run([script, "--help"], capture_output=True, text=True, check=False)
    if help_text.returncode or "demo" not in help_text.stdout:
        gone.append(f"a working {script} --help: {help_text.stderr}")
    return gone


if __name__ == "__main__":
    found = missing(Path(sys.argv[1]).resolve())
    sys.exit("Missing: " + "\n  ".join(found) if found else 0)
