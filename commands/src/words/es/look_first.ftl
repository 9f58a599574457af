# What to look at first, by what can be seen and heard at the bed.

