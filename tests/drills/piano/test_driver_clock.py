import math

from hypothesis import given
from hypothesis import strategies as st

from drills.piano.driver_clock import DRIFT, SECOND, WINDOW_MESSAGES, DriverClock

MILLISECOND = 1_000_000
START = 5_000 * SECOND

delays = st.integers(0, 60 * MILLISECOND)
gaps = st.integers(0, 3 * SECOND)
deliveries = st.lists(st.tuples(gaps, delays), min_size=1, max_size=60)


def deliver(messages, drift=0.0, clock=None):
    """Give (true time, arrival, time given) of messages that are delivered late, in order."""
    clock = clock or DriverClock()
    true = arrival = START
    before = None
    told = []
    for gap, delay in messages:
        true += gap
        arrival = max(arrival, true + delay)
        delta = 0.0 if before is None else (true - before) / SECOND * (1 + drift)
        before = true
        told.append((true, arrival, clock.time_of(delta, arrival, 0)))
    return told


@given(deliveries)
def test_a_time_is_never_too_early_nor_later_than_the_message_arrived(messages):
    for true, arrival, told in deliver(messages):
        assert true - 1000 <= told <= arrival  # 1 µs: what the rounding of the deltas adds up to


@given(deliveries)
def test_after_one_prompt_message_times_are_true_whatever_the_delays(messages):
    for true, arrival, told in deliver([(0, 0), *messages[:WINDOW_MESSAGES]]):
        assert abs(told - true) <= 1000 + (arrival - START) // DRIFT


@given(deliveries, st.floats(-100e-6, 100e-6))
def test_drifting_clocks_never_put_a_time_after_arrival_or_back(messages, drift):
    told = deliver(messages, drift)
    assert all(time <= arrival for _, arrival, time in told)
    times = [time for _, _, time in told]
    assert times == sorted(times)


@given(st.lists(st.tuples(gaps, delays, delays), min_size=1, max_size=60))
def test_no_time_is_later_than_the_doubt_that_is_told(messages):
    clock, true, arrival, before = DriverClock(), START, START, None
    for gap, delay, more in messages:
        true += gap
        arrival = max(arrival, true + delay)
        delta = 0.0 if before is None else (true - before) / SECOND
        before = true
        told = clock.time_of(delta, arrival, arrival - true + more)
        # The clock allows for two clocks that drift apart; here they do not.
        assert told - true <= clock.doubt + 1000 + (arrival - START) // DRIFT


def test_an_hour_of_drift_stays_within_the_delivery_jitter():
    for drift in (-80e-6, 80e-6):
        messages = [(300 * MILLISECOND, (n % 7) * MILLISECOND) for n in range(12_000)]
        errors = [told - true for true, _, told in deliver(messages, drift)]
        assert max(map(abs, errors)) < 7 * MILLISECOND


@given(
    st.lists(
        st.tuples(
            st.one_of(st.floats(), st.sampled_from([0.0, -1.0, math.nan, math.inf, 1e12])),
            st.integers(-SECOND, 5 * SECOND),
        ),
        max_size=60,
    )
)
def test_time_never_goes_backwards_whatever_the_driver_says(messages):
    clock, arrival, last = DriverClock(), START, 0
    for delta, gap in messages:
        arrival += gap
        told = clock.time_of(delta, arrival, 0)
        assert told >= last
        last = told


def test_the_first_delta_does_not_matter():
    assert DriverClock().time_of(0.0, START, 0) == START
    assert DriverClock().time_of(86.4, START, 0) == START


def test_a_message_held_up_by_a_busy_program_keeps_its_time():
    *_, (true, arrival, told) = deliver([(SECOND, 0)] * 5 + [(SECOND, 200 * MILLISECOND)])
    assert arrival - true == 200 * MILLISECOND
    assert abs(told - true) < MILLISECOND


def test_a_night_without_a_key_is_no_trouble():
    *_, (true, _, told) = deliver([(0, 0), (SECOND, 0), (9 * 3600 * SECOND, 0)])
    assert told == true


def errors_after(first_delta, first_gap, messages):
    """Give the errors (ns) of times told once the driver said `first_delta` s for `first_gap` s."""
    clock = DriverClock()
    deliver([(SECOND, 0)] * 20, clock=clock)
    arrival, errors = START + 20 * SECOND, []
    for number in range(messages):
        arrival += round(first_gap * SECOND) if number == 0 else SECOND
        errors.append(clock.time_of(1.0 if number else first_delta, arrival, 0) - arrival)
    return errors


def test_a_stream_that_jumps_ahead_is_followed_at_once():
    assert errors_after(first_delta=40.0, first_gap=1.0, messages=5) == [0] * 5


def test_a_stream_that_goes_back_is_followed_at_once():
    assert errors_after(first_delta=-0.2, first_gap=0.3, messages=5) == [0] * 5


def test_a_stream_that_loses_long_times_is_followed_at_once():
    assert errors_after(first_delta=1.0, first_gap=2.5, messages=5) == [0] * 5


def test_a_stream_that_loses_a_short_time_is_followed_within_the_window():
    errors = errors_after(first_delta=1.0, first_gap=1.3, messages=WINDOW_MESSAGES + 1)
    assert errors[0] < -250 * MILLISECOND
    assert errors[-1] == 0
