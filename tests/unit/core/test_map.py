from __future__ import annotations

import re
from pathlib import Path

from trainer import core


def test_the_map_of_the_core_names_every_module_and_no_other() -> None:
    folder = Path(core.__file__).parent
    modules = {file.stem for file in folder.glob("*.py")} - {"__init__"}
    assert core.__doc__ is not None
    listed = re.findall(r"^([a-z]+(?: [a-z]+)?)  +\S", core.__doc__, re.MULTILINE)
    named = {word for entry in listed for word in entry.split()}
    in_text = {word for word in re.findall(r"``([a-z]+)``", core.__doc__) if word in modules}
    assert named <= modules
    assert modules <= named | in_text
