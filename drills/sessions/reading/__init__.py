"""Reading: a line of music played from the stave, at the pupil's own pace."""
