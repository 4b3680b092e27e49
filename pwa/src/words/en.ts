/** The English catalogue. Its keys are the codes that `t` takes. */
import { common } from './en/common';
import { codes } from './en/codes';
import { desk } from './en/desk';
import { finding } from './en/finding';
import { going } from './en/going';
import { leak } from './en/leak';
import { look } from './en/look';
import { measure } from './en/measure';
import { mend } from './en/mend';
import { phone } from './en/phone';
import { pins } from './en/pins';
import { round } from './en/round';
import { says } from './en/says';
import { scan } from './en/scan';
import { settle } from './en/settle';
import { size } from './en/size';
import { start } from './en/start';
import { tags } from './en/tags';

export const en = { ...common, ...codes, ...says, ...leak, ...look, ...round, ...scan, ...start, ...tags, ...desk, ...finding, ...going, ...measure, ...mend, ...phone, ...pins, ...settle, ...size };

/** A code that has words in every language. */
export type Code = keyof typeof en;
