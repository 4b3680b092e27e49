/** The Spanish catalogue; a test holds its keys equal to the English ones. */
import type { Catalogue } from './catalogue';
import type { Code } from './en';
import { common } from './es/common';
import { codes } from './es/codes';
import { desk } from './es/desk';
import { finding } from './es/finding';
import { going } from './es/going';
import { leak } from './es/leak';
import { look } from './es/look';
import { measure } from './es/measure';
import { mend } from './es/mend';
import { phone } from './es/phone';
import { pins } from './es/pins';
import { round } from './es/round';
import { says } from './es/says';
import { scan } from './es/scan';
import { settle } from './es/settle';
import { size } from './es/size';
import { start } from './es/start';
import { tags } from './es/tags';

export const es: Catalogue<Code> = { ...common, ...codes, ...says, ...leak, ...look, ...round, ...scan, ...start, ...tags, ...desk, ...finding, ...going, ...measure, ...mend, ...phone, ...pins, ...settle, ...size };
