"""Trains a drilling crew to work rotary slips by hand, assesses them, and keeps the proof.

Start at ``python3 -m trainer`` (``__main__``), which hands over to ``trainer.cli``. DEVELOPERS.md is the map.
"""

VERSION = "0.1"
