"""Files: sessions, the studio folder, settings, plans, and what goes in and out."""

from drills.storage.session_file import Session, SessionFileError, read_session

__all__ = ["Session", "SessionFileError", "read_session"]
