# Plain messages: what was understood, what is asked.

