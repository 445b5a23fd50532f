"""The toolkit's binding: one release lost a reference to True with every signal and aborted."""

import subprocess
import sys

SIGNALS = 20_000

SEND = f"""
import sys
from PySide6.QtCore import QObject, Signal

class Sender(QObject):
    plain = Signal()
    told = Signal(bool)

sender, heard = Sender(), []
sender.plain.connect(lambda: heard.append(1))
before = sys.getrefcount(True)
for _ in range({SIGNALS}):
    sender.plain.emit()
    sender.told.emit(True)
print(len(heard), abs(sys.getrefcount(True) - before) < 1000)
"""


def test_20_000_signals_leave_python_whole() -> None:
    done = subprocess.run([sys.executable, "-c", SEND], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == [str(SIGNALS), "True"]
