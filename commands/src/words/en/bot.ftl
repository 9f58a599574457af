### What the program itself has to say: answers that come late, fail or go nowhere.

bot-answer-late = this answer comes late. Your entry was recorded:
bot-recorded = Recorded.
bot-nothing-recorded = **Nothing was recorded:** it could not be saved. Try again in a minute. If it fails again, write it on paper and tell whoever runs loftwatch. An alarm: call the nurse by voice.
bot-maybe-recorded = **It is not known whether this was recorded:** the file cannot be read at the moment. Write it on paper. Once I answer again, look with `/timeline` before you enter it a second time. An alarm: call the nurse by voice.
bot-broke = Something went wrong on my side, and **nothing was recorded**. Try again. If it fails again, write it on paper and tell whoever runs loftwatch.
bot-before-restore = **Nothing was recorded:** this message is from before loftwatch was put back from a backup, and its buttons may be about another bed now. Type `/due`, or use a newer message. An alarm that is no longer there: enter it again with `/alarm`.
bot-too-busy = **Nothing was recorded:** too much came at once. Try again in a few seconds. An alarm: call the nurse by voice.
bot-unreadable = I could not read that, and nothing was recorded. Type the command again, or `/help`.
bot-no-direct = I work only in your home's channels, not in direct messages. Nothing was recorded.
bot-not-here = loftwatch does not serve this chat. Nothing was recorded. Whoever runs loftwatch can add it.
bot-late-call = This comes late: it was to be said on { $at }.
bot-possible-repeat = You may have seen this call already. It is sent again to be sure:
