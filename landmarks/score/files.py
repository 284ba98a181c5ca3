"""A score file as bytes: what it is, whatever its name says, and whether it is safe to read.

Nothing is unpacked to the disk, no entity is expanded, nothing is fetched.
"""

from __future__ import annotations

import io
import re
import zipfile
from dataclasses import dataclass
from enum import Enum
from pathlib import Path, PurePosixPath
from xml.etree.ElementTree import Element, ParseError

from defusedxml import DefusedXmlException
from defusedxml.ElementTree import fromstring

from landmarks.reasons import reason_of
from landmarks.score.notes import ScoreError
from landmarks.translation import _, gettext_noop

MOST_BYTES = 8_000_000
"""Of a file as it lies on the disk."""
MOST_PLAIN_BYTES = 1_000_000
"""Of a MIDI, ABC or Humdrum file: a big symphony movement in Humdrum has about half of that."""
MOST_UNPACKED_BYTES = 64_000_000
"""Of the MusicXML: five times the largest string quartet of music21's corpus."""
MOST_NOTES = 30_000
"""In a file: half as many again as that quartet, far more than a pupil reads in a year."""
ENDINGS = (".musicxml", ".xml", ".mxl", ".mid", ".midi", ".abc", ".krn")
READABLE = gettext_noop("MusicXML, compressed MusicXML (.mxl), MIDI, ABC or Humdrum (**kern)")

_CONTAINER = "META-INF/container.xml"
_HUMDRUM = re.compile(r"^(?:!!.*\n|\s*\n)*\*\*", re.MULTILINE)
_ABC = re.compile(r"^X:\s*\d", re.MULTILINE)
_ABC_KEY = re.compile(r"^K:", re.MULTILINE)


class Form(Enum):
    """The form in which a file holds a score."""

    MUSICXML = "MusicXML"
    MIDI = "MIDI"
    ABC = "ABC"
    HUMDRUM = "Humdrum"


@dataclass(frozen=True)
class ScoreFile:
    """A file's content: a tree for MusicXML, bytes for MIDI, text for ABC and Humdrum."""

    form: Form
    name: str
    content: Element | bytes | str


def open_score(path: Path) -> ScoreFile:
    """Read a file and find out by its content what it is. ScoreError if it is no score."""
    try:
        if not path.is_file():
            raise ScoreError(_("{path}: there is no such file; check its name").format(path=path))
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except OSError as error:
        raise ScoreError(
            _("{path}: this file cannot be read ({reason}); make it readable").format(
                path=path, reason=reason_of(error)
            )
        ) from None
    if len(data) > MOST_BYTES:
        raise ScoreError(
            _("{path}: this file is larger than {most} MB; choose a single piece").format(
                path=path, most=MOST_BYTES // 1_000_000
            )
        )
    return _recognised(data, path)


def _recognised(data: bytes, path: Path) -> ScoreFile:
    if not data.strip():
        raise ScoreError(_("{path}: this file is empty; save the score again").format(path=path))
    if data.startswith(b"PK"):
        return ScoreFile(Form.MUSICXML, str(path), _tree(_unpacked(data, path), path))
    if data.startswith(b"MThd"):
        _check_size(data, path)
        return ScoreFile(Form.MIDI, str(path), data)
    if _looks_like_xml(data):
        return ScoreFile(Form.MUSICXML, str(path), _tree(data, path))
    text = _text(data, path)
    if _HUMDRUM.match(text):
        return ScoreFile(Form.HUMDRUM, str(path), text)
    if _ABC.search(text) or (_ABC_KEY.search(text) and path.suffix.lower() == ".abc"):
        return ScoreFile(Form.ABC, str(path), text)
    raise _no_score(path)


def _no_score(path: Path) -> ScoreError:
    return ScoreError(
        _("{path}: this is not a score that can be read; choose {readable}").format(
            path=path, readable=_(READABLE)
        )
    )


def _looks_like_xml(data: bytes) -> bool:
    # XML 1.0, appendix F: the encodings tell themselves by how "<" is written.
    start = data[:64].lstrip(b"\xef\xbb\xbf \t\r\n")
    return start.startswith((b"<", b"\xff\xfe<\0", b"\xfe\xff\0<"))


def _text(data: bytes, path: Path) -> str:
    if b"\0" in data:
        raise _no_score(path)
    _check_size(data, path)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = data.decode("latin-1")
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _check_size(data: bytes, path: Path) -> None:
    if len(data) > MOST_PLAIN_BYTES:
        raise ScoreError(
            _("{path}: this file is larger than {most} MB; choose a single piece").format(
                path=path, most=MOST_PLAIN_BYTES // 1000000
            )
        )


def _tree(data: bytes, path: Path) -> Element:
    root = _parsed(data, path)
    if root.tag not in ("score-partwise", "score-timewise"):
        raise _no_score(path)
    return root


def _parsed(data: bytes, path: Path) -> Element:
    """Parse XML that declares no entity and asks for nothing from elsewhere."""
    try:
        root: Element = fromstring(data, forbid_entities=True, forbid_external=True)
    except DefusedXmlException:
        raise ScoreError(
            _(
                "{path}: this file declares entities, which no score needs and which can be a "
                "trap; get it from another source"
            ).format(path=path)
        ) from None
    except (ParseError, ValueError, LookupError) as error:
        raise ScoreError(
            _(
                "{path}: this is damaged or cut short, not whole XML ({error}); save the score "
                "again"
            ).format(path=path, error=error)
        ) from None
    return root


def _unpacked(data: bytes, path: Path) -> bytes:
    """Return the score inside compressed MusicXML, as its container names it."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            return _entry(archive, _score_name(archive, path), path)
    except (ScoreError, MemoryError):
        raise
    except Exception:
        # Each way of packing meets damage with errors of its own (zlib, lzma, bz2, struct).
        raise ScoreError(
            _(
                "{path}: this compressed file is damaged, cut short or locked; save the score again"
            ).format(path=path)
        ) from None


def _score_name(archive: zipfile.ZipFile, path: Path) -> str:
    """Return the name of the score, which is the first root file (MusicXML 4.0, container.rng)."""
    names = archive.namelist()
    if _CONTAINER in names:
        container = _parsed(_entry(archive, _CONTAINER, path), path)
        found = [str(entry.get("full-path")) for entry in container.iterfind(".//{*}rootfile")]
    else:
        found = [name for name in names if name.lower().endswith((".musicxml", ".xml"))]
    if not found or found[0] not in names:
        raise ScoreError(
            _("{path}: this compressed file holds no score; choose one that ends in .mxl").format(
                path=path
            )
        )
    if ".." in PurePosixPath(found[0]).parts or PurePosixPath(found[0]).is_absolute():
        raise ScoreError(
            _(
                "{path}: this compressed file names a score outside itself, which can be a trap; "
                "get it from another source"
            ).format(path=path)
        )
    return found[0]


def _entry(archive: zipfile.ZipFile, name: str, path: Path) -> bytes:
    with archive.open(name) as file:
        # Read, not looked up: a file can lie about its size.
        content = file.read(MOST_UNPACKED_BYTES + 1)
    if len(content) > MOST_UNPACKED_BYTES:
        raise ScoreError(
            _("{path}: unpacked this file is larger than {most} MB; choose a single piece").format(
                path=path, most=MOST_UNPACKED_BYTES // 1_000_000
            )
        )
    return content
