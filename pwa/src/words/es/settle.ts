/** Spanish words of the section "settle". */
import type { Catalogue } from '../catalogue';
import type { settle as english } from '../en/settle';

export const settle: Catalogue<keyof typeof english> = {
  'stamp.ahead': 'su reloj iba {time} por delante',
  'stamp.behind': 'su reloj iba {time} por detrás',

  'conflict.page': 'Cambiado por dos',
  'conflict.here': 'Cambiado por dos',
  'conflict.none': 'No hay nada pendiente: nadie cambió lo mismo que otro sin saberlo.',
  'conflict.lead': {
    one: 'Dos personas cambiaron lo mismo sin saber una de otra. Se guardan los dos valores; elija el que vale.',
    other: 'Dos personas cambiaron {n} cosas sin saber una de otra. Se guardan todos los valores; elija los que valen.',
  },
  'conflict.open': { one: '{n} cosa la cambiaron dos personas: decídala', other: '{n} cosas las cambiaron dos personas: decídalas' },
  'conflict.title': '{name}: {field}',
  'conflict.take': 'Vale este',
  'conflict.take-this': 'Vale este: {name}',
  'conflict.shows': 'se muestra mientras tanto',
  'conflict.owner': 'Lo decide {name}, o un supervisor.',
  'conflict.empty': 'vacío',
  'conflict.order': 'puesto {n}',
  'conflict.other-site': 'una planta que no es de las suyas',
  'field.fixture-name': 'el nombre del utillaje',
  'field.fixture-place': 'dónde está',
  'field.fixture-note': 'la nota',
  'field.fixture-site': 'la planta',
  'field.program-program': 'cómo se ensaya',
  'field.joint-name': 'el nombre de la junta',
  'field.joint-kind': 'su tipo',
  'field.joint-circuit': 'su circuito',
  'field.joint-tube': 'su tamaño',
  'field.joint-order': 'su puesto en el orden',
  'field.look-result': 'qué dio la inspección',
  'field.look-observation': 'lo que se vio',
  'field.look-wiped': 'el secado',
  'field.look-note': 'la nota',

  'move.title': 'Planta',
  'move.what': 'Un utillaje que se lleva a otra planta lleva consigo toda su historia.',
  'move.to': 'Está en',
  'move.go': 'Ahora está ahí',
};
