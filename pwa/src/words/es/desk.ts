/** Spanish words of the section "desk". */
import type { Catalogue } from '../catalogue';
import type { desk as english } from '../en/desk';

export const desk: Catalogue<keyof typeof english> = {};
