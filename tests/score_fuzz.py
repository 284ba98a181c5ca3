"""A grammar of scores that are well-formed and odd: MusicXML, MIDI, ABC and Humdrum by a seed.

Every file follows its standard's syntax; its numbers, clefs, keys, lengths, voices and bytes are
now usual, now at the edges of what the format can say, now beyond what anybody would print.
"""

from __future__ import annotations

import random
import struct
import zipfile
from io import BytesIO

LETTERS = "CDEFGAB"
TYPES = ("breve", "whole", "half", "quarter", "eighth", "16th", "32nd", "64th", "128th", "long")
ODD_NUMBERS = ("0", "-1", "1", "2", "7", "99", "1000000007", "4294967296", "1e9", "1.5", "", "four")
WORDS = (
    "Kite",
    "",
    "  ",
    "a" * 400,
    "\u202eKite",
    "Ünïcödé",
    "नमस्ते",
    "&lt;b&gt;",
    "%s {x}",
    "C:\\",
)
META = (
    b"\xff\x58\x04\x03\x02\x18\x08", b"\xff\x59\x02\x02\x00", b"\xff\x51\x03\x07\xa1\x20",
    b"\xff\x58\x04\x00\x09\x18\x08", b"\xff\x59\x02\x63\x05", b"\xff\x51\x03\x00\x00\x00",
    b"\xff\x03\x03\xff\xfe\x00", b"\xf0\x03\x01\x02\xf7", b"\xc0\x05", b"\xe0\x00\x40",
)  # fmt: skip
"""Metres, keys, tempi (usual, then absurd), a name that is no UTF-8, SysEx, program, wheel."""


class ScoreMaker:
    """Makes one odd score after another from one seed."""

    def __init__(self, seed: int) -> None:
        """Begin a sequence of scores."""
        self._chance = random.Random(seed)
        self._oddness = 0.0

    def score(self) -> tuple[str, bytes]:
        """Return an ending and the content of a file that ends so."""
        self._oddness = self._chance.choice((0.0, 0.1, 0.3, 1.0))
        make = self._chance.choice(
            (self._musicxml_file, self._packed_file, self._abc_file, self._humdrum_file, self._midi)
        )
        return make()

    def _odd(self, usual: object, share: float = 0.06) -> str:
        is_odd = self._chance.random() < share * self._oddness
        return self._chance.choice(ODD_NUMBERS) if is_odd else str(usual)

    def _musicxml_file(self) -> tuple[str, bytes]:
        return ".musicxml", self._musicxml().encode("utf-8")

    def _packed_file(self) -> tuple[str, bytes]:
        file = BytesIO()
        packing = self._chance.choice(
            (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED, zipfile.ZIP_LZMA, zipfile.ZIP_BZIP2)
        )
        with zipfile.ZipFile(file, "w", packing) as archive:
            archive.writestr("score.xml", self._musicxml())
        content = bytearray(file.getvalue())
        if self._chance.random() < 0.2:
            for _time in range(self._chance.randint(1, 5)):
                content[self._chance.randrange(len(content))] ^= self._chance.randint(1, 255)
        return ".mxl", bytes(content)

    def _musicxml(self) -> str:
        chance = self._chance
        staves = chance.choice((1, 1, 2, 3))
        bars = "".join(self._bar(number, staves) for number in range(chance.randint(1, 4)))
        return (
            '<?xml version="1.0" encoding="UTF-8"?><score-partwise version="4.0">'
            f"<movement-title>{chance.choice(WORDS)}</movement-title><part-list>"
            f'<score-part id="P1"><part-name>{chance.choice(WORDS)}</part-name></score-part>'
            f'</part-list><part id="P1">{bars}</part></score-partwise>'
        )

    def _bar(self, number: int, staves: int) -> str:
        chance = self._chance
        content = self._attributes(staves) if not number or chance.random() < 0.2 else ""
        for stave in range(1, staves + 1):
            content += "".join(self._xml_note(stave) for _note in range(chance.randint(0, 6)))
            if stave < staves:
                content += (
                    f"<backup><duration>{self._odd(chance.randint(0, 8))}</duration></backup>"
                )
        label = self._odd(number) if chance.random() < 0.9 else chance.choice(WORDS)
        return f'<measure number="{label}">{content}</measure>'

    def _attributes(self, staves: int) -> str:
        chance, odd = self._chance, self._odd
        clefs = "".join(
            f'<clef number="{odd(stave, 0.02)}"><sign>'
            f"{chance.choice(('G', 'F', 'C', 'G', 'F', 'percussion', 'TAB', 'none', 'H'))}</sign>"
            f"<line>{odd(chance.randint(1, 5), 0.04)}</line>"
            f"<clef-octave-change>{odd(chance.choice((0, 0, 0, -1, 1)), 0.03)}</clef-octave-change>"
            "</clef>"
            for stave in range(1, staves + 1)
        )
        transposed = "<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>"
        return (
            f"<attributes><divisions>{odd(chance.choice((1, 2, 4, 480)), 0.03)}</divisions>"
            f"<key><fifths>{odd(chance.randint(-7, 7), 0.03)}</fifths></key>"
            f"<time><beats>{odd(chance.choice((2, 3, 4, '3+2')), 0.03)}</beats>"
            f"<beat-type>{odd(chance.choice((2, 4, 8)), 0.03)}</beat-type></time>"
            f"<staves>{odd(staves, 0.02)}</staves>{clefs}"
            f"{transposed if chance.random() < 0.1 else ''}</attributes>"
        )

    def _xml_note(self, stave: int) -> str:
        chance, odd = self._chance, self._odd
        what = (
            f"<pitch><step>{chance.choice(LETTERS)}</step>"
            f"<alter>{odd(chance.choice((-1, 0, 0, 0, 1, 2, 0.5)), 0.02)}</alter>"
            f"<octave>{odd(chance.randint(2, 6), 0.02)}</octave></pitch>"
        )
        what = "<rest/>" if chance.random() < 0.15 else what
        before = chance.choice(("", "", "", "<chord/>", "<grace/>", "<cue/>"))
        length = (
            ""
            if before == "<grace/>"
            else f"<duration>{odd(chance.randint(1, 4), 0.03)}</duration>"
        )
        tie = chance.choice(("", "", '<tie type="start"/>', '<tie type="stop"/>'))
        tuplet = (
            "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes>"
            "</time-modification>"
            if chance.random() < 0.1
            else ""
        )
        return (
            f"<note>{before}{what}{length}{tie}<voice>{odd(stave, 0.02)}</voice>"
            f"<type>{chance.choice(TYPES)}</type>{'<dot/>' * chance.choice((0, 0, 0, 1, 2, 5))}"
            f"{tuplet}<staff>{odd(stave, 0.02)}</staff></note>"
        )

    def _abc_file(self) -> tuple[str, bytes]:
        chance = self._chance
        clef = chance.choice(
            (
                "",
                "",
                "treble",
                "bass",
                "alto",
                "tenor",
                "soprano",
                "C1",
                "F3",
                "treble-8",
                "perc",
                "x",
            )
        )
        voices = chance.choice(((), (), ("1", "2")))
        body = [self._abc_line() for _line in range(chance.randint(1, 3))]
        lines = [
            f"X:{self._odd(1)}", f"T:{chance.choice(WORDS)}",
            f"M:{self._odd(chance.choice((2, 3, 4, 6)), 0.04)}/{self._odd(4, 0.04)}",
            f"L:{self._odd(1, 0.02)}/{self._odd(chance.choice((4, 8, 16)), 0.03)}",
            f"K:{chance.choice(('C', 'G', 'Dm', 'F#', 'Bb', 'Edor', 'none', 'HP'))}"
            f"{f' clef={clef}' if clef else ''}",
            *[line for voice in voices for line in (f"V:{voice}", *body)],
            *(body if not voices else []),
        ]  # fmt: skip
        return ".abc", "\n".join([*lines, ""]).encode(chance.choice(("utf-8",) * 9 + ("utf-16",)))

    def _abc_line(self) -> str:
        chance = self._chance
        marks = (
            "|",
            "|:",
            ":|",
            "||",
            "[M:3/4]",
            "[K:D]",
            "(3",
            "-",
            "{c}",
            "!trill!",
            '"Am"',
            "z4",
            "&",
        )

        def token() -> str:
            if chance.random() < 0.2:
                return chance.choice(marks)
            note = chance.choice(("", "", "^", "_", "=", "^^")) + chance.choice("CDEFGABcdefgab")
            note += chance.choice(("", "", ",", "'", ",,,,,,,,", "''''''''''"))
            note += self._odd(chance.choice(("", "2", "/2", "3/2", "<")), 0.03)
            return f"[{note}e]" if chance.random() < 0.1 else note

        return " ".join(token() for _token in range(chance.randint(0, 14))) + " |"

    def _humdrum_file(self) -> tuple[str, bytes]:
        chance = self._chance
        spines = chance.choice((1, 1, 2))

        def row(token: str) -> str:
            return "\t".join([token] * spines)

        clef = chance.choice(("G2", "F4", "C1", "C2", "C3", "C4", "C5", "Gv2", "X", "F3"))
        lines = [
            row("**kern"), row(f"*clef{clef}"), row(chance.choice(("*k[]", "*k[f#]", "*k[b-e-]"))),
            row(f"*M{self._odd(4, 0.04)}/{self._odd(4, 0.04)}"),
        ]  # fmt: skip
        for bar in range(1, chance.randint(2, 5)):
            lines.append(row(f"={self._odd(bar)}"))
            for _moment in range(chance.randint(0, 6)):
                lines.append("\t".join(self._humdrum_token() for _spine in range(spines)))
        ends = [row("*-")] if chance.random() < 0.95 else []
        return ".krn", "\n".join([*lines, *ends, ""]).encode()

    def _humdrum_token(self) -> str:
        chance = self._chance
        if chance.random() < 0.1:
            return chance.choice((".", "4r", "4", "qc", "4c 4e", "[4c", "4c]", "zz"))
        length = self._odd(chance.choice((1, 2, 4, 8, 16, "4.", "6", "3%2")), 0.03)
        note = chance.choice("cdefgabCDEFGAB") * chance.choice((1, 1, 1, 2, 3, 9))
        return f"{length}{note}{chance.choice(('', '', '#', '-', 'n', '##'))}"

    def _midi(self) -> tuple[str, bytes]:
        chance = self._chance
        count = chance.choice((1, 1, 2, 3))
        tracks = b"".join(self._track() for _track in range(count))
        header = struct.pack(
            ">HHH",
            chance.choice((0, 1, 1, 1, 2)),
            count if chance.random() < 0.95 else chance.choice((0, 99, 65535)),
            chance.choice((480, 96, 1, 0, 32767, 0xE728)),
        )
        return ".mid", b"MThd" + struct.pack(">I", 6) + header + tracks

    def _track(self) -> bytes:
        chance, events = self._chance, bytearray()
        held: list[tuple[int, int]] = []
        for _event in range(chance.randint(0, 14)):
            events += _variable(
                chance.choice((0, 0, 48, 96, 240, 480, 0x0FFFFFFF))
                if chance.random() < 0.1
                else chance.choice((0, 96, 240))
            )
            if held and chance.random() < 0.5:
                channel, key = held.pop()
                events += bytes((0x80 | channel, key, 0))
            elif chance.random() < 0.15:
                events += chance.choice(META)
            else:
                channel, key = chance.choice((0, 0, 1, 9)), chance.randint(0, 127)
                held.append((channel, key))
                events += bytes((0x90 | channel, key, chance.choice((0, 1, 64, 127))))
        events += b"\x00\xff\x2f\x00"
        return b"MTrk" + struct.pack(">I", len(events)) + bytes(events)


def _variable(number: int) -> bytes:
    """Return a variable-length quantity (Standard MIDI Files 1.0)."""
    digits = [number & 0x7F]
    while number := number >> 7:
        digits.append(0x80 | number & 0x7F)
    return bytes(reversed(digits))
