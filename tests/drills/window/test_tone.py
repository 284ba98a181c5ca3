"""The tone of the on-screen keyboard.

Frequencies: ISO 16:1975 sets A4 to 440 Hz; the others are those of equal temperament as acoustics
handbooks table them to a hundredth of a hertz (from memory).
"""

import numpy as np
import pytest

from drills.window.tone import PEAK, SAMPLE_RATE, SECONDS, samples

TABLE = {
    21: 27.50, 36: 65.41, 48: 130.81, 53: 174.61, 60: 261.63, 61: 277.18, 67: 392.00, 69: 440.00,
    72: 523.25, 84: 1046.50, 96: 2093.00, 108: 4186.01,
}  # fmt: skip


def heard(key):
    """The tone as numbers from -1 to 1."""
    return np.array(samples(key), dtype=float) / 32768


def fundamental(tone):
    """The lowest strong frequency in hertz, from the peak of a padded spectrum."""
    spectrum = np.abs(np.fft.rfft(tone * np.hanning(len(tone)), 1 << 20))
    return np.argmax(spectrum) * SAMPLE_RATE / (1 << 20)


@pytest.mark.parametrize("key", TABLE)
def test_a_tone_has_the_frequency_of_its_key_to_a_cent(key):
    cents = 1200 * np.log2(fundamental(heard(key)) / TABLE[key])
    # A cent at 27.5 Hz is 0.016 Hz, less than the table's hundredths and the spectrum's 0.02 Hz.
    assert abs(cents) <= (1.0 if key > 21 else 2.0)


@pytest.mark.parametrize("key", [21, 60, 69, 108])
def test_a_tone_is_soft_and_never_near_full_scale(key):
    peak = np.abs(heard(key)).max()
    assert 0.05 <= peak <= PEAK
    assert PEAK <= 0.5


@pytest.mark.parametrize("key", [21, 60, 69, 108])
def test_a_tone_begins_and_ends_in_silence_and_dies_away(key):
    tone = heard(key)
    assert len(tone) == int(SECONDS * SAMPLE_RATE)
    assert abs(tone[0]) <= 1 / 32768
    assert np.abs(tone[-20:]).max() <= 2 / 32768
    tenth = len(tone) // 10
    loudness = [np.abs(tone[at : at + tenth]).max() for at in range(tenth, len(tone), tenth)]
    assert loudness == sorted(loudness, reverse=True)


@pytest.mark.parametrize("key", [60, 100, 104, 106, 108])
def test_a_tone_holds_only_its_own_partials_also_at_the_top_of_the_piano(key):
    tone = heard(key)
    spectrum = np.abs(np.fft.rfft(tone * np.hanning(len(tone)))) ** 2
    frequencies = np.fft.rfftfreq(len(tone), 1 / SAMPLE_RATE)
    own = np.zeros(len(frequencies), dtype=bool)
    for partial in (1, 2, 3):
        own |= np.abs(frequencies - partial * TABLE.get(key, 440 * 2 ** ((key - 69) / 12))) < 40
    assert spectrum[~own].sum() < 1e-4 * spectrum.sum()
