/** The Spanish catalogue; a test holds its keys equal to the English ones. */
import type { Catalogue } from './catalogue';
import type { Code } from './en';
import { common } from './es/common';
import { codes } from './es/codes';
import { desk } from './es/desk';
import { finding } from './es/finding';
import { look } from './es/look';
import { phone } from './es/phone';
import { round } from './es/round';
import { says } from './es/says';
import { scan } from './es/scan';
import { settle } from './es/settle';
import { start } from './es/start';

export const es: Catalogue<Code> = { ...common, ...codes, ...says, ...look, ...round, ...scan, ...start, ...desk, ...finding, ...phone, ...settle };
