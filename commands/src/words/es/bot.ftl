### What the program itself has to say: answers that come late, fail or go nowhere.

bot-answer-late = esta respuesta llega tarde. Lo que usted anotó quedó guardado:
bot-recorded = Anotado.
bot-nothing-recorded = **No se anotó nada:** no se pudo guardar. Pruebe otra vez en un minuto. Si vuelve a fallar, escríbalo en papel y avise a quien maneja loftwatch. Si es una alarma: llame a enfermería de viva voz.
bot-maybe-recorded = **No se sabe si esto se anotó:** ahora mismo no se puede leer el archivo. Escríbalo en papel. Cuando yo vuelva a responder, mire con `/timeline` antes de anotarlo por segunda vez. Si es una alarma: llame a enfermería de viva voz.
bot-broke = Algo falló de mi lado y **no se anotó nada**. Pruebe otra vez. Si vuelve a fallar, escríbalo en papel y avise a quien maneja loftwatch.
bot-before-restore = **No se anotó nada:** este mensaje es de antes de que loftwatch volviera desde una copia de seguridad, y sus botones pueden ser ahora de otra cama. Escriba `/due` o use un mensaje más nuevo. Si una alarma ya no aparece ahí, anótela otra vez con `/alarm`.
bot-too-busy = **No se anotó nada:** llegaron demasiadas cosas a la vez. Pruebe otra vez en unos segundos. Si es una alarma: llame a enfermería de viva voz.
bot-unreadable = No pude leer eso y no se anotó nada. Escriba otra vez el comando, o `/help`.
bot-no-direct = Solo trabajo en los canales de su residencia, no en mensajes directos. No se anotó nada.
bot-not-here = loftwatch no atiende este chat. No se anotó nada. Quien maneja loftwatch puede agregarlo.
bot-late-call = Esto llega tarde: tenía que decirse el { $at }.
bot-possible-repeat = Quizá ya vio este aviso. Se repite para mayor seguridad:
