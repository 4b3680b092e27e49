/** Spanish sentences for the phrases that the engine says. */
import type { Catalogue } from '../catalogue';
import type { says as english } from '../en/says';

export const says: Catalogue<keyof typeof english> = {
  'says.no-joints': 'Aún no hay juntas en la lista.',
  'says.no-program': 'No hay programa: falta un límite con el que comparar.',
  'says.never-looked': 'Nadie ha mirado aún este utillaje.',
  'says.all-tight': { one: 'Su única junta: nada visto.', other: 'Las {n} juntas: nada visto.' },
  'says.leaks-open': { one: 'Una fuga abierta.', other: '{n} fugas abiertas.' },
  'says.leaks-open-share': {
    one: 'Una fuga abierta, cerca del {share} % del límite.',
    other: '{n} fugas abiertas, juntas cerca del {share} % del límite.',
  },
  'says.leaks-aside': {
    one: 'Una fuga fuera del lado de ensayo: {names}.',
    other: '{n} fugas fuera del lado de ensayo: {names}.',
  },
  'says.gross-open': { one: 'Una fuga grande abierta: {names}.', other: '{n} fugas grandes abiertas: {names}.' },
  'says.accepted': {
    one: 'Fuga aceptada tal como está: {names}.',
    other: 'Fugas aceptadas tal como están: {names}.',
  },
  'says.waiting': {
    one: '{names}: reparada, falta mirarla otra vez.',
    other: '{names}: reparadas, falta mirarlas otra vez.',
  },
  'says.partly': { one: '{names}: vista solo en parte.', other: '{names}: vistas solo en parte.' },
  'says.not-reached': { one: '{names}: no se alcanzó.', other: '{names}: no se alcanzaron.' },
  'says.accepted-many': '{n} fugas aceptadas tal como están.',
  'says.waiting-many': '{n} juntas reparadas, falta mirarlas otra vez.',
  'says.partly-many': '{n} juntas vistas solo en parte.',
  'says.not-reached-many': '{n} juntas sin alcanzar.',
  'says.gross-open-many': '{n} fugas grandes abiertas.',
  'says.leaks-aside-many': '{n} fugas fuera del lado de ensayo.',
  'says.not-looked': { one: 'Falta mirar una junta.', other: 'Faltan por mirar {n} juntas.' },
  'says.round-running': '{done} de {all} juntas miradas.',
};
