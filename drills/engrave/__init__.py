"""Staves and notes as pictures, engraved with a music font to the SMuFL standard."""
