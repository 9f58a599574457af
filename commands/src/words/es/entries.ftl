# Amending, timelines, entry quality.

