"""A few words of MusicXML 4.0, so that tests can write a bar of music in one line."""

from __future__ import annotations

from landmarks.pitch import Pitch


def score(*bars: str) -> str:
    """One part with these bars."""
    measures = "".join(f'<measure number="{n}">{bar}</measure>' for n, bar in enumerate(bars, 1))
    return (
        '<score-partwise version="4.0"><part-list><score-part id="P1"><part-name/></score-part>'
        f'</part-list><part id="P1">{measures}</part></score-partwise>'
    )


def attributes(clefs: tuple[str, ...] = ("G2",), beats: int = 4, fifths: int = 0) -> str:
    """Key, time and clefs ("G2": sign and line); durations count quarter notes."""
    signs = "".join(
        f'<clef number="{n}"><sign>{clef[0]}</sign><line>{clef[1]}</line></clef>'
        for n, clef in enumerate(clefs, 1)
    )
    return (
        f"<attributes><divisions>1</divisions><key><fifths>{fifths}</fifths></key>"
        f"<time><beats>{beats}</beats><beat-type>4</beat-type></time>"
        f"<staves>{len(clefs)}</staves>{signs}</attributes>"
    )


def note(
    pitch: str | None, duration: int, type_: str, *, chord: bool = False, dots: int = 0,
    voice: int = 1, staff: int = 1,
) -> str:  # fmt: skip
    """A note ("F#4"), or a rest where there is no pitch."""
    what = "<rest/>"
    if pitch is not None:
        read = Pitch.parse(pitch)
        what = (
            f"<pitch><step>{read.letter}</step><alter>{read.alteration}</alter>"
            f"<octave>{read.octave}</octave></pitch>"
        )
    return (
        f"<note>{'<chord/>' * chord}{what}<duration>{duration}</duration><voice>{voice}</voice>"
        f"<type>{type_}</type>{'<dot/>' * dots}<staff>{staff}</staff></note>"
    )


def backup(duration: int) -> str:
    """Go back so many quarter notes."""
    return f"<backup><duration>{duration}</duration></backup>"
