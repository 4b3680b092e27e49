/** Spanish words of looking at joints and of one leak. */
import type { Catalogue } from '../catalogue';
import type { look as english } from '../en/look';

export const look: Catalogue<keyof typeof english> = {
  'look.title': '{name}',
  'look.start': { one: 'Está mojada: empezar', other: 'Estas {n} están mojadas: empezar' },
};
