"""The demo shop: put into a folder once, and never over what somebody changed there."""

from __future__ import annotations

import os
import subprocess
import sys

from mixbench.app.demo import prepare_shop
from mixbench.resource import demo_shop_path
from tests.helpers.faults import write_protected


def test_every_file_of_the_shop_is_there_and_a_changed_one_stays(tmp_path) -> None:
    prepare_shop(tmp_path)
    shipped = {path.relative_to(demo_shop_path()) for path in demo_shop_path().rglob("*.toml")}
    assert {path.relative_to(tmp_path) for path in tmp_path.rglob("*.toml")} == shipped
    (tmp_path / "shop.toml").write_text("# ours")
    prepare_shop(tmp_path)
    assert (tmp_path / "shop.toml").read_text() == "# ours"


def test_a_folder_that_may_not_be_written_to_is_refused_in_the_readers_language(tmp_path) -> None:
    with write_protected(tmp_path):
        ended = subprocess.run(
            [sys.executable, "-m", "mixbench", "demo", "--data", str(tmp_path / "shop")],
            capture_output=True,
            text=True,
            timeout=60,
            env={**os.environ, "LC_ALL": "de_DE.UTF-8"},
        )
    assert ended.returncode == 1
    assert ended.stderr.startswith(f"Der Übungsbetrieb lässt sich nicht in {tmp_path / 'shop'}")
    assert ended.stderr.rstrip().endswith("Mit --data einen beschreibbaren Ordner nennen.")
