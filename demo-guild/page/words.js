// The page's own words on a phone whose client speaks Spanish: what the chat around loftwatch says, never what loftwatch says.
// A sentence that is not here stays in English. `{}` is filled in.
'use strict';

const SPANISH = {
  'Phone of': 'Teléfono de',
  "{}'s phone": 'Teléfono de {}',
  'Channels': 'Canales',
  'Entries in {}': 'Entradas en {}',
  'New entries below': 'Entradas nuevas abajo',
  'Write': 'Escribir',
  'Log something': 'Anotar algo',
  '{} LW-07 beeping, or /': '{} LW-07 pita, o /',
  'Write a line. What begins with {} is read by loftwatch; a slash opens the list of what you can log.': 'Escriba una línea. Lo que empieza con {} lo lee loftwatch; una barra abre la lista de lo que se puede anotar.',
  'For your colleagues. loftwatch reads only what begins with {}.': 'Para sus colegas. loftwatch solo lee lo que empieza con {}.',
  'calls you': 'le llama',
  'calls you: {}': 'le llama: {}',
  'calls {}': 'llama a {}',
  '{} new': '{} nuevas',
  ' new': ' nuevas',
  'only you see this': 'solo usted lo ve',
  'changed {}': 'cambió {}',
  'after ': 'tras ',
  'fill in again': 'rellenar otra vez',
  'working on it …': 'en ello …',
  'Nothing is written here yet.': 'Aquí no hay nada escrito todavía.',
  'This person reads no channel.': 'Esta persona no lee ningún canal.',
  'This person reads no channel to log in.': 'Esta persona no lee ningún canal en el que anotar.',
  'Close': 'Cerrar',
  'Send': 'Enviar',
  'Sending …': 'Enviando …',
  'Use these': 'Usar estos',
  'Choose': 'Elegir',
  'choose': 'elegir',
  'leave out': 'dejar fuera',
  'yes': 'sí',
  'no': 'no',
  'more': 'más',
  'if you like': 'si quiere',
  ' (if you like)': ' (si quiere)',
  'Kept from before. ': 'Guardado de antes. ',
  'Start over': 'Empezar de nuevo',
  'Lately': 'Hace poco',
  'Often used as {}': 'Lo más usado como {}',
  'Everything else': 'Todo lo demás',
  'There is no place here for: {}': 'Aquí no hay sitio para: {}',
  'Find in the list': 'Buscar en la lista',
  'Find: hand, alarm, filter …': 'Buscar: mano, alarma, filtro …',
  'Nothing in the list is called that.': 'Nada de la lista se llama así.',
  'Write it in your own words': 'Escribirlo con sus palabras',
  'the picture in words': 'el gráfico en palabras',
  'aide': 'auxiliar',
  'nurse': 'enfermería',
  'supervisor': 'supervisión',
  'upkeep': 'mantenimiento',
  'admin': 'administración',
  'agency': 'agencia',
};

/** Whether a phone's client speaks Spanish. */
function speaksSpanish(person) { return Boolean(person && person.locale && person.locale.startsWith('es')); }

/** A sentence of the page in the language of the phone it stands on. */
function inWords(person, english, filled = '') {
  const words = speaksSpanish(person) && Object.hasOwn(SPANISH, english) ? SPANISH[english] : english;
  return words.replace('{}', () => filled);
}
