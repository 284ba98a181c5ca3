"""Writes the JSON Schema and the description of a session file anew, beside the records' types.

python -m drills.sessions.generate
"""

from __future__ import annotations

import json
from pathlib import Path

from drills.sessions.description import session_file_description
from drills.sessions.schema import session_schema


def generated_files() -> dict[Path, str]:
    """Return what the generated files are to hold, by their paths."""
    here = Path(__file__).parent
    schema = json.dumps(session_schema(), indent=2, ensure_ascii=False)
    return {
        here / "session.schema.json": f"{schema}\n",
        here / "SESSION_FILE.md": session_file_description(),
    }


if __name__ == "__main__":
    for path, text in generated_files().items():
        path.write_text(text, "utf-8")
