/** Spanish words of joints pinned in a photo, arrows in pictures, and notes. */
import type { Catalogue } from '../catalogue';
import type { pins as english } from '../en/pins';

export const pins: Catalogue<keyof typeof english> = {
  'pins.title': 'Juntas en la foto',
  'pins.none': 'Este utillaje aún no tiene foto. La hace un supervisor.',
  'pins.where': 'Toque dónde está: {joint}',
  'pins.board': 'Foto. Marque {joint}: las flechas del teclado mueven la marca, Intro la fija',
  'pins.all': { one: 'Hay una junta marcada.', other: 'Las {n} juntas están marcadas.' },
  'pins.set': '{joint}: marcada.',
  'pins.taken': '{joint}: marca quitada.',
  'pins.off': 'Quitar la marca',
  'pins.not': 'sin marcar',
  'pins.number': 'En la foto {name}, a {x} % del borde izquierdo y {y} % del superior',
  'pins.nowhere': 'sin marca',
  'field.joint-pin': 'su marca en la foto',

  'arrow.title': 'La foto',
  'arrow.hint': 'Dibuje una flecha hacia lo que importa, o guárdela tal cual.',
  'arrow.full': 'No caben más flechas en una foto.',
  'arrow.area': {
    one: 'Foto con una flecha. Intro añade otra, las flechas del teclado la mueven',
    other: 'Foto con {n} flechas. Intro añade otra, las flechas del teclado mueven la última',
  },
  'arrow.off': 'Quitar flecha',
  'arrow.drop': 'Descartar',
  'arrow.keep': 'Guardar la foto',

  'note.title': 'Notas',
  'note.add': 'Añadir una nota',
  'note.of': 'Nota sobre {name}',
  'note.text': 'Qué conviene saber',
  'note.hint': 'La leen otros de esta planta. Sin nombres de personas.',
  'note.save': 'Guardar la nota',
  'note.saved': 'Nota guardada.',
  'step.note': 'Anotado',
  'event.note-added': 'Una nota',
};
