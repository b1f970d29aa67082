"""``serve`` with sessions that end after a few seconds: for the journey that waits for it, and for nothing else."""

from __future__ import annotations

import sys
from pathlib import Path

from trainer import settings
from trainer.actions import signing_in
from trainer.web import beat
from trainer.web.serving import serve

if __name__ == "__main__":
    signing_in.IDLE_SECONDS = int(sys.argv[3])
    signing_in.TOUCH_SECONDS = 1
    beat.WARN_SECONDS = int(sys.argv[4])
    sys.exit(serve(settings.read(Path(sys.argv[1])), int(sys.argv[2])))
