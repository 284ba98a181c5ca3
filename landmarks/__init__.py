"""The musical knowledge: pitches, staves, landmark sets and what an answer means.

Pure: no clock, no window, no file but the ones it is handed.
"""
