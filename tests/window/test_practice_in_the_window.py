"""A pupil practises in the real window, on an X server without a monitor, over real MIDI."""

import time

import pytest

from drills.cards.card import cards_of, key_cards
from drills.storage.session_file import read_session
from drills.window.pages.card_page import PageSetting
from drills.window.pages.keyboard_strip import strip_of
from landmarks.names import LETTER
from landmarks.sets import built_in_sets
from tests.window.program import SIZE, Program, tap

WHITE = "CDEFGAB"
SEMITONES = (0, 2, 4, 5, 7, 9, 11)


@pytest.fixture
def practise(tmp_path, screen):
    started = []

    def start(**options):
        started.append(Program(tmp_path, "practise", "--pupil", "Robin", **options))
        return started[-1]

    yield start
    for practice in started:
        practice.process.kill()
        practice.process.wait()


def stepped(key, steps):
    """Give the white key so many white keys away; written out here, away from the program."""
    octave, semitone = divmod(key, 12)
    octaves, letter = divmod(SEMITONES.index(semitone) + steps, 7)
    return (octave + octaves) * 12 + SEMITONES[letter]


def twin(card):
    """Give the key of the same line or space in the other clef: 12 white keys away."""
    return stepped(card["target"], -12 if card["clef"] == "treble" else 12)


ANCHORS = {"treble": (60, 67, 72), "bass": (60, 53, 48)}


def wrong_way(card):
    """Give the key as far on the other side of the landmark next to a step card's note."""
    steps = next(s for s in (1, -1) if stepped(card["target"], -s) in ANCHORS[card["clef"]])
    return stepped(card["target"], -2 * steps)


def on_stave(card):
    return card["kind"] in ("landmark", "step")


class Pianist:
    """Plays what a pupil plays, and keeps what it sent and what ought to be made of it."""

    def __init__(self, piano):
        self.piano = piano
        self.sent, self.expected, self.tuned = [], [], False
        self.to_do = {
            "direction": (lambda card: card["kind"] == "step", wrong_way),
            "step": (on_stave, lambda card: stepped(card["target"], 1)),
            "octave": (on_stave, lambda card: card["target"] + 12),
            "clef": (on_stave, twin),
            "skip": (on_stave, lambda card: stepped(card["target"], -2)),
            "leap": (on_stave, lambda card: stepped(card["target"], -4)),
            "half-step": (lambda card: on_stave(card) and card["target"] % 12 not in (4, 11),
                          lambda card: card["target"] + 1),
            "cluster": (on_stave, None),
            "layered": (on_stave, None),
        }  # fmt: skip

    def answer(self, card):
        time.sleep(0.3)
        slip = next((name for name, (fits, _) in self.to_do.items() if fits(card)), None)
        if slip == "cluster":
            self._cluster(card)
        elif slip == "layered":
            self._layered(card)
        elif slip is not None:
            self._tap(self.to_do[slip][1](card))
            self._expect(card, slip, 1, True)
            self._tap(card["target"])
            self._expect(card, "exact", 2, False)
        else:
            self._plainly(card)
        self.to_do.pop(slip, None)

    def _plainly(self, card):
        for harmless in ([0xFE], [0xB0, 64, 127], [0xF0, 0x7E, 0x7F, 0x09, 0x01, 0xF7]):
            self.piano.send(harmless)
        self._tap(card["target"])
        self._expect(card, "exact", 1, self.tuned)
        self.tuned = True

    def _cluster(self, card):
        keys = [stepped(card["target"], steps) for steps in (-1, 0, 1)]
        for key in keys:
            self.piano.press(key)
        time.sleep(0.1)
        for key in keys:
            self.piano.release(key)
        self.sent += [(key, True) for key in keys] + [(key, False) for key in keys]
        self._expect(card, "cluster", 1, False)
        time.sleep(0.05)
        self._tap(card["target"])
        self._expect(card, "exact", 2, False)

    def _layered(self, card):
        for move in (self.piano.press, self.piano.release):
            for channel in (1, 2):
                move(card["target"], channel=channel)
            time.sleep(0.09)
        self.sent += [(card["target"], True), (card["target"], False)]
        self._expect(card, "exact", 1, True)

    def _tap(self, key):
        tap(self.piano, key)
        self.sent += [(key, True), (key, False)]

    def _expect(self, card, verdict, attempt, counted):
        self.expected.append((card["id"], verdict, attempt, counted))


def test_whole_sessions_are_told_key_for_key(practise, scripted_piano):
    pianist, reasons = Pianist(scripted_piano), set()
    for _ in range(4):
        practice = practise()
        while pianist.to_do and (card := practice.wait_for("card", "end"))["event"] == "card":
            pianist.answer(card)
        time.sleep(0.2)
        practice.close()
        reasons |= told_as_played(practice, pianist)
        if not pianist.to_do:
            break
    assert not pianist.to_do
    assert reasons == {"tuning", "later attempt", "cluster"}


def told_as_played(practice, pianist):
    """Hold a session file against what was played; give the reasons for not counting."""
    lines = practice.lines()
    answers = [e for e in lines if e["event"] == "answer"]
    told = [(e["id"], e["verdict"], e["attempt"], e.get("counted", False)) for e in answers]
    assert [(e["key"], e["on"]) for e in lines if e["event"] == "key"] == pianist.sent
    assert told == pianist.expected
    session = read_session(practice.path)
    assert (session.header.clock, session.header.port) == ("driver", pianist.piano.name)
    assert len(session.responses) == sum(counted for *_, counted in told)
    pianist.sent, pianist.expected = [], []
    return {e["why_not"] for e in answers if "why_not" in e}


def test_a_piano_that_sounds_a_tone_higher_is_put_right_and_remembered(practise, scripted_piano):
    practice = practise()
    practice.wait_for("card", kind="key", target=60)
    time.sleep(0.3)
    tap(scripted_piano, 62)
    practice.wait_for("answer")
    tap(scripted_piano, 62)
    assert practice.wait_for("piano", change="tuned")["shift"] == 2
    card = practice.wait_for("card")
    time.sleep(0.3)
    tap(scripted_piano, card["target"] + 2)
    answer = practice.wait_for("answer")
    assert (answer["verdict"], answer["played"]) == ("exact", card["target"])
    practice.close()
    practice.path.unlink()
    again = practise()
    assert again.wait_for("piano", change="found")["shift"] == 2
    again.close()


def test_a_piano_unplugged_in_mid_card_keeps_the_card_and_does_not_count_it(
    practise, scripted_piano, new_piano
):
    practice = practise()
    practice.wait_for("card")
    time.sleep(0.3)
    tap(scripted_piano, 60)
    card = practice.wait_for("card")
    scripted_piano.close()
    practice.wait_for("piano", change="lost")
    piano = new_piano(scripted_piano.name.split(":")[0])
    practice.wait_for("piano", change="found")
    time.sleep(0.2)
    tap(piano, card["target"])
    answer = practice.wait_for("answer")
    assert (answer["id"], answer["verdict"]) == (card["id"], "exact")
    assert answer["why_not"] == "piano lost"
    practice.close()


def test_a_pupil_without_a_piano_plays_by_mouse_and_by_computer_keys(
    practise, jack, xdotool, monkeypatch
):
    monkeypatch.setenv("JACK_DEFAULT_SERVER", "nobody")
    practice = practise()
    landmarks = built_in_sets()["five"]
    cards = (*cards_of(landmarks), *key_cards(landmarks))
    setting = PageSetting(*SIZE, False, LETTER, cards)
    strip = strip_of(setting.strip_box, [card.key for card in cards])
    card = practice.wait_for("card")
    box = strip.key_box(card["target"])
    time.sleep(0.3)
    xdotool("mousemove", box.x + box.width // 2, box.y + box.height * 0.9 // 1, "click", 1)
    answer = practice.wait_for("answer")
    assert (answer["verdict"], answer["played"]) == ("exact", card["target"])
    card = practice.wait_for("card")
    time.sleep(0.3)
    rows = {48: "z", 53: "v", 60: "q", 67: "t", 72: "i", 62: "w", 69: "y", 65: "r", 59: "m"}
    xdotool("key", rows[card["target"]])
    answer = practice.wait_for("answer")
    assert (answer["verdict"], answer["played"]) == ("exact", card["target"])
    practice.close()
    assert read_session(practice.path).header.clock == "window"
    assert read_session(practice.path).header.port is None


def test_escape_ends_the_session_and_then_closes_the_window(practise, jack, xdotool, monkeypatch):
    monkeypatch.setenv("JACK_DEFAULT_SERVER", "nobody")
    practice = practise()
    practice.wait_for("card")
    xdotool("mousemove", 500, 300, "key", "Escape")
    assert practice.wait_for("end")["why"] == "stopped"
    xdotool("key", "Escape")
    assert practice.process.wait(10) == 0
