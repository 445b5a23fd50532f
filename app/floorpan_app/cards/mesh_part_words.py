"""Every sentence and label of the part for parts from mesh files; `{}` fields are filled where they are shown."""

from typing import Final

PARTS: Final = "Parts from mesh files"
WORST: Final = "worst of each"
NONE_YET: Final = (
    "A seat, a wheel, a dash or a lid as somebody scanned or drew it: it is judged as what it stands for."
)
ADD: Final = "A mesh from a file\u2026"
NOT_JUDGED: Final = "nothing near it yet"
FACTS: Final = ("File", "Size")
SIZE: Final = "{x} \u00d7 {y} \u00d7 {z}"
